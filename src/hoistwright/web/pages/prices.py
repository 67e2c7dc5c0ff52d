"""The shop's price and stock list: seeing, searching, taking a new one over after a look at it."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import attrs
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from hoistwright.certificate.quote_words import money_words
from hoistwright.faults import FaultsError
from hoistwright.language import marked
from hoistwright.pricing.read import prices_of
from hoistwright.renew.book_changes import Change, changes
from hoistwright.renew.prices import PriceBook, PriceLine
from hoistwright.store.connect import reading, writing
from hoistwright.web.designs import all_designs
from hoistwright.web.fault_words import fault_words
from hoistwright.web.page import Page
from hoistwright.web.pages.price_search import found_lines
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.records.offered_prices import Offered, drop_offered, keep_offered, offered
from hoistwright.web.records.prices import KeptList, keep_prices, prices_kept
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

MOST_LINES = 100
MOST_CHANGES = 200
MOST_FAULTS = 40
WORDS = {
    "new": marked("new"),
    "gone": marked("gone"),
    "price": marked("price"),
    "stock": marked("stock"),
    "lead time": marked("lead time"),
    "replaced by": marked("replaced by"),
    "name": marked("name"),
    "fits": marked("fits"),
}


@attrs.frozen(kw_only=True)
class ChangeRow:
    """A change as the page shows it."""

    number: str
    name: str
    what: str
    before: str
    after: str


def show(visit: Visit) -> Response:
    return _page(visit)


def _page(visit: Visit, faults: Sequence[str] = (), status: int = 200) -> Response:
    with reading(visit.bench.engine) as conn:
        kept = prices_kept(conn)
        charges = shop_of(conn).charges
    asked = visit.query("q")
    lines = found_lines(kept.book, asked)
    return visit.page(
        "prices.html",
        kept=kept,
        taken=_taken(visit, kept),
        charges=charges,
        asked=asked,
        lines=lines[:MOST_LINES],
        count=len(lines),
        price=lambda line: _price(visit, kept.book, line),
        faults=faults[:MOST_FAULTS],
        more_faults=max(0, len(faults) - MOST_FAULTS),
        status=status,
    )


async def take(visit: Visit) -> Response:
    """Look a sent list through; nothing is taken over before somebody has seen what changes."""
    upload = visit.upload("list")
    data = await upload.read() if upload else b""
    name = Path(upload.filename or "").name if upload else ""
    return await run_in_threadpool(_look_through, visit, name, data)


def _look_through(visit: Visit, name: str, data: bytes) -> Response:
    if not data:
        return _page(visit, (visit.say("Choose a file: a price list as CSV or XLSX."),), 422)
    with reading(visit.bench.engine) as conn:
        charges = shop_of(conn).charges
        before = prices_kept(conn).book
    currency = charges.currency if charges else ""
    try:
        book = prices_of(data, name, currency=currency, known=_known(visit))
    except FaultsError as error:
        return _page(visit, [fault_words(fault, visit.language) for fault in error.faults], 422)
    with writing(visit.bench.engine) as conn:
        sent = keep_offered(conn, book, name)
    return _preview(visit, before, sent)


def _known(visit: Visit) -> dict[str, frozenset[str]]:
    """The part keys of every design there is, the shop's own too."""
    designs = (item.design for item in all_designs(visit.bench))
    return {design.key: frozenset(part.key for part in design.parts) for design in designs}


def _preview(visit: Visit, before: PriceBook, sent: Offered) -> Response:
    found = changes(before, sent.book)
    counted: Counter[str] = Counter(change.what for change in found)
    return visit.page(
        "prices_preview.html",
        sent=sent,
        count=len(found),
        counts=[(visit.say(WORDS[what]), counted[what]) for what in WORDS if counted[what]],
        changes=[_row(visit, sent.book, change) for change in found[:MOST_CHANGES]],
    )


def take_over(visit: Visit) -> Response:
    """Take over the list that was looked at."""
    with writing(visit.bench.engine) as conn:
        sent = offered(conn, visit.field("digest"))
        if sent is None:
            raise Refused(
                409,
                visit.say("This list is not waiting any more."),
                visit.say("Send it again and look at what changes."),
            )
        keep_prices(conn, sent.book, by=visit.person.key, name=sent.name, at=visit.now)
        drop_offered(conn)
    visit.tell(visit.say("The list is taken over. Quotes are made by it from now on."))
    return visit.go("prices")


def _row(visit: Visit, book: PriceBook, change: Change) -> ChangeRow:
    return ChangeRow(
        number=change.number,
        name=change.name,
        what=visit.say(WORDS[change.what]),
        before=_value(visit, book, change, change.before),
        after=_value(visit, book, change, change.after),
    )


def _value(visit: Visit, book: PriceBook, change: Change, value: int | str | None) -> str:
    if change.what in ("new", "gone", "price"):
        amount = value if isinstance(value, int) else None
        empty = value is None and change.what in ("new", "gone")
        return "" if empty else money_words(amount, book.currency, visit.language)
    return "" if value is None else f"{value}"


def _price(visit: Visit, book: PriceBook, line: PriceLine) -> str:
    return "" if line.replaced_by else money_words(line.price, book.currency, visit.language)


def _taken(visit: Visit, kept: KeptList) -> str:
    """Who took the list over, and when."""
    if not kept.number:
        return ""
    with reading(visit.bench.engine) as conn:
        names = {account.key: account.name for account in all_accounts(conn)}
    when = visit.language.moment(datetime.datetime.fromisoformat(kept.at))
    by = names.get(kept.by, kept.by) or visit.say("with the shop file")
    return f"{kept.name}, {when}, {by}"


PAGES = (
    Page(name="prices", path="/prices", show=show, take=take, do="keep gauges"),
    Page(name="take-prices", path="/prices/take", take=take_over, do="keep gauges"),
)
