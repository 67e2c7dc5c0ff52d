"""The steps of the proof for its page: question, answer, figures with gauge and expected band."""

from __future__ import annotations

import math
from collections.abc import Iterator

import attrs
from markupsafe import Markup

from hoistwright.job.events_prove import ProofLooked, ProofMeasured
from hoistwright.job.proof_record import HOLDS
from hoistwright.job.state import Standing
from hoistwright.job.to_proof import BED_STEP, Proof
from hoistwright.metrology import Gauge, state_on
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.expected import Expected
from hoistwright.prove.sequence import ProofStep, proof_sequence
from hoistwright.quantity import Dimension, in_unit, show
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.gauge_choice import Choice, Offer
from hoistwright.web.pages.job.prove_figures import ONCE, Ask, asks_of, expected_of, light_load
from hoistwright.web.pages.job.prove_pictures import band_ruler
from hoistwright.web.pages.job.prove_said import FACTOR, waits_for

BRAKE_STEPS = ("light", BED_STEP, "lower", *HOLDS)
"""Steps at which a load may run: there a third answer says so."""


@attrs.frozen(kw_only=True)
class FigureRow:
    """One figure of a step. `sign` is that of a verdict; `low` and `high` bound what is asked
    back without connection, in `unit`, 0 for none.
    """

    id: str
    ask: Ask
    words: str
    unit: str
    entry: Standing | None
    said: str
    by: str
    expected: str
    sign: str
    ruler: Markup
    gauges: Choice | None
    gauge: str
    load: str
    again: bool
    low: float
    high: float


@attrs.frozen(kw_only=True)
class StepView:
    """One step. `waits` names the hold point that must be signed before it."""

    number: int
    step: ProofStep
    name: str
    do: str
    entry: Standing | None
    answer: str
    ran: bool
    remark: str
    early: bool
    waits: str
    brake: bool
    rows: tuple[FigureRow, ...]
    series: bool
    load: str
    """What the form of a light pull offers as load on the hook; empty: it is not asked."""

    @property
    def done(self) -> bool:
        """Answered, with every figure that a release waits for."""
        return self.answer == "yes" and all(row.entry or not row.ask.needed for row in self.rows)


def step_views(case: Case, proof: Proof) -> tuple[StepView, ...]:
    """The sequence, in order."""
    own = proof.steps
    if case.visit.units == "in":
        own = proof_sequence(proof.design, proof.needed, load=proof.planned, units="in")
    return tuple(_step(case, proof, step, at) for at, step in enumerate(own, start=1))


def _step(case: Case, proof: Proof, step: ProofStep, number: int) -> StepView:
    own = case.visit.language
    entry = proof.told.looks.get(step.key)
    body = entry.body if entry else None
    told = body if isinstance(body, ProofLooked) else None
    before = waits_for(proof, step)
    return StepView(
        number=number,
        step=step,
        name=own.sentence(step.name),
        do=own.sentence(step.do),
        entry=entry,
        answer=told.answer if told else "",
        ran=bool(told and told.ran),
        remark=told.remark if told else "",
        early=step.key in proof.told.early,
        waits="" if before is None else own.sentence(before.name),
        brake=step.key in BRAKE_STEPS,
        rows=tuple(_rows(case, proof, step)),
        series="pull series" in step.record,
        load=_light(case, proof) if step.key == "light" else "",
    )


def _light(case: Case, proof: Proof) -> str:
    load = light_load(proof)
    return "" if load is None else case.visit.figure(load, Dimension.MASS, "kg")


def _rows(case: Case, proof: Proof, step: ProofStep) -> Iterator[FigureRow]:
    load = light_load(proof) if step.key == "light" else None
    for ask in asks_of(proof, step):
        yield _row(case, proof, step, ask, load)


def _row(case: Case, proof: Proof, step: ProofStep, ask: Ask, load: float | None) -> FigureRow:
    entry = case.state.measured.get((step.key, ask.what))
    body = proof.told.measured.get((step.key, ask.what))
    entry = entry if body is not None else None
    unit = (body.unit if body else "") or ask.unit_for(case.visit.units)
    band = expected_of(proof, step.key, ask.what, load)
    gauges = _gauges(case, ask, body.gauge if body else "")
    low, high = _bounds(ask, band, ask.unit_for(case.visit.units))
    return FigureRow(
        id=f"{step.key}-{ask.what.replace(' ', '-')}",
        ask=ask,
        words=case.visit.say(ask.words),
        unit=ask.unit_for(case.visit.units),
        entry=entry,
        said=values_words(case, ask, body) if body else "",
        by=case.name(entry.last.by) if entry else "",
        expected=_band_words(case, ask, band, unit),
        sign=_sign(ask, body, band),
        ruler=_ruler(case, ask, body, band, unit),
        gauges=gauges,
        gauge=body.gauge if body else "",
        load=f"{load:g} kg" if load is not None and ask.dimension is Dimension.FORCE else "",
        again=ask.what not in ONCE,
        low=low,
        high=high,
    )


# figures in words and pictures


def shown(case: Case, ask: Ask, value: float, unit: str) -> str:
    """A figure of the proof as people read it; loads of a bed in the unit of its instrument."""
    mark = case.visit.language.decimal
    if ask.dimension is Dimension.NUMBER:
        return f"{value:.2f} {ask.unit}".replace(".", mark)
    if ask.what in ("bed reading", "slip load"):
        mass, read = case.visit.figure(value, Dimension.MASS, "kg"), _bed(case, value, unit)
        return mass if unit == "lbf" or read == mass else f"{read} = {mass}"
    if ask.dimension is Dimension.COUNT:
        return f"{value:.0f}"
    return show(value, ask.dimension, unit, decimal=mark)


def _bed(case: Case, value: float, unit: str) -> str:
    """A load as the instrument of a bed shows it."""
    mark = case.visit.language.decimal
    if unit in ("N", "kN", "daN", "lbf", "kgf"):
        return show(value * STANDARD_GRAVITY, Dimension.FORCE, unit, decimal=mark)
    return case.visit.figure(value, Dimension.MASS, "kg")


def values_words(case: Case, ask: Ask, body: ProofMeasured) -> str:
    return "; ".join(shown(case, ask, value, body.unit) for value in body.values)


def _band_words(case: Case, ask: Ask, band: Expected | None, unit: str) -> str:
    """What a sound hoist is expected to show, in words."""
    if band is None:
        return ""
    say = case.visit.say
    if not math.isfinite(band.high):
        return say("at least %(least)s", least=shown(case, ask, band.low, unit))
    if ask.what == "pawls heard":
        return say("%(count)s of them", count=f"{band.low:.0f}")
    low, high = (_short(case, ask, value, unit) for value in (band.low, band.high))
    return say("%(low)s to %(high)s", low=low, high=high)


def _short(case: Case, ask: Ask, value: float, unit: str) -> str:
    """A bound to three figures: it is an expectation and no limit."""
    if ask.what in ("bed reading", "slip load"):
        return _bed(case, value, unit)
    if ask.dimension is Dimension.COUNT:
        return f"{value:.0f}"
    figure = in_unit(value, ask.dimension, unit)
    digits = max(0, 2 - math.floor(math.log10(abs(figure)))) if figure else 0
    return f"{figure:.{digits}f} {unit}".replace(".", case.visit.language.decimal)


def _mean(body: ProofMeasured) -> float:
    return sum(body.values) / len(body.values)


def _sign(ask: Ask, body: ProofMeasured | None, band: Expected | None) -> str:
    """Whether the figure lies in its band: only a hint; the findings judge with uncertainty."""
    if body is None or band is None:
        return ""
    inside = band.low <= _mean(body) <= band.high
    if ask.what == "pawls heard":
        inside = _mean(body) >= band.low
    return "as expected" if inside else "not as expected"


def _ruler(
    case: Case, ask: Ask, body: ProofMeasured | None, band: Expected | None, unit: str
) -> Markup:
    if body is None or band is None or ask.what in ("pawls heard", "hold time"):
        return Markup()
    ends = _short(case, ask, band.low, unit), _short(case, ask, band.high, unit)
    return band_ruler(band.low, band.high, _mean(body), 0.0, 0.0, ends)


def _bounds(ask: Ask, band: Expected | None, unit: str) -> tuple[float, float]:
    """For the tablet without connection, in the unit of the field."""
    same = ask.dimension in (Dimension.FORCE, Dimension.LENGTH, Dimension.COUNT)
    if band is None or not same or not band.low > 0 or ask.what in ONCE[len(ONCE) - 1 :]:
        return 0.0, 0.0
    if ask.what in ("bed reading", "slip load", "pawls heard"):
        return 0.0, 0.0
    low, high = (in_unit(value, ask.dimension, unit) for value in (band.low, band.high))
    return low / FACTOR, high * FACTOR


# gauges


def _gauges(case: Case, ask: Ask, used: str) -> Choice | None:
    """The gauges that measure this, those usual for it and in date first."""
    if not ask.gauges:
        return None
    fitting = [g for g in case.shop.all_gauges() if g.measures is ask.dimension]
    ranked = sorted(fitting, key=lambda gauge: _rank(case, ask, gauge))
    offers = tuple(
        Offer(key=gauge.key, name=gauge.name, trouble=_trouble(case, gauge)) for gauge in ranked
    )
    usable = [offer.key for offer in offers if not offer.trouble]
    chosen = used if used in usable else usable[0] if usable else ""
    return Choice(kind=f"proof {ask.what}", offers=offers, chosen=chosen)


def _trouble(case: Case, gauge: Gauge) -> str:
    found = state_on(gauge, case.visit.bench.today)
    return "" if found.usable else found.reason


def _rank(case: Case, ask: Ask, gauge: Gauge) -> tuple[bool, int, float, str]:
    """For beds the coarsest load cell first, which reaches furthest."""
    places = [at for at, word in enumerate(ask.gauges) if word in gauge.kind]
    coarse = -gauge.resolution if "dynamometer" in ask.gauges else 0.0
    return bool(_trouble(case, gauge)), min(places, default=9), coarse, gauge.key
