"""What the customer is offered: must, advised and can wait, each sum worked out on its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from hoistwright.hoist.design import Design
from hoistwright.renew.optimum import Line, Renewal, renewals
from hoistwright.renew.policy import Need, PartRisk, Policy
from hoistwright.renew.prices import PriceList
from hoistwright.renew.quote import (
    KitLine,
    Quote,
    RepairOrScrap,
    one_use_total,
    quote,
    repair_or_scrap,
)
from hoistwright.strip.plan import with_companions

WORTH_NAMING = 0.01
"""Chance until the next visit from which a part that can wait is named on its own."""


@attrs.frozen(kw_only=True)
class Sums:
    """Money in minor units: `parts` renewed, `one_use` pieces of the steps, `labour` both ways."""

    parts: int
    one_use: int
    labour: int

    @property
    def total(self) -> int:
        return self.parts + self.one_use + self.labour


@attrs.frozen(kw_only=True)
class Offer:
    """One hoist's offer. Without tax. `lines` are those of the best set with all reasons.

    least: only what must be renewed. best: with everything advised. taken: with what was chosen
    so far; None where nothing was. `repair` holds the best against a new hoist, where the shop
    has a price for one.
    """

    currency: str
    lines: tuple[Line, ...]
    kit: tuple[KitLine, ...]
    taken_kit: tuple[KitLine, ...]
    least: Sums
    best: Sums
    taken: Sums | None
    labour_seconds: float
    saved: int
    open_prices: tuple[str, ...]
    days_to_wait: int | None
    repair: RepairOrScrap | None
    exact: bool

    def of(self, standing: str) -> tuple[Line, ...]:
        """The lines with this standing."""
        return tuple(line for line in self.lines if line.standing == standing)

    @property
    def named(self) -> tuple[Line, ...]:
        """What can wait and risks enough to be named on its own."""
        return tuple(ln for ln in self.of("can wait") if ln.probability >= WORTH_NAMING)

    @property
    def unnamed(self) -> tuple[Line, ...]:
        """What can wait and risks next to nothing."""
        return tuple(ln for ln in self.of("can wait") if ln.probability < WORTH_NAMING)


def offer(
    design: Design,
    must: Sequence[Need],
    risks: Sequence[PartRisk],
    prices: PriceList,
    policy: Policy,
    *,
    wanted: Sequence[Need] = (),
    taken: Iterable[str] | None = None,
    already: Iterable[str] = (),
    new_price: int | None = None,
    scrap_value: int = 0,
) -> Offer:
    """The offer for a hoist on the bench.

    total = Σ parts + Σ one-use pieces of the steps + labour of the steps both ways

    Args:
        design: with its take-apart graph.
        must: parts to be renewed by their verdicts.
        risks: of the other parts, until the next visit.
        prices: of the shop.
        policy: of the shop.
        wanted: parts that the shop would renew for reasons of its own: advised, not a must.
        taken: parts chosen so far; None where nobody chose yet.
        already: keys of steps that are done anyway.
        new_price: of an equal new hoist, minor units.
        scrap_value: what the old one still brings, minor units.

    Returns:
        The offer.

    Raises:
        ValueError: keys that the design does not have, or parts that no step frees.
        FaultsError: a take-apart graph that is not sound.

    References:
        design of the project; the sums are those of `renewals` and `quote`.
    """
    base = tuple(already)
    whole = renewals(design, [*must, *_others(must, wanted)], risks, prices, policy, already=base)
    lines = _advised(design, whole, must)
    best = quote(design, whole, prices, policy)
    least = _sums_of(design, tuple(need.part for need in must), prices, policy, base)
    chosen = None if taken is None else _quote_of(design, tuple(taken), prices, policy, base)
    return Offer(
        currency=prices.currency,
        lines=lines,
        kit=best.kit,
        taken_kit=() if chosen is None else chosen.kit,
        least=least,
        best=_sums(best),
        taken=None if chosen is None else _sums(chosen),
        labour_seconds=whole.labour_seconds,
        saved=whole.saved,
        open_prices=best.open_prices,
        days_to_wait=best.days_to_wait,
        repair=_repair(best, new_price, policy, scrap_value),
        exact=whole.exact,
    )


def _others(must: Sequence[Need], wanted: Sequence[Need]) -> list[Need]:
    known = {need.part for need in must}
    return [need for need in wanted if need.part not in known]


def _advised(design: Design, whole: Renewal, must: Sequence[Need]) -> tuple[Line, ...]:
    """What is forced only because the shop wants it is advised: the customer may decline it."""
    forced = set(with_companions(design, [need.part for need in must]))
    lines = [
        attrs.evolve(line, standing="advised")
        if line.standing == "must" and line.part not in forced
        else line
        for line in whole.lines
    ]
    rank = {"must": 0, "advised": 1, "can wait": 2}
    return tuple(sorted(lines, key=lambda line: rank[line.standing]))


def _quote_of(
    design: Design, parts: Sequence[str], prices: PriceList, policy: Policy, base: tuple[str, ...]
) -> Quote:
    needs = [Need(part=part, why="") for part in parts]
    return quote(design, renewals(design, needs, (), prices, policy, already=base), prices, policy)


def _sums_of(
    design: Design, parts: Sequence[str], prices: PriceList, policy: Policy, base: tuple[str, ...]
) -> Sums:
    return _sums(_quote_of(design, parts, prices, policy, base))


def _sums(found: Quote) -> Sums:
    spent = one_use_total(found.kit)
    return Sums(parts=found.parts_total - spent, one_use=spent, labour=found.labour_total)


def _repair(
    best: Quote, new_price: int | None, policy: Policy, scrap_value: int
) -> RepairOrScrap | None:
    if new_price is None or new_price <= scrap_value:
        return None
    return repair_or_scrap(best, new_price, policy, scrap_value)
