"""One part as it is examined: its measures and looks, with what was entered and the verdicts."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import attrs
from markupsafe import Markup

from hoistwright.certificate.ruler_svg import ruler_svg
from hoistwright.examine.entries import Entries
from hoistwright.examine.evaluate import verdicts
from hoistwright.examine.points import Point, same_pattern
from hoistwright.examine.ruler import ruler
from hoistwright.examine.rules import decision_rules
from hoistwright.examine.verdict import Verdict
from hoistwright.examine.words import judged_text, limit_text, probability_text, source_text
from hoistwright.job.events import LookAnswered, ReadingEntered
from hoistwright.job.state import Standing
from hoistwright.job.to_entries import entries_of
from hoistwright.quantity import Dimension
from hoistwright.sheet.figures import usual_unit
from hoistwright.sheet.limit_words import limit_words
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.earlier import Earlier, ghosts
from hoistwright.web.pages.job.gauge_choice import Choice, gauge_choice
from hoistwright.web.pages.job.values import figures, figures_in, values_text


@attrs.frozen(kw_only=True)
class VerdictLine:
    """A verdict with its ruler, in words."""

    place: str
    state: str
    why: str
    judged: str
    next_step: str
    ruler: Markup
    limit: str = ""
    source: str = ""
    probability: str = ""


@attrs.frozen(kw_only=True)
class Row:
    """One place of a feature. `id` is that of its field on the page."""

    id: str
    point: Point
    entry: Standing | None
    past: tuple[Standing, ...]
    said: str = ""
    answer: str = ""
    remark: str = ""
    figures: tuple[str, ...] = ()
    unit: str = ""
    by: str = ""
    links: int | None = None
    verdicts: tuple[VerdictLine, ...] = ()
    photos: tuple[Standing, ...] = ()


@attrs.frozen(kw_only=True)
class Block:
    """A feature of the part: its rows, and verdicts that speak of several of them together."""

    key: str
    name: str
    measured: bool
    ask: str
    how: str
    stage: str
    limit: str
    unit: str
    gauges: Choice | None
    rows: tuple[Row, ...]
    together: tuple[VerdictLine, ...]
    low: float
    high: float
    """Bounds, in `unit`, outside of which a figure is asked back; 0 for none."""


def blocks_of(case: Case, part: str, units: str, found: Sequence[Verdict]) -> tuple[Block, ...]:
    """The part's features in the order of the catalogue, measured ones first."""
    here = [point for point in case.points if point.part == part]
    earlier = Earlier.of(case)
    out = []
    numbers = itertools.count(1)
    groups: dict[str, list[Point]] = {}
    for point in sorted(here, key=lambda point: not point.measured):
        groups.setdefault(point.feature, []).append(point)
    for feature, points in groups.items():
        mine = [verdict for verdict in found if verdict.feature == feature]
        out.append(_block(case, points, mine, units, earlier, numbers))
    return tuple(out)


def part_verdicts(case: Case, part: str) -> tuple[Verdict, ...]:
    """The verdicts on one part alone: the others need not be judged again for it."""
    here = [point for point in case.points if point.part == part]
    if not here or case.design is None:
        return ()
    whole = entries_of(case.state, case.design, case.shop)
    mine = Entries(
        readings=tuple(r for r in whole.readings if r.part == part),
        looks=tuple(a for a in whole.looks if a.part == part),
        gauges=whole.gauges,
        circumstances=whole.circumstances,
    )
    return verdicts(case.design, here, mine, decision_rules(case.facts.bases))


def _block(
    case: Case,
    points: list[Point],
    found: list[Verdict],
    units: str,
    earlier: Earlier,
    numbers: Iterator[int],
) -> Block:
    first = points[0]
    rows = tuple(
        _row(case, point, found, units, earlier, next(numbers))
        for point in _with_further(case, points)
    )
    own = {verdict.place for verdict in found} & {row.point.place for row in rows}
    begun = any(row.entry for row in rows)
    unit = usual_unit(first.dimension, units) if first.measured else ""
    low, high = _bounds(case, first, unit)
    return Block(
        key=first.feature,
        name=first.name,
        measured=first.measured,
        ask=first.ask,
        how=first.how,
        stage=first.stage,
        limit=_limit(case, first, units),
        unit=unit,
        gauges=gauge_choice(case, first) if first.measured else None,
        rows=rows,
        together=tuple(
            verdict_line(case, verdict, units, earlier)
            for verdict in found
            if begun and verdict.place not in own and _worth(verdict)
        ),
        low=low,
        high=high,
    )


def _with_further(case: Case, points: list[Point]) -> list[Point]:
    """The places asked for, and those beyond them that somebody measured too."""
    known = {point.place for point in points}
    out = list(points)
    for part, feature, place in (*case.state.readings, *case.state.looks):
        if (part, feature) != (points[0].part, points[0].feature) or place in known:
            continue
        like = next((p for p in points if same_pattern(place, p.place)), None)
        if like is not None:
            out.append(attrs.evolve(like, place=place))
            known.add(place)
    return out


def _row(
    case: Case, point: Point, found: list[Verdict], units: str, earlier: Earlier, number: int
) -> Row:
    state = case.state
    entry = (state.readings if point.measured else state.looks).get(point.address)
    body = entry.body if entry else None
    kind = "reading" if point.measured else "look"
    row = Row(
        id=f"at-{point.part}-{number}",
        point=point,
        entry=entry,
        past=_past(state.history((kind, *point.address)), entry),
        by=case.name(entry.last.by) if entry else "",
        links=point.links,
        photos=tuple(p for p in state.photos if _shows(p, point)),
    )
    if isinstance(body, ReadingEntered):
        lines = [verdict_line(case, v, units, earlier) for v in found if v.place == point.place]
        return attrs.evolve(
            row,
            said=values_text(case, body),
            figures=figures(case, body),
            unit=body.unit,
            remark=body.remark,
            links=body.links or point.links,
            verdicts=tuple(lines),
        )
    if isinstance(body, LookAnswered):
        return attrs.evolve(row, answer=body.answer, remark=body.remark)
    return row


def _past(history: Sequence[Standing], entry: Standing | None) -> tuple[Standing, ...]:
    """What was said before of a point and does not stand any more."""
    return tuple(item for item in history if item is not entry or len(item.touches) > 1)


def _shows(photo: Standing, point: Point) -> bool:
    body = photo.body
    address = tuple(getattr(body, name, None) for name in ("part", "feature", "place"))
    return address == point.address


def _worth(verdict: Verdict) -> bool:
    """Whether a verdict says more than that its reading is still to come."""
    return verdict.judgement is not None or "no reading" not in verdict.why


def verdict_line(case: Case, verdict: Verdict, units: str, earlier: Earlier) -> VerdictLine:
    """A verdict for the page."""
    return attrs.evolve(
        first_sight(case, verdict, units, ghosts(verdict, earlier)),
        limit=figures_in(case, limit_text(verdict, units)),
        source=case.visit.say(source_text(verdict)),
        probability=figures_in(case, probability_text(verdict)) if verdict.judgement else "",
    )


def first_sight(
    case: Case, verdict: Verdict, units: str, ghosts: tuple[float, ...] = ()
) -> VerdictLine:
    """A verdict without its limit and source, as it is shown the moment a reading is entered."""
    say = case.visit.say
    drawn = ruler(verdict, ghosts)
    return VerdictLine(
        place=verdict.place,
        state=verdict.outcome.words,
        why=_begun(say(verdict.why)),
        judged=figures_in(case, judged_text(verdict, units)) if verdict.judgement else "",
        next_step=say(_one_line(verdict.next_step)),
        ruler=Markup(ruler_svg(drawn)) if drawn else Markup(),  # our own picture: no typed text
    )


def _one_line(sentence: str) -> str:
    """Without the line breaks that a sentence of a data file may have."""
    return " ".join(sentence.split())


def _begun(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _limit(case: Case, point: Point, units: str) -> str:
    if case.design is None or not point.measured:
        return ""
    return figures_in(case, limit_words(case.design, point, usual_unit(point.dimension, units)))


def _bounds(case: Case, point: Point, unit: str) -> tuple[float, float]:
    """Bounds for the tablet without connection: as `sheet/magnitude.py`."""
    from hoistwright.quantity import in_unit
    from hoistwright.sheet.figures import usual_size
    from hoistwright.sheet.magnitude import FACTOR

    if case.design is None or not point.measured or point.dimension is Dimension.NUMBER:
        return 0.0, 0.0
    usual = usual_size(case.design, point, point.links)
    if usual is None or not usual.value > 0:
        return 0.0, 0.0
    figure = in_unit(usual.value, point.dimension, unit)
    return (0.0 if usual.smaller else figure / FACTOR), figure * FACTOR
