"""The parts of a job in the order in which they are come to, each with its state in one word."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import attrs

from hoistwright.examine.findings import Finding
from hoistwright.examine.points import Address, Point
from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.parts import Part
from hoistwright.job.events import LookAnswered, PartChosen
from hoistwright.job.state import Standing
from hoistwright.metrology import Outcome, worst
from hoistwright.web.pages.job.case import Case


@attrs.frozen(kw_only=True)
class PartLine:
    """A part in a list. `state` is empty where nothing was entered for it."""

    key: str
    name: str
    number: int | None
    quantity: int
    state: str
    done: int
    wanted: int
    renew: bool
    last_by: str = ""

    @property
    def left(self) -> int:
        return self.wanted - self.done


def part_lines(case: Case) -> tuple[PartLine, ...]:
    """All parts: the whole hoist and what is outside first, then as they come off."""
    states, wanted = part_states(case), wanted_points(case)
    return tuple(
        _line(case, part, wanted.get(part.key, ()), states.get(part.key, ""))
        for part in strip_order(case)
    )


def part_line(case: Case, part: Part, found: Sequence[Verdict]) -> PartLine:
    """One part, from its verdicts alone."""
    state = _states(case, found).get(part.key, "")
    return _line(case, part, wanted_points(case).get(part.key, ()), state)


def _line(case: Case, part: Part, wanted: Sequence[Point], state: str) -> PartLine:
    from hoistwright.certificate.step_drawings import numbers_of_parts

    return PartLine(
        key=part.key,
        name=part.name,
        number=numbers_of_parts(case.needed_design()).get(part.key),
        quantity=part.quantity,
        state=state,
        done=sum(answered(case, point) for point in wanted),
        wanted=len(wanted),
        renew=part.key in case.facts.renewed,
        last_by=_last_by(case, part.key),
    )


def strip_order(case: Case) -> tuple[Part, ...]:
    """The parts as the strip comes to them; what stays on stands before."""
    design = case.needed_design()
    plan = case.facts.strip
    place = {key: at for at, key in enumerate(plan.freed)} if plan else {}
    parts = enumerate(design.parts)
    ranked = sorted(parts, key=lambda item: (place.get(item[1].key, -1), item[0]))
    return tuple(part for _, part in ranked)


def examined_order(case: Case) -> tuple[str, ...]:
    """Keys of the parts that have something to look at or measure, in strip order."""
    have = {point.part for point in case.points}
    return tuple(part.key for part in strip_order(case) if part.key in have)


def wanted_points(case: Case) -> Mapping[str, tuple[Point, ...]]:
    """What the examination asks for, by part. Points of the rebuilt hoist come later."""
    out: dict[str, list[Point]] = {}
    for point in case.points:
        if point.rulings and not point.reference and point.stage != "rebuilt":
            out.setdefault(point.part, []).append(point)
    return {key: tuple(found) for key, found in out.items()}


def answered(case: Case, point: Point) -> bool:
    """Whether there is a reading, or an answer other than "not looked"."""
    if point.measured:
        return point.address in case.state.readings
    return is_looked(case.state.looks.get(point.address))


def is_looked(entry: Standing | None) -> bool:
    body = entry.body if entry else None
    return isinstance(body, LookAnswered) and body.answer != "not looked"


def part_states(case: Case) -> Mapping[str, str]:
    """The worst verdict of each part of which something was entered, findings on it included."""
    examination = case.facts.examination
    if examination is None:
        return {}
    return _states(case, examination.verdicts, examination.findings)


def _states(
    case: Case, found: Sequence[Verdict], findings: Sequence[Finding] = ()
) -> Mapping[str, str]:
    begun = {address[0] for address in _entered(case)}
    later = {p.address for p in case.points if p.stage == "rebuilt" and not answered(case, p)}
    by_part: dict[str, list[Outcome]] = {}
    for verdict in found:
        if verdict.part in begun and (verdict.part, verdict.feature, verdict.place) not in later:
            by_part.setdefault(verdict.part, []).append(verdict.outcome)
    for finding in findings:  # an overstrained chain is not fit, though each section may be
        for key in finding.parts:
            if key in by_part:
                by_part[key].append(finding.outcome)
    return {key: worst(outcomes).words for key, outcomes in by_part.items()}


def _entered(case: Case) -> Iterable[Address]:
    yield from case.state.readings
    yield from case.state.looks


def _last_by(case: Case, part: str) -> str:
    """Who touched a part last."""
    topics = (
        entry.last
        for topic, entry in case.state.by_topic.items()
        if len(topic) > 1 and topic[1] == part and topic[0] in ("reading", "look", PartChosen.kind)
    )
    last = max(topics, key=lambda event: event.seq, default=None)
    return case.name(last.by) if last else ""
