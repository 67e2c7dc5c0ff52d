"""What somebody enters while a hoist is proved, as an event; or the question that it raises."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hoistwright.job.events import MOST_REPEATS, Body
from hoistwright.job.events_prove import ProofLooked, ProofMeasured
from hoistwright.job.requirements_prove import may_sign
from hoistwright.job.to_proof import BED_STEP, Proof
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.sequence import ProofStep
from hoistwright.quantity import Dimension, QuantityError, parse
from hoistwright.sheet.figures import SURE
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.gauge_choice import out_of_range
from hoistwright.web.pages.job.prove_figures import ONCE, WHOLE, Ask, asks_of, expected_of
from hoistwright.web.pages.job.prove_load_said import mark_of, settle_said, test_load_said
from hoistwright.web.pages.job.question import Question, ask

FACTOR = 4.0
"""A figure so many times beside its band may have been typed in another unit: asked back."""
LONGEST = 2000


def _proof(case: Case) -> Proof:
    case.needed_design()
    proof = case.facts.proof
    assert proof is not None
    return proof


def _step(case: Case) -> ProofStep | None:
    key = case.visit.field("step")
    return next((step for step in _proof(case).steps if step.key == key), None)


def waits_for(proof: Proof, step: ProofStep) -> ProofStep | None:
    """What stands before a step: a hold point not answered with yes, or a load that ran."""
    for earlier in proof.steps:
        if earlier.key == step.key:
            return None
        if earlier.hold_point and proof.record.look(earlier.look) != "yes":
            return earlier
        entry = proof.told.looks.get(earlier.key)
        if entry is not None and isinstance(entry.body, ProofLooked) and entry.body.ran:
            return earlier
    return None


# answers


def look_said(case: Case) -> Body | Question:
    """The answer to a step's question; at a hold point the signature of who gives it."""
    visit, step = case.visit, _step(case)
    if step is None or not step.look:
        return ask("answer", visit.say("The sequence has no such step any more. Load the page."))
    answer = visit.field("answer")
    if answer not in ("yes", "no", "ran", "not looked at"):
        return ask("answer", visit.say("Choose one of the answers."))
    refused = _refused(case, step, answer)
    if refused:
        return ask("answer", refused)
    return ProofLooked(
        step=step.key,
        look=step.look,
        answer="no" if answer == "ran" else answer,  # type: ignore[arg-type]
        ran=answer == "ran",
        text=step.question,
        remark=visit.field("remark")[:LONGEST],
    )


def _refused(case: Case, step: ProofStep, answer: str) -> str:
    """Why an answer is not taken; empty where it is. A "no" is always taken."""
    if answer != "yes":
        return ""
    visit, proof = case.visit, _proof(case)
    before = waits_for(proof, step)
    if before is not None:
        name = visit.language.sentence(before.name)
        return visit.say("First: %(step)s. Nothing goes on before it is in order.", step=name)
    if step.key == BED_STEP and proof.permitted is not None and proof.state.test_load is None:
        return visit.say("Choose the test load first.")
    return _not_signing(case) if step.hold_point else ""


def _not_signing(case: Case) -> str:
    """Why this person cannot sign here; empty where they can."""
    visit = case.visit
    if not may_sign(case.facts, visit.person.key):
        return visit.say("A technician or a competent person signs a hold point.")
    if visit.field("name") != visit.person.key:
        return visit.say(
            "%(name)s is at this tablet. Whoever signs takes the tablet over first.",
            name=visit.person.name,
        )
    return ""


# figures


def figure_said(case: Case) -> Body | Question:
    """A figure read at a step: the first, a repeat, or one in place of another."""
    visit, step = case.visit, _step(case)
    asked = asks_of(_proof(case), step) if step else ()
    wanted = next((one for one in asked if one.what == visit.field("what")), None)
    if step is None or wanted is None:
        return ask("value", visit.say("The sequence has no such figure any more. Load the page."))
    load, read = _load(case), _read(case, wanted)
    if isinstance(load, Question) or isinstance(read, Question):
        return load if isinstance(load, Question) else read  # type: ignore[return-value]
    doubt = _doubt(case, step, wanted, read[0], load) or _wrong_gauge(case, wanted, read[0])
    if doubt is not None:
        return doubt
    gauge = visit.field("gauge")[:80]
    values = (*_earlier(case, step, wanted, gauge), read[0])
    if len(values) > MOST_REPEATS:
        words = visit.say("There are %(most)s readings here already; that is enough.",
                          most=MOST_REPEATS)  # fmt: skip
        return ask("value", words)
    return ProofMeasured(
        step=step.key, what=wanted.what, values=values, unit=read[1], gauge=gauge,  # type: ignore[arg-type]
        load=load, remark=visit.field("remark")[:LONGEST],
    )  # fmt: skip


def _wrong_gauge(case: Case, wanted: Ask, value: float) -> Question | None:
    """Asked back: a gauge of lengths that cannot read so far."""
    if wanted.dimension is not Dimension.LENGTH:
        return None
    trouble = out_of_range(case, case.visit.field("gauge"), [value])
    if not trouble:
        return None
    say = case.visit.say
    words = say("%(why)s. Choose the gauge that you used.", why=say(trouble))
    return ask("gauge", words[:1].upper() + words[1:])


def _load(case: Case) -> float | Question | None:
    """What hangs on the hook, kg, where the form says it."""
    visit = case.visit
    text = visit.field("load")
    if not text:
        return None
    try:
        found = parse(text, Dimension.MASS, unit="lb" if visit.units == "in" else "kg",
                      decimal=mark_of(case, text))  # fmt: skip
    except QuantityError as error:
        return ask("load", f"{error}")
    if not found.si > 0:
        return ask("load", visit.say("The load on the hook is a mass above zero."))
    return found.si


def _read(case: Case, wanted: Ask) -> tuple[float, str] | Question:
    """The figure in SI (loads in kg) and the unit it was typed in."""
    visit = case.visit
    text = visit.field("value").removesuffix(SURE).strip()
    if not text:
        return ask("value", visit.say("Type the figure, then press Enter."))
    try:
        value, unit = _in_si(case, wanted, text)
    except QuantityError as error:
        return ask("value", f"{error}")
    if wanted.what in WHOLE and value != round(value):
        return ask("value", visit.say("A whole number is expected here."))
    if value < 0:
        return ask("value", visit.say("Zero or more is expected here."))
    return value, unit


def _in_si(case: Case, wanted: Ask, text: str) -> tuple[float, str]:
    unit = case.visit.field("unit") or wanted.unit_for(case.visit.units)
    mark = mark_of(case, text)
    if wanted.dimension is Dimension.NUMBER:
        return parse(text.removesuffix("m/s").strip(), Dimension.NUMBER, decimal=mark).si, "m/s"
    if wanted.what not in ("bed reading", "slip load"):
        found = parse(text, wanted.dimension, unit=unit, decimal=mark)
        return found.si, found.unit
    try:  # an instrument divided in newtons or in kilograms: the journal has kg
        found = parse(text, Dimension.FORCE, unit=unit, decimal=mark)
        return found.si / STANDARD_GRAVITY, found.unit
    except QuantityError:
        found = parse(text, Dimension.MASS, decimal=mark)
        return found.si, found.unit


def _doubt(
    case: Case, step: ProofStep, wanted: Ask, value: float, load: float | None
) -> Question | None:
    """Asked back: a figure of quite another size than that of a sound hoist."""
    typed = case.visit.field("value").strip()
    band = expected_of(_proof(case), step.key, wanted.what, load)
    told = typed.endswith(SURE) or case.visit.field("sure")
    if told or band is None or wanted.what in ("hold time", "pawls heard"):
        return None
    if not band.low > 0 or not band.off(value, FACTOR):
        return None
    words = case.visit.say("%(read)s? That is far from what is expected here. Look at the unit.",
                           read=typed)  # fmt: skip
    return Question(field="value", words=words, sure=f"{typed}{SURE}")


def _earlier(case: Case, step: ProofStep, wanted: Ask, gauge: str) -> tuple[float, ...]:
    """Readings that this one repeats: those with the same gauge that stood on the page."""
    body = _proof(case).told.measured.get((step.key, wanted.what))
    if body is None or wanted.what in ONCE or body.gauge != gauge:
        return ()
    entry = case.state.measured[step.key, wanted.what]
    seen = case.visit.field("seen")
    known = not seen.isdigit() or entry.last.seq <= int(seen)
    return body.values if known or entry.last.by == case.visit.person.key else ()


MAKERS: Mapping[str, Callable[[Case], Body | Question]] = {
    "proof-look": look_said,
    "proof-figure": figure_said,
    "test-load": test_load_said,
    "test-settle": settle_said,
}
