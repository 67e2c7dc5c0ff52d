"""Kit list, quote with choices, and repair-or-scrap figure, as plain values."""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from hoistwright.hoist.design import Design
from hoistwright.renew.optimum import Line, Renewal
from hoistwright.renew.policy import Policy
from hoistwright.renew.prices import PriceList, money
from hoistwright.strip.plan import merged_pieces, pieces, pieces_spent


@attrs.frozen(kw_only=True)
class KitLine:
    """Pieces to have ready. `price` of all of them, minor units; None where not known."""

    part: str
    name: str
    number: str
    pieces: int
    one_use: bool
    from_stock: int
    to_order: int
    lead_days: int | None
    price: int | None
    note: str


@attrs.frozen(kw_only=True)
class Quote:
    """`must_total` with all labour and one-use pieces of the must; each advised line adds what
    it adds if it alone is taken beside the must and the other advised are too. Money in minor
    units; `open_prices` names parts without a price: the totals lack them.
    """

    currency: str
    must: tuple[Line, ...]
    advised: tuple[Line, ...]
    can_wait: tuple[Line, ...]
    kit: tuple[KitLine, ...]
    labour_seconds: float
    labour_total: int
    parts_total: int
    total: int
    must_total: int
    open_prices: tuple[str, ...]
    days_to_wait: int | None
    """Longest lead time of what must be ordered; 0 with all in stock, None where not known."""


def kit(design: Design, renewal: Renewal, prices: PriceList) -> tuple[KitLine, ...]:
    """Every piece to have ready: renewed parts, and one-use parts that the steps spend.

    Args:
        design: with its parts list.
        renewal: what is renewed and which steps are done.
        prices: with stock.

    Returns:
        One line for each line of the parts list, renewed parts first.

    References:
        parts list and take-apart graph of the design.
    """
    done = set(renewal.steps)
    spent = merged_pieces(
        piece for step in design.take_apart if step.key in done
        for piece in pieces_spent(design, step)
    )  # fmt: skip
    own = [pieces(design, key) for key in renewal.renewed]
    one_use = {piece.part for piece in spent}
    lines = []
    for piece in merged_pieces([*own, *spent]):
        lines.append(
            _kit_line(piece.part, piece.name, piece.quantity, piece.part in one_use, prices)
        )
    return tuple(lines)


def one_use_total(lines: Iterable[KitLine]) -> int:
    """What the one-use pieces of a kit cost, minor units."""
    return sum(line.price or 0 for line in lines if line.one_use)


def _kit_line(part: str, name: str, count: int, one_use: bool, prices: PriceList) -> KitLine:
    found = prices.of(part)
    stock = 0 if found is None else max(found.line.stock, 0)
    order = max(count - stock, 0)
    return KitLine(
        part=part,
        name=name,
        number="" if found is None else found.line.number,
        pieces=count,
        one_use=one_use,
        from_stock=count - order,
        to_order=order,
        lead_days=None if found is None else found.line.lead_days,
        price=prices.price(part, count),
        note="not in the price list" if found is None else found.words,
    )


def quote(design: Design, renewal: Renewal, prices: PriceList, policy: Policy) -> Quote:
    """The quote for what must and what is advised, with what can wait named.

    total = pieces of the kit + labour of all steps, off and back on

    Args:
        design: with its parts list.
        renewal: what is renewed.
        prices: of the shop.
        policy: of the shop.

    Returns:
        The quote.

    References:
        design of the project.
    """
    lines = kit(design, renewal, prices)
    labour = policy.labour(renewal.labour_seconds)
    parts = sum(line.price or 0 for line in lines)
    advised = renewal.of("advised")
    shared = _left_out(renewal, advised)
    return Quote(
        currency=prices.currency,
        must=renewal.of("must"),
        advised=advised,
        can_wait=renewal.of("can wait"),
        kit=lines,
        labour_seconds=renewal.labour_seconds,
        labour_total=labour,
        parts_total=parts,
        total=labour + parts,
        must_total=labour + parts - shared,
        open_prices=tuple(line.part for line in lines if line.price is None),
        days_to_wait=_wait(lines),
    )


def _left_out(renewal: Renewal, advised: Iterable[Line]) -> int:
    """What falls away when nothing advised is taken: its parts and all steps only for it."""
    many = tuple(advised)
    return sum(line.price or 0 for line in many) + renewal.advised_opening


def _wait(lines: Iterable[KitLine]) -> int | None:
    waits = [line.lead_days for line in lines if line.to_order]
    known = [days for days in waits if days is not None]
    return None if len(known) < len(waits) else max(known, default=0)


@attrs.frozen(kw_only=True)
class RepairOrScrap:
    """Repair against a new hoist. `share` is repair over price of new less scrap value, and
    `from_share` that from which the shop does not advise repair. `less` is new less scrap.
    """

    repair: int
    new: int
    less: int
    share: float
    from_share: float
    repair_pays: bool
    sentence: str


def repair_or_scrap(
    repair: Quote, new_price: int, policy: Policy, scrap_value: int = 0
) -> RepairOrScrap:
    """Does repair still pay?

    share = repair / (new − scrap value); repair is advised below the shop's own share.

    Args:
        repair: the quote.
        new_price: of an equal new hoist, minor units, above the scrap value.
        policy: of the shop.
        scrap_value: what the old one still brings, minor units.

    Returns:
        The figure and a sentence. The customer decides.

    Raises:
        ValueError: a new price not above the scrap value.

    References:
        common practice; the share is the shop's own choice.
    """
    if new_price <= scrap_value:
        raise ValueError(
            f"the new price is {new_price}, the scrap value {scrap_value}; expected more for new."
        )
    share = repair.total / (new_price - scrap_value)
    pays = share < policy.scrap_from and not repair.open_prices
    open_ones = f" {len(repair.open_prices)} parts have no price yet." if repair.open_prices else ""
    cost, new = money(repair.total, repair.currency), money(new_price, repair.currency)
    sentence = (
        f"Repair costs {cost}, {100 * share:.0f} % of a new hoist at {new} less scrap; this shop "
        f"advises repair below {100 * policy.scrap_from:.0f} %.{open_ones}"
    )
    return RepairOrScrap(
        repair=repair.total,
        new=new_price,
        less=new_price - scrap_value,
        share=share,
        from_share=policy.scrap_from,
        repair_pays=pays,
        sentence=sentence,
    )
