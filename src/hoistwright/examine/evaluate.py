"""From entries to verdicts: every ruling held against every place it rules over."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import attrs

from hoistwright.basis.rulings import Ruling
from hoistwright.examine.compare import Compared, compare
from hoistwright.examine.entries import Entries, LookAnswer, Reading
from hoistwright.examine.next_step import next_step
from hoistwright.examine.points import Point, place_name, same_pattern
from hoistwright.examine.taken import Taken, mean_of, smallest_of, take
from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.as_new import Baseline, as_new
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Measure, look, measure
from hoistwright.metrology import DecisionRule, Outcome

NO_LIMIT = "no limit is known: neither the maker nor the basis states one"
NO_SOURCE = "no source rules over this look"

_LOOKED = {
    "in order": Outcome.FIT,
    "defect": Outcome.RENEW,
    "not looked": Outcome.NOT_ESTABLISHED,
}


def verdicts(
    design: Design, points: Sequence[Point], entries: Entries, rules: Mapping[str, DecisionRule]
) -> tuple[Verdict, ...]:
    """One verdict for each ruling and place, in the order of `points`.

    `rules` gives the decision rule of each basis by key, and under "" the one for limits of
    the maker. Raises ValueError for an entry that belongs to no point of the design.
    """
    _refuse_strays(points, entries)
    out: list[Verdict] = []
    for part, feature in dict.fromkeys((point.part, point.feature) for point in points):
        here = [p for p in points if (p.part, p.feature) == (part, feature)]
        if here[0].measured:
            out += _measured(design, here, entries, rules)
        else:
            out += _looked(here, entries, rules)
    return tuple(out)


def _refuse_strays(points: Sequence[Point], entries: Entries) -> None:
    given: tuple[Reading | LookAnswer, ...] = (*entries.readings, *entries.looks)
    for entry in given:
        known = (
            point
            for point in points
            if (point.part, point.feature) == (entry.part, entry.feature)
            and same_pattern(entry.place, point.place)
        )
        if next(known, None) is None:
            raise ValueError(
                f"an entry for {entry.part} {entry.feature} {entry.place!r}; "
                "expected one of the design's points"
            )


# measured features


@attrs.frozen(kw_only=True)
class _Feature:
    """What all rulings over one measured feature of one part share."""

    design: Design
    points: Sequence[Point]
    measure: Measure
    readings: Mapping[str, Reading]
    entries: Entries

    @property
    def places(self) -> list[str]:
        """The places wanted, then those measured beyond them; the reference left out."""
        wanted = [point.place for point in self.points if not point.reference]
        reference = {point.place for point in self.points if point.reference}
        return list(dict.fromkeys([*wanted, *(p for p in self.readings if p not in reference)]))


def _measured(
    design: Design, here: Sequence[Point], entries: Entries, rules: Mapping[str, DecisionRule]
) -> Iterator[Verdict]:
    part, feature = here[0].part, here[0].feature
    readings = {
        reading.place: reading
        for reading in entries.readings
        if (reading.part, reading.feature) == (part, feature)
    }
    about = _Feature(
        design=design, points=here, measure=measure(feature), readings=readings, entries=entries
    )
    for ruling in here[0].rulings:
        yield from _ruled(about, ruling, rules[ruling.stands.basis])
    if not here[0].rulings:
        for place in about.places:
            yield _unruled(about, place, rules[""])


def _ruled(about: _Feature, ruling: Ruling, rule: DecisionRule) -> Iterator[Verdict]:
    for name, places in _groups(about, ruling).items():
        parts = [take(about.readings.get(place), about.measure, about.entries) for place in places]
        taken = _together(parts, ruling)
        baseline, trouble = _baseline(about, taken)
        if trouble and not taken.missing:
            taken = attrs.evolve(taken, missing=trouble)
        compared = compare(
            taken,
            ruling,
            baseline,
            rule,
            dimension=about.points[0].dimension,
            gauge_length=_gauge_length(about, taken),
        )
        yield _verdict(about.points[0], name, taken, rule, ruling, baseline, compared)


def _groups(about: _Feature, ruling: Ruling) -> dict[str, list[str]]:
    """Places taken together by the ruling, under the name the verdict gives them."""
    if ruling.of == "smallest":
        return {"": about.places}
    directions = about.measure.directions
    if ruling.of == "each" or not directions:
        return {place: [place] for place in about.places}
    bases = dict.fromkeys(_without_direction(place, directions) for place in about.places)
    return {base: [place_name(base, direction) for direction in directions] for base in bases}


def _without_direction(place: str, directions: Sequence[str]) -> str:
    """`section 1` of `section 1 along`."""
    for direction in directions:
        place = place.removesuffix(direction).strip()
    return place


def _together(parts: Sequence[Taken], ruling: Ruling) -> Taken:
    if len(parts) == 1:
        return parts[0]
    return smallest_of(parts) if ruling.of == "smallest" else mean_of(parts)


def _baseline(about: _Feature, taken: Taken) -> tuple[Baseline | None, str]:
    """As new: the unworn place where it was read, else the design's figure; and what is wrong."""
    stated = about.points[0].baseline
    if about.measure.counts_links and taken.links:
        part = about.design.part(about.points[0].part)
        stated = as_new(about.design, part, about.measure, links=taken.links)
    reference = next((point for point in about.points if point.reference), None)
    reading = about.readings.get(reference.place) if reference else None
    if reference is None or reading is None:
        return stated, ""
    unworn = take(reading, about.measure, about.entries)
    if unworn.missing or unworn.budget is None:
        return None, f"the reading of the {reference.place} place cannot be used: {unworn.missing}"
    if (unworn.links or reference.links) != (taken.links or reference.links):
        return None, f"the {reference.place} place was read over another number of links"
    source = f"{reference.place} place of this piece, read with {unworn.gauge}"
    return Baseline(unworn.value, float(unworn.budget.u), source), ""


def _gauge_length(about: _Feature, taken: Taken) -> float | None:
    pitch, links = about.design.load_chain.pitch, taken.links or about.points[0].links
    return None if pitch is None or links is None else links * pitch


def _verdict(
    point: Point,
    place: str,
    taken: Taken,
    rule: DecisionRule,
    ruling: Ruling,
    baseline: Baseline | None,
    compared: Compared,
) -> Verdict:
    return Verdict(
        part=point.part,
        part_name=point.part_name,
        feature=point.feature,
        feature_name=point.name,
        place=place,
        outcome=compared.outcome,
        why=(compared.missing or compared.reason) + _gauge_note(ruling, taken),
        next_step=next_step(compared.outcome, compared.missing, ruling.action),
        rule=rule,
        dimension=point.dimension,
        unit=taken.unit,
        gauge=taken.gauge,
        ruling=ruling,
        baseline=baseline,
        judgement=compared.judgement,
        remark=taken.remark,
        by=taken.by,
    )


def _gauge_note(ruling: Ruling, taken: Taken) -> str:
    """Said where the reading was taken over a length the source does not ask for."""
    least, most = ruling.stands.gauge_from, ruling.stands.gauge_to
    if taken.missing or least is None or most is None or least <= taken.value <= most:
        return ""
    asked = f"{1e3 * least:.0f} to {1e3 * most:.0f} mm"
    return f" (read over {1e3 * taken.value:.0f} mm; the source asks for {asked})"


def _unruled(about: _Feature, place: str, rule: DecisionRule) -> Verdict:
    taken = take(about.readings.get(place), about.measure, about.entries)
    point = about.points[0]
    why = NO_LIMIT if not taken.missing else f"{taken.missing}; and {NO_LIMIT}"
    return Verdict(
        part=point.part,
        part_name=point.part_name,
        feature=point.feature,
        feature_name=point.name,
        place=place,
        outcome=Outcome.NOT_ESTABLISHED,
        why=why,
        next_step=next_step(Outcome.NOT_ESTABLISHED, NO_LIMIT, ""),
        rule=rule,
        dimension=point.dimension,
        unit=taken.unit,
        gauge=taken.gauge,
        baseline=point.baseline,
        remark=taken.remark,
        by=taken.by,
    )


# looks


def _looked(
    here: Sequence[Point], entries: Entries, rules: Mapping[str, DecisionRule]
) -> Iterator[Verdict]:
    answers = {
        answer.place: answer
        for answer in entries.looks
        if (answer.part, answer.feature) == (here[0].part, here[0].feature)
    }
    wanted = [point.place for point in here]
    for place in dict.fromkeys([*wanted, *answers]):
        answer = answers.get(place)
        for ruling in here[0].rulings:
            yield _look_verdict(here[0], place, answer, ruling, rules[ruling.stands.basis])
        if not here[0].rulings:
            yield _look_verdict(here[0], place, answer, None, rules[""])


def _look_verdict(
    point: Point, place: str, answer: LookAnswer | None, ruling: Ruling | None, rule: DecisionRule
) -> Verdict:
    said = answer.answer if answer else "not looked"
    outcome, why = _LOOKED[said], _why_look(said)
    if ruling is None and outcome is Outcome.FIT:
        outcome, why = Outcome.NOT_ESTABLISHED, f"looked at and in order, but {NO_SOURCE}"
    action = ruling.action if ruling else ""
    missing = why if outcome is Outcome.NOT_ESTABLISHED else ""
    return Verdict(
        part=point.part,
        part_name=point.part_name,
        feature=point.feature,
        feature_name=point.name,
        place=place,
        outcome=outcome,
        why=why,
        next_step=next_step(outcome, missing, action or _finding(point)),
        rule=rule,
        dimension=point.dimension,
        unit="",
        ruling=ruling,
        answer=said,
        remark=answer.remark if answer else "",
        photo=answer.photo if answer else "",
        by=answer.by if answer else "",
    )


def _finding(point: Point) -> str:
    return look(point.feature).finding


def _why_look(said: str) -> str:
    return {
        "in order": "looked at and found in order",
        "defect": "looked at and found defective",
        "not looked": "not looked at",
    }[said]
