"""Wear or overstrain: where the lengthening of a load chain comes from.

Worn crowns lengthen the pitch by twice the wear of one crown; what is left of the lengthening
is permanent stretch: the chain has been pulled beyond its yield point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

import attrs

from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.design import Design
from hoistwright.metrology import Outcome


class SplitKind(Enum):
    """What a section's lengthening is made of."""

    NEITHER = "neither worn nor stretched beyond uncertainty"
    WORN = "worn"
    OVERSTRAINED = "overstrained"
    BOTH = "worn and overstrained"
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
) -> tuple[float, float, float, float]:
    """Wear share, permanent stretch, and their standard uncertainties.

    eps_wear = 2 w / p;  eps_stretch = eps - eps_wear, inputs independent.

    Args:
        elongation: eps of the section, a ratio.
        elongation_uncertainty: its standard uncertainty.
        crown_wear: w, loss of wire at one crown along the load, m.
        crown_uncertainty: its standard uncertainty, m.
        pitch: inside length of a link as new, m (> 0).

    Returns:
        (eps_wear, u, eps_stretch, u), ratios.

    Raises:
        ValueError: for a pitch that is not positive.

    References:
        Geometry of two crowns in contact: each joint lengthens by the wear of both its crowns;
        derived here. JCGM 100:2008 (GUM), 5.1.2, for the uncertainties; from memory.

    >>> [round(x, 4) for x in split(0.02, 0.0, 0.00015, 0.0, 0.015)]
    [0.02, 0.0, 0.0, 0.0]
    """
    if not pitch > 0.0:
        raise ValueError(f"pitch {pitch!r} m; expected a length above zero")
    wear, u_wear = 2.0 * crown_wear / pitch, 2.0 * crown_uncertainty / pitch
    return wear, u_wear, elongation - wear, math.hypot(elongation_uncertainty, u_wear)


def chain_splits(design: Design, verdicts: Sequence[Verdict]) -> tuple[ChainSplit, ...]:
    """The split of every chain section whose elongation was judged.

    The crown's wear is taken along the load against the wire as new. Without a crown reading
    of the section the split is "not established".
    """
    pitch, wire = design.load_chain.pitch, design.load_chain.wire
    if pitch is None or wire is None:
        return ()
    out = []
    for verdict in _first_of_each_place(verdicts):
        lengthened = _elongation(verdict, pitch, wire)
        if lengthened is not None:
            crown = _crown(verdicts, verdict.part, verdict.place)
            out.append(_split_of(verdict, *lengthened, crown, pitch))
    return tuple(out)


def _elongation(verdict: Verdict, pitch: float, wire: float) -> tuple[float, float] | None:
    """Elongation (L - L_ref)/(n p) and its uncertainty, whichever way the limit compares.

    The number of links is that of the as-new length, n p + 2 d.
    """
    judged, new = verdict.judgement, verdict.baseline
    if judged is None or new is None:
        return None
    length = pitch * max(1, round((new.value - 2.0 * wire) / pitch))
    u = math.hypot(judged.reading_uncertainty, new.uncertainty) / length
    return (judged.reading - new.value) / length, u


def _first_of_each_place(verdicts: Sequence[Verdict]) -> list[Verdict]:
    seen: dict[tuple[str, str], Verdict] = {}
    for verdict in verdicts:
        if verdict.feature == "load_chain.gauge_length":
            seen.setdefault((verdict.part, verdict.place), verdict)
    return list(seen.values())


def _crown(verdicts: Sequence[Verdict], part: str, place: str) -> tuple[float, float] | None:
    """Wear of the section's crown along the load, and its standard uncertainty, in m."""
    for verdict in verdicts:
        along = verdict.feature == "load_chain.crown_diameter" and verdict.place == f"{place} along"
        judged, new = verdict.judgement, verdict.baseline
        if along and verdict.part == part and judged and new:
            wear = new.value - judged.reading
            return wear, math.hypot(judged.reading_uncertainty, new.uncertainty)
    return None


def _split_of(
    verdict: Verdict, value: float, u: float, crown: tuple[float, float] | None, pitch: float
) -> ChainSplit:
    if crown is None:
        nan = float("nan")
        wear = u_wear = stretch = u_stretch = nan
        kind = SplitKind.NOT_ESTABLISHED
    else:
        wear, u_wear, stretch, u_stretch = split(value, u, crown[0], crown[1], pitch)
        kind = _kind(wear > COVERAGE * u_wear, stretch > COVERAGE * u_stretch)
    return ChainSplit(
        part=verdict.part,
        place=verdict.place,
        elongation=value,
        elongation_uncertainty=u,
        wear=wear,
        wear_uncertainty=u_wear,
        stretch=stretch,
        stretch_uncertainty=u_stretch,
        kind=kind,
        sentence=_SENTENCES[kind],
    )


def _kind(worn: bool, stretched: bool) -> SplitKind:
    if stretched:
        return SplitKind.BOTH if worn else SplitKind.OVERSTRAINED
    return SplitKind.WORN if worn else SplitKind.NEITHER


_SENTENCES = {
    SplitKind.NEITHER: "Neither crown wear nor permanent stretch can be told from no change.",
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


def outcome_of(splits: Sequence[ChainSplit]) -> Outcome:
    """Overstrain is at least a case for a competent person: borderline; else fit."""
    overstrained = any(item.kind in OVERSTRAIN for item in splits)
    return Outcome.BORDERLINE if overstrained else Outcome.FIT
