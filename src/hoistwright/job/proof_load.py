"""The test load of a job: what may be hung on, what was chosen, what was really applied."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs

from hoistwright.job.events_prove import Hung, TestLoadChosen
from hoistwright.job.shop import Shop
from hoistwright.metrology import Gauge, Outcome
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.bed import Applied, applied, bed_load
from hoistwright.prove.tests_needed import NeededTests
from hoistwright.prove.weight_values import Choice, Permitted, Place, Tackle, Weight
from hoistwright.prove.weights import choose_weights
from hoistwright.quantity import Dimension

K = 2.0
"""Coverage factor of the uncertainties in the shop file; the engine takes standard ones."""
FEWEST = 0.4
"""How far from the middle, as a share of the band, a load is as good as there."""


def weights_of(shop: Shop) -> tuple[Weight, ...]:
    """The shop's test weights with their standard uncertainty."""
    return tuple(
        Weight(
            key=weight.key,
            mass=float(weight.mass),
            u=float(weight.uncertainty) / K,
            count=weight.count,
            due_on=weight.due_on,
        )
        for weight in shop.test_weights
    )


def permitted_load(rated: float | None, needed: NeededTests) -> Permitted | None:
    """The load that serves every load test, kg, best in its middle; None where none is needed."""
    if rated is None or needed.band is None:
        return None
    low, high = (rated * share for share in needed.band)
    return Permitted(low=low, high=high, target=(low + high) / 2, near=FEWEST * (high - low))


def proposals(
    shop: Shop, permitted: Permitted, day: datetime.date, tackle: Tackle, place: Place
) -> tuple[Choice, ...]:
    """What to hang on, best first: fewest pieces, nearest the middle, lightest that serves.

    Args:
        shop: its test weights.
        permitted: the load that serves.
        day: the day of the test.
        tackle: slings and frame.
        place: what floor and frame carry, and what can be handled.

    Returns:
        Different choices, all of which serve; where none does, the one nearest miss.
    """
    weights = weights_of(shop)
    low, span = permitted.low, permitted.high - permitted.low
    wanted = (
        permitted,
        attrs.evolve(permitted, near=0.0),
        attrs.evolve(permitted, target=low + 0.02 * span, near=0.02 * span),
    )
    found = [choose_weights(weights, one, day, tackle=tackle, place=place) for one in wanted]
    serving = {choice.taken: choice for choice in reversed(found) if choice.outcome is Outcome.FIT}
    ordered = [one for one in found if serving.get(one.taken) is one]
    return tuple(ordered) or (found[0],)


def hung_load(hung: Sequence[Hung], shop: Shop, day: datetime.date) -> tuple[float, float, str]:
    """Mass and standard uncertainty of what hangs, kg, and why it does not count ("": it does).

    m = sum n_k m_k; u = sum n_k u_k (weights from one standard add: the safe side)
    """
    mass = u = 0.0
    why: list[str] = []
    listed = {weight.key: weight for weight in shop.test_weights}
    for one in hung:
        kept = listed.get(one.weight)
        of = one.mass if one.mass is not None or kept is None else float(kept.mass)
        spread = one.uncertainty
        if spread is None and kept is not None:
            spread = float(kept.uncertainty)
        if of is None or spread is None:
            return 0.0, 0.0, f"the shop's list has no test weight {one.weight}"
        due = one.due_on or (kept.due_on if kept else None)
        if due is None or due < day:
            told = "has no due day on record" if due is None else f"was due on {due}"
            why.append(f"the calibration of test weight {one.weight} {told}, used on {day}")
        mass += one.count * of
        u += one.count * spread / K
    return mass, u, "; ".join(why)


def applied_by_weights(
    chosen: TestLoadChosen, shop: Shop, day: datetime.date, low: float, high: float
) -> Applied:
    """The load that weights and tackle make, held against the permitted band, kg."""
    mass, u, why = hung_load(chosen.hung, shop, day)
    spread = (u**2 + (chosen.tackle_uncertainty / K) ** 2) ** 0.5
    pieces = sum(one.count for one in chosen.hung)
    how = f"{pieces} test weights" + (" and tackle" if chosen.tackle else "")
    found = applied(mass + chosen.tackle, spread, low, high, how=how)
    if why:
        return attrs.evolve(found, outcome=Outcome.NOT_ESTABLISHED, why=why)
    return found


def applied_on_bed(
    readings: Sequence[float], gauge: Gauge | None, day: datetime.date, low: float, high: float
) -> Applied:
    """The load that a test bed's instrument read, kg, whatever it is divided in."""
    if gauge is None:
        gauge = Gauge("", "the bed's instrument", "", Dimension.MASS, 1.0, 0.0)  # never in date
    found = bed_load(readings, as_mass(gauge), day, low, high)
    if readings:
        return found
    return attrs.evolve(found, why="the load on the test bed was not read yet")


def as_mass(gauge: Gauge) -> Gauge:
    """A gauge of force as one of mass, at standard gravity; any other one as it is."""
    if gauge.measures is not Dimension.FORCE:
        return gauge
    return attrs.evolve(
        gauge,
        measures=Dimension.MASS,
        resolution=gauge.resolution / STANDARD_GRAVITY,
        calibration_uncertainty=gauge.calibration_uncertainty / STANDARD_GRAVITY,
    )
