"""Wear or overstrain: where the lengthening of a load chain comes from.

Worn crowns lengthen the pitch by twice the wear of one crown; what is left of the lengthening
is permanent stretch: the chain has been pulled beyond its yield point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

import attrs

from hoistwright.examine.entries import Entries
from hoistwright.examine.points import Point
from hoistwright.examine.taken import Taken, take
from hoistwright.hoist.as_new import as_new, gauge_links
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import measure
from hoistwright.hoist.parts import Part
from hoistwright.physics.chain_wear import wear_elongation

GAUGE, CROWN, BARREL = (
    "load_chain.gauge_length",
    "load_chain.crown_diameter",
    "load_chain.barrel_diameter",
)


class SplitKind(Enum):
    """What a section's lengthening is made of."""

    NEITHER = "neither worn nor stretched beyond uncertainty"
    WORN = "worn"
    OVERSTRAINED = "overstrained"
    BOTH = "worn and overstrained"
    UNRESOLVED = "lengthened; wear can explain it within its uncertainty"
    NOT_ESTABLISHED = "not established"


@attrs.frozen(kw_only=True)
class ChainSplit:
    """Elongation of one section and its two shares, each with standard uncertainty (ratios)."""

    part: str
    place: str
    elongation: float
    elongation_uncertainty: float
    wear: float
    wear_uncertainty: float
    stretch: float
    stretch_uncertainty: float
    kind: SplitKind
    sentence: str


COVERAGE = 2.0
"""A share counts once it is beyond this many standard uncertainties (k = 2, GUM 6.3)."""


def split(
    elongation: float,
    elongation_uncertainty: float,
    crown_wear: float,
    crown_uncertainty: float,
    pitch: float,
    links: int,
) -> tuple[float, float, float, float]:
    """Wear share, permanent stretch, and their standard uncertainties.

    eps_wear = 2 w (n - 1)/(n p);  eps_stretch = eps - eps_wear, inputs independent. Over n links
    n - 1 joints are worn between the jaws; the outermost crowns keep their outside.

    Args:
        elongation: eps of the section, a ratio.
        elongation_uncertainty: its standard uncertainty.
        crown_wear: w, loss of wire at one crown along the load, m.
        crown_uncertainty: its standard uncertainty, m.
        pitch: inside length of a link as new, m (> 0).
        links: links of the gauge length, n (1 or more).

    Returns:
        (eps_wear, u, eps_stretch, u), ratios.

    Raises:
        ValueError: for a pitch or a number of links that is not positive.

    References:
        `hoistwright.physics.chain_wear.wear_elongation` (geometry; own derivation).
        JCGM 100:2008 (GUM), 5.1.2, for the uncertainties; from memory.

    >>> [round(x, 4) for x in split(0.02, 0.0, 0.00015, 0.0, 0.015, 11)]
    [0.0182, 0.0, 0.0018, 0.0]
    """
    wear = float(wear_elongation(crown_wear, pitch, links))
    u_wear = float(wear_elongation(crown_uncertainty, pitch, links))
    return wear, u_wear, elongation - wear, math.hypot(elongation_uncertainty, u_wear)


def chain_splits(
    design: Design, points: Sequence[Point], entries: Entries
) -> tuple[ChainSplit, ...]:
    """The split of every chain section whose gauge length was read with a usable gauge.

    The crown's wear is taken along the load, against the barrel of the same chain where its
    reading agrees with the wire as new, else against the wire as new. Without a crown reading
    of the section the split is "not established".
    """
    chain = design.load_chain
    if chain.pitch is None or chain.wire is None:
        return ()
    out = []
    for part in design.parts_of("load_chain"):
        read = _Readings(design, part, points, entries)
        for place in read.sections():
            lengthened = read.elongation(place)
            if lengthened is not None:
                links = read.links(place)
                out.append(
                    _split_of(part.key, place, lengthened, read.wear(place), chain.pitch, links)
                )
    return tuple(out)


Figure = tuple[float, float]
"""A value and its standard uncertainty."""


class _Readings:
    """The readings of one chain, as the split needs them."""

    def __init__(
        self, design: Design, part: Part, points: Sequence[Point], entries: Entries
    ) -> None:
        self.design, self.part, self.entries = design, part, entries
        self.readings = {(r.feature, r.place): r for r in entries.readings if r.part == part.key}
        reference = next((p.place for p in points if p.part == part.key and p.reference), "")
        self.reference = reference

    def sections(self) -> list[str]:
        """The places where a gauge length was read, the unworn one left out."""
        places = [place for feature, place in self.readings if feature == GAUGE]
        return sorted(place for place in places if place != self.reference)

    def take(self, feature: str, place: str) -> Taken:
        return take(self.readings.get((feature, place)), measure(feature), self.entries)

    def figure(self, feature: str, place: str) -> Figure | None:
        taken = self.take(feature, place)
        return None if taken.budget is None else (taken.value, float(taken.budget.u))

    def links(self, place: str) -> int:
        return self.take(GAUGE, place).links or gauge_links(self.design) or 1

    def elongation(self, place: str) -> Figure | None:
        """(L - L_ref)/(n p) of a section against the unworn length, else against as new."""
        taken = self.take(GAUGE, place)
        links = self.links(place)
        new = self._as_new_length(links)
        if taken.budget is None or new is None or not self.design.load_chain.pitch:
            return None
        length = links * self.design.load_chain.pitch
        u = math.hypot(float(taken.budget.u), new[1]) / length
        return (taken.value - new[0]) / length, u

    def _as_new_length(self, links: int | None) -> Figure | None:
        if (GAUGE, self.reference) in self.readings:
            if self.links(self.reference) != links:
                return None  # over another number of links nothing can be compared
            return self.figure(GAUGE, self.reference)
        stated = as_new(self.design, self.part, measure(GAUGE), links=links)
        return None if stated is None else (stated.value, stated.uncertainty)

    def wear(self, place: str) -> Figure | None:
        """Wear of the section's crown along the load."""
        crown, wire = self.figure(CROWN, f"{place} along"), self._wire()
        if crown is None or wire is None:
            return None
        return wire[0] - crown[0], math.hypot(crown[1], wire[1])

    def _wire(self) -> Figure | None:
        stated = as_new(self.design, self.part, measure(CROWN))
        barrels = [self.figure(BARREL, f"worst link {way}") for way in ("flat", "edge")]
        read = [barrel for barrel in barrels if barrel is not None]
        if stated is None or not read:
            return None if stated is None else (stated.value, stated.uncertainty)
        mean = sum(value for value, _ in read) / len(read)
        u = max(u for _, u in read)
        agrees = abs(mean - stated.value) <= COVERAGE * math.hypot(u, stated.uncertainty)
        return (mean, u) if agrees else (stated.value, stated.uncertainty)


def _split_of(
    part: str, place: str, lengthened: Figure, crown: Figure | None, pitch: float, links: int
) -> ChainSplit:
    value, u = lengthened
    if crown is None:
        wear = u_wear = stretch = u_stretch = float("nan")
        kind = SplitKind.NOT_ESTABLISHED
    else:
        wear, u_wear, stretch, u_stretch = split(value, u, crown[0], crown[1], pitch, links)
        kind = _kind(
            worn=wear > COVERAGE * u_wear,
            stretched=stretch > COVERAGE * u_stretch,
            lengthened=value > COVERAGE * u,
        )
    return ChainSplit(
        part=part,
        place=place,
        elongation=value,
        elongation_uncertainty=u,
        wear=wear,
        wear_uncertainty=u_wear,
        stretch=stretch,
        stretch_uncertainty=u_stretch,
        kind=kind,
        sentence=_SENTENCES[kind],
    )


def _kind(*, worn: bool, stretched: bool, lengthened: bool) -> SplitKind:
    if stretched:
        return SplitKind.BOTH if worn else SplitKind.OVERSTRAINED
    if worn:
        return SplitKind.WORN
    return SplitKind.UNRESOLVED if lengthened else SplitKind.NEITHER


_SENTENCES = {
    SplitKind.NEITHER: "Neither crown wear nor permanent stretch can be told from no change.",
    SplitKind.UNRESOLVED: (
        "The section is longer than as new. Crown wear can explain that within its uncertainty; "
        "read the crowns more finely to tell wear from stretch."
    ),
    SplitKind.WORN: "The crowns' wear accounts for the lengthening: the chain is worn.",
    SplitKind.OVERSTRAINED: (
        "The lengthening is more than the crowns' wear can give: the chain has been overstrained. "
        "Examine hooks, pins, sheave and brake for overload."
    ),
    SplitKind.BOTH: (
        "The crowns are worn, and there is lengthening beyond their wear: the chain is worn and "
        "has been overstrained. Examine hooks, pins, sheave and brake for overload."
    ),
    SplitKind.NOT_ESTABLISHED: (
        "Without a crown reading along the load, wear and overstrain cannot be told apart."
    ),
}

OVERSTRAIN = (SplitKind.OVERSTRAINED, SplitKind.BOTH)
