"""The way of each measured feature from as new to its limit, in the unit it is read in."""

from __future__ import annotations

import datetime
import functools
import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import Ruling, rulings
from hoistwright.examine.points import Point, points
from hoistwright.fleet.visit_facts import Read
from hoistwright.hoist.as_new import Baseline, as_new
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import measure
from hoistwright.hoist.limits import Comparison
from hoistwright.quantity import Dimension


@attrs.frozen(kw_only=True)
class Scale:
    """One feature of one part: where it starts and where its limit is, as readings in SI.

    `known`: an as-new value exists. Where none does, `new` only stands in so that a share can
    be told (0 for an upper limit, twice the limit for a lower one); it is no wear.
    """

    part: str
    part_name: str
    feature: str
    feature_name: str
    dimension: Dimension
    new: float
    new_u: float
    limit: float
    known: bool
    comparison: Comparison
    limit_text: str
    source: str
    clause: str
    guard: float = 0.0
    """r of the guard band r·u that the basis keeps from its limit."""
    directions: tuple[str, ...] = ()
    reference: str = ""
    """Place that stands for as new, where it is read."""
    links: int | None = None

    @property
    def title(self) -> str:
        return f"{self.part_name}: {self.feature_name}"

    @property
    def span(self) -> float:
        """From as new to the limit; below nought where less is worse."""
        return self.limit - self.new

    def share(self, reading: float) -> float:
        """0 as new, 1 at the limit."""
        return (reading - self.new) / self.span

    def reading(self, share: float) -> float:
        """What a gauge would read at a share of the way."""
        return self.new + share * self.span


@attrs.frozen(kw_only=True)
class Worn:
    """How far a feature has come at one visit: the worst of its places, as a share."""

    share: float
    u: float
    place: str


@functools.lru_cache(maxsize=400)
def scales(
    design: Design, bases: tuple[Basis, ...], day: datetime.date
) -> dict[tuple[str, str], Scale]:
    """The scale of each measured feature with a limit in force on `day`, by part and feature.

    x_L = x0 + limit·n·p (elongation), x0·(1 ± limit) (rise, loss), x0 ± limit (rise by, loss
    by), the limit itself (at most, at least). Of several rulings the one whose limit comes
    first counts.

    Args:
        design: the design.
        bases: those in force for the hoist.
        day: the limits of this day.

    Returns:
        Scales; a feature whose limit cannot be put as a reading has none.

    Raises:
        FaultsError: a maker's limit that cannot be read.

    References:
        comparisons as `examine.compare`.

    >>> from hoistwright.basis.loading import shipped_basis
    >>> from hoistwright.hoist.library import shipped
    >>> bases = (shipped_basis("b30-hand-hoists"),)
    >>> found = scales(shipped("ardle-2000"), bases, datetime.date(2026, 11, 25))
    >>> chain = found["load_chain", "load_chain.gauge_length"]
    >>> round(chain.new, 4), chain.limit > chain.new, chain.known
    (0.328, True, True)
    """
    out: dict[tuple[str, str], Scale] = {}
    guards = {b.key: b.head.rule.guard_factor for b in bases if b.head.rule.kind == "guarded"}
    wanted = [p for p in points(design, rulings(design, bases, day)) if p.measured and p.rulings]
    for key, group in itertools.groupby(wanted, key=lambda p: (p.part, p.feature)):
        here = list(group)
        made = [_scale(design, here, ruling, guards) for ruling in here[0].rulings]
        sound = [scale for scale in made if scale is not None]
        if sound:
            out[key] = min(sound, key=lambda scale: (not scale.known, abs(scale.span)))
    return out


def _scale(
    design: Design, here: Sequence[Point], ruling: Ruling, guards: Mapping[str, float]
) -> Scale | None:
    first = here[0]
    base = first.baseline
    limit = limit_reading(design, ruling, base, first.links)
    if limit is None:
        return None
    new, known = (base.value, True) if base is not None else (0.0, False)
    if not known and ruling.side == "lower":
        new = 2 * limit
    worse = limit - new if ruling.comparison in _UP else new - limit
    if not worse > 0:
        return None  # as new would be beyond the limit: no way from one to the other
    averaged = ruling.of == "mean of directions"
    return Scale(
        part=first.part,
        part_name=first.part_name,
        feature=first.feature,
        feature_name=first.name,
        dimension=first.dimension,
        new=new,
        new_u=base.uncertainty if base is not None else 0.0,
        limit=limit,
        known=known,
        comparison=ruling.comparison,
        limit_text=ruling.limit_text,
        source=ruling.source,
        clause=ruling.clause,
        guard=guards.get(ruling.stands.basis, max(guards.values(), default=0.0)),
        directions=tuple(measure(first.feature).directions) if averaged else (),
        reference=next((point.place for point in here if point.reference), ""),
        links=first.links,
    )


_UP = ("elongation", "rise from as new", "rise by", "at most")


def limit_reading(
    design: Design, ruling: Ruling, base: Baseline | None, links: int | None
) -> float | None:
    """What a gauge reads just at the limit, SI; None where that cannot be said."""
    limit, comparison = ruling.limit_si, ruling.comparison
    if limit is None or comparison == "in order":
        return None
    if comparison in ("at most", "at least"):
        return limit
    if base is None:
        return None
    sign = 1.0 if comparison in _UP else -1.0
    if comparison in ("rise by", "loss by"):
        return base.value + sign * limit
    if comparison == "elongation":
        pitch = design.load_chain.pitch
        return None if pitch is None or links is None else base.value + limit * links * pitch
    return base.value * (1 + sign * limit)


def worn(design: Design, scale: Scale, reads: Iterable[Read]) -> Worn | None:
    """The worst place of a feature at one visit; None where it was not read.

    y = (x − x0) / (x_L − x0), the mean over directions where the limit asks for it. A chain read
    over another number of links is held against its own as-new length and limit; an unworn
    section that was read, too, stands in for the as-new value.

    Args:
        design: the design.
        scale: of the feature.
        reads: those of this part and feature at one visit.

    Returns:
        Share of the way and its standard uncertainty, without that of the as-new value.

    References:
        as `examine.evaluate`; the largest of several places errs to the safe side.
    """
    many = list(reads)
    reference = next((read for read in many if read.place == scale.reference != ""), None)
    groups: dict[str, list[Read]] = {}
    for read in many:
        if read is not reference:
            groups.setdefault(_without(read.place, scale.directions), []).append(read)
    found = [_one(design, scale, place, group, reference) for place, group in groups.items()]
    return max((item for item in found if math.isfinite(item.share)), default=None,
               key=lambda item: item.share)  # fmt: skip


def _one(
    design: Design, scale: Scale, place: str, group: Sequence[Read], reference: Read | None
) -> Worn:
    own = _own_scale(design, scale, group[0].links)
    value = sum(read.value for read in group) / len(group)
    u2 = sum(read.u**2 for read in group) / len(group) ** 2
    if reference is not None and reference.links == group[0].links:
        moved = reference.value - own.new
        own = attrs.evolve(own, new=own.new + moved, limit=own.limit + moved)
        u2 += reference.u**2
    return Worn(share=own.share(value), u=math.sqrt(u2) / abs(own.span), place=place)


def _own_scale(design: Design, scale: Scale, links: int | None) -> Scale:
    """The scale over the number of links that was really read."""
    if links is None or links == scale.links or scale.links is None:
        return scale
    base = as_new(design, design.part(scale.part), measure(scale.feature), links=links)
    if base is None:
        return scale
    factor = 1.0
    if scale.comparison == "elongation":
        factor = links / scale.links
    elif scale.comparison in ("rise from as new", "loss from as new"):
        factor = base.value / scale.new
    limit = base.value + factor * scale.span
    return attrs.evolve(scale, new=base.value, limit=limit, links=links)


def _without(place: str, directions: Sequence[str]) -> str:
    for direction in directions:
        place = place.removesuffix(direction).strip()
    return place


def by_feature(reads: Iterable[Read]) -> Iterator[tuple[tuple[str, str], list[Read]]]:
    """Reads in bundles of one part and feature."""
    found: dict[tuple[str, str], list[Read]] = {}
    for read in reads:
        found.setdefault((read.part, read.feature), []).append(read)
    yield from found.items()
