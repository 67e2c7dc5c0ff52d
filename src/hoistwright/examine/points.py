"""What must be looked at and measured on a hoist: one point for each place on each part."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from hoistwright.basis.rulings import Ruling
from hoistwright.hoist.as_new import Baseline, as_new, gauge_links
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Look, Measure, RoleFeatures, Stage, catalogue
from hoistwright.hoist.parts import Part
from hoistwright.quantity import Dimension

_DIMENSIONS = {
    "length": Dimension.LENGTH,
    "angle": Dimension.ANGLE,
    "force": Dimension.FORCE,
    "number": Dimension.NUMBER,
}

Address = tuple[str, str, str]
"""Part key, feature, place."""


@attrs.frozen(kw_only=True)
class Point:
    """One thing to measure or look at.

    `feature` is `role.key` of the catalogue. A `reference` point stands for as new and is
    welcome, not required. `rulings` hold the limits over it; with none it can be recorded but
    not established.
    """

    part: str
    part_name: str
    feature: str
    name: str
    place: str
    measured: bool
    ask: str
    how: str
    stage: Stage
    caution: str = ""
    dimension: Dimension = Dimension.LENGTH
    instruments: tuple[str, ...] = ()
    baseline: Baseline | None = None
    links: int | None = None
    reference: bool = False
    rulings: tuple[Ruling, ...] = ()

    @property
    def address(self) -> Address:
        return self.part, self.feature, self.place


def points(design: Design, ruled: Sequence[Ruling]) -> tuple[Point, ...]:
    """Every point of the design, by part, measured ones first, with the rulings over it."""
    over: dict[tuple[str, str], list[Ruling]] = {}
    for ruling in ruled:
        over.setdefault((ruling.part, ruling.feature), []).append(ruling)
    roles = catalogue()
    return tuple(
        attrs.evolve(point, rulings=tuple(over.get((point.part, point.feature), ())))
        for part in design.parts
        if part.role in roles
        for point in _of_part(design, part, roles[part.role])
    )


def same_pattern(place: str, wanted: str) -> bool:
    """True where `place` is `wanted` with other numbers: "section 4 along", "section 1 along"."""
    return re.sub(r"\d+", "#", place) == re.sub(r"\d+", "#", wanted)


def items(part: Part) -> tuple[str, ...]:
    """The pieces of a part that are examined one by one; one nameless piece where it is alone."""
    if part.quantity == 1:
        return ("",)
    return tuple(str(number) for number in range(1, part.quantity + 1))


def place_name(*words: str) -> str:
    """The place as it stands on a sheet.

    >>> place_name("", "section 1", "along")
    'section 1 along'
    """
    return " ".join(word for word in words if word)


def _of_part(design: Design, part: Part, role: RoleFeatures) -> Iterator[Point]:
    for item in items(part):
        for feature in role.measure:
            yield from _measured(design, part, role, feature, item)
        for look in role.look:
            yield from _looked(part, role, look, item)


def _measured(
    design: Design, part: Part, role: RoleFeatures, feature: Measure, item: str
) -> Iterator[Point]:
    links = gauge_links(design) if feature.counts_links else None
    point = Point(
        part=part.key,
        part_name=part.name,
        feature=f"{role.role}.{feature.key}",
        name=feature.name,
        place="",
        measured=True,
        ask=feature.measurand,
        how=feature.how,
        stage=feature.stage,
        caution=role.caution,
        dimension=_DIMENSIONS[feature.dimension],
        instruments=feature.instruments,
        baseline=as_new(design, part, feature),
        links=links,
    )
    for place in feature.places or ("",):
        for direction in feature.directions or ("",):
            yield attrs.evolve(point, place=place_name(item, place, direction))
    if feature.reference_place:
        where = place_name(item, feature.reference_place)
        yield attrs.evolve(point, place=where, reference=True)


def _looked(part: Part, role: RoleFeatures, look: Look, item: str) -> Iterator[Point]:
    for place in look.places or ("",):
        yield Point(
            part=part.key,
            part_name=part.name,
            feature=f"{role.role}.{look.key}",
            name=look.name,
            place=place_name(item, place),
            measured=False,
            ask=look.question,
            how=look.how,
            stage=look.stage,
            caution=role.caution,
            dimension=Dimension.NUMBER,
        )
