"""Findings that follow from several verdicts together, or from the data plate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from hoistwright.examine.chain_split import OVERSTRAIN, ChainSplit
from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.design import Design
from hoistwright.metrology import Outcome


@attrs.frozen(kw_only=True)
class Finding:
    """Something that no single ruling says. `outcome` is BORDERLINE at the least: it asks a
    competent person.
    """

    title: str
    sentence: str
    next_step: str
    outcome: Outcome = Outcome.BORDERLINE


def findings(
    design: Design,
    verdicts: Sequence[Verdict],
    splits: Sequence[ChainSplit],
    rated_load_on_plate: float | None,
) -> tuple[Finding, ...]:
    """Overstrain of the chain, an opened hook, an unsafe brake, a plate that contradicts."""
    return (
        *_overstrain(splits),
        *_opened_hook(verdicts),
        *_brake(verdicts),
        *_plate(design, rated_load_on_plate),
    )


def _overstrain(splits: Sequence[ChainSplit]) -> Iterator[Finding]:
    places = [item.place for item in splits if item.kind in OVERSTRAIN]
    if places:
        yield Finding(
            title="The load chain has been overstrained",
            sentence=(
                f"At {', '.join(places)} it is longer than the wear of its crowns can explain; the "
                "rest is permanent stretch."
            ),
            next_step=(
                "Examine hooks, suspension pin, anchor pin, sheave, side plates and brake for "
                "overload before anything goes back; ask how the hoist was used."
            ),
        )


def _opened_hook(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    opened = [
        v.part_name for v in verdicts if v.feature == "hook.throat" and v.outcome is Outcome.RENEW
    ]
    if opened:
        yield Finding(
            title="A hook has opened",
            sentence=f"The throat of the {' and of the '.join(dict.fromkeys(opened))} is beyond "
            "its limit.",
            next_step=(
                "A hook opens under overload or tip loading: examine the load chain and every "
                "part in the load path for the same event."
            ),
        )


_BRAKE = ("friction_disc.clean_dry", "pawl.free", "pawl.heard", "ratchet_disc.teeth")


def _brake(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    bad = [v.title for v in verdicts if v.feature in _BRAKE and v.outcome is Outcome.RENEW]
    if bad:
        yield Finding(
            title="The load brake cannot be relied on",
            sentence=f"Found defective: {'; '.join(dict.fromkeys(bad))}.",
            next_step=(
                "Do not put any load on this hoist, not even to test it, until the brake is put "
                "right and proved with a light load first."
            ),
        )


def _plate(design: Design, rated_load_on_plate: float | None) -> Iterator[Finding]:
    rated = design.rating.rated_load
    if rated is None or rated_load_on_plate is None:
        return
    if abs(rated_load_on_plate - rated) > 0.03 * rated:  # a long ton is 1.6 % over a tonne
        yield Finding(
            title="The data plate and the design disagree",
            sentence=(
                f"The plate states a rated load of {rated_load_on_plate:g} kg, the design "
                f"{design.key} {rated:g} kg."
            ),
            next_step="Establish which hoist this is before any limit is trusted.",
            outcome=Outcome.NOT_ESTABLISHED,
        )
