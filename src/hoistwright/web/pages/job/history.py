"""The history of the hoist: its earlier visits, and every entry of this one."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.examine.words import shown
from hoistwright.job.entry import Event
from hoistwright.job.events import Body, Corrected, PhotoAttached, Remarked
from hoistwright.store.model import JobRow
from hoistwright.web.outlooks import hoist_view
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.conflicts import body_words
from hoistwright.web.pages.job.earlier import Earlier
from hoistwright.web.pages.job.entering import shown as page_shown
from hoistwright.web.pages.job.entering import taking
from hoistwright.web.pages.job.frame import framed
from hoistwright.web.pages.job.prove_words import proof_about, proof_words
from hoistwright.web.pages.job.question import Question
from hoistwright.web.whole_fleet import whole_fleet

MOST_ENTRIES = 400


@attrs.frozen(kw_only=True)
class EntryLine:
    """An entry of the journal in words."""

    seq: int
    at: str
    by: str
    kind: str
    about: str
    words: str
    correction: bool
    reason: str


def show(case: Case, question: Question | None) -> Response:
    store = case.visit.bench.store
    events = store.events(case.job)
    visits = [row for row in store.jobs(hoist=case.line.hoist, limit=50) if row.job != case.job]
    return framed(
        case,
        "history.html",
        "history",
        question,
        visits=visits,
        earlier=_earlier(case, visits),
        outlook=hoist_view(case.visit, whole_fleet(case.visit.bench), case.line.hoist),
        entries=[_line(case, event) for event in reversed(events[-MOST_ENTRIES:])],
        left_out=max(0, len(events) - MOST_ENTRIES),
    )


def _line(case: Case, event: Event) -> EntryLine:
    body = event.body.replacement if isinstance(event.body, Corrected) else event.body
    about = body
    if isinstance(event.body, Corrected) and body is None:
        root = case.state.entries.get(case.state.roots.get(event.id, ""))
        about = root.event.body if root else None
    return EntryLine(
        seq=event.seq,
        at=case.visit.language.moment(event.told_at or event.at),
        by=case.name(event.by),
        kind=about.kind if about else event.kind,
        about=_about(case, about),
        words=_words(case, body),
        correction=isinstance(event.body, Corrected),
        reason=event.body.reason if isinstance(event.body, Corrected) else "",
    )


def _words(case: Case, body: Body | None) -> str:
    if isinstance(body, Remarked):
        return body.text
    if isinstance(body, PhotoAttached):
        return body.caption
    if body is None or body.kind in ("reading", "look", "part choice", "step"):
        return body_words(case, body)
    return proof_words(case.visit, body)


def _about(case: Case, body: Body | None) -> str:
    """What an entry speaks of: part, feature, place or step, by their names."""
    if body is None:
        return ""
    told = proof_about(case.visit, body)
    if told:
        return told
    say, names = case.visit.say, _names(case)
    words = [getattr(body, name, "") for name in ("part", "feature", "place", "step", "stage")]
    words += [getattr(body, "person", ""), getattr(body, "design", "")]
    return ", ".join(say(names.get(word, case.name(word))) for word in words if word)


def _names(case: Case) -> dict[str, str]:
    found = {point.feature: point.name for point in case.points}
    if case.design:
        found |= {part.key: part.name for part in case.design.parts}
    for plan in (case.facts.strip, case.facts.rebuild):
        found |= {step.key: step.name for step in plan.steps} if plan else {}
    return found


def _earlier(case: Case, visits: list[JobRow]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Earlier readings by point, for a short table; the longest series first."""
    say = case.visit.say
    points = {point.address: point for point in case.points}
    found = Earlier.of(case).by_address if visits else {}
    rows = [
        (
            ", ".join(word for word in (say(p.part_name), say(p.name), p.place) if word),
            tuple(shown(row.mean, p.dimension, case.visit.units) for row in readings),
        )
        for address, readings in found.items()
        if (p := points.get(address)) is not None
    ]
    return tuple(sorted(rows, key=lambda item: -len(item[1])))


PAGES = (Page(name="job-history", path="/jobs/{job}/history", show=page_shown(show),
              take=taking(show)),)  # fmt: skip
