"""`hoistwright returns`: which hoists are due back, when and why."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli import typed
from hoistwright.cli.record import record_of
from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hoistwright.fleet.calendar import DayEvent
    from hoistwright.fleet.due import Due


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--db", required=True, metavar="WHERE",
                        help="the record: a file, or postgresql://...")  # fmt: skip
    parser.add_argument("--weeks", type=int, default=13, help="how far ahead; 0: all")
    parser.add_argument("--customer", default="", help="only this customer's, by the whole name")
    parser.add_argument("--csv", metavar="FILE", help="write a table")
    parser.add_argument("--ics", metavar="FILE", help="write a calendar")


def run(args: argparse.Namespace) -> int:
    from hoistwright.fleet.returns import of_customer, returns, until
    from hoistwright.web.whole_fleet import whole_fleet

    calendar = typed.with_ending(args.ics, (".ics", ".ical")) if args.ics else None
    with record_of(args.db) as bench:
        today, found = bench.today, returns(whole_fleet(bench))
        name = bench.shop_name
    due = of_customer(found.due, args.customer) if args.customer else found.due
    if args.weeks > 0:
        due = until(due, today + datetime.timedelta(weeks=args.weeks))
    _show(due, today)
    if args.csv:
        _csv(Path(args.csv), due, today)
    if calendar:
        _calendar(calendar, due, name)
    return 0


def _show(due: Sequence[Due], today: datetime.date) -> None:
    rows = [
        (
            _when(item, today),
            plain(_hoist(item)),
            plain(item.last.customer.name),
            item.reason,
            plain(item.why),
        )
        for item in due
    ]
    console().print(table("Returns", ("due by", "hoist", "customer", "reason", "why"), rows))


def _when(item: Due, today: datetime.date) -> str:
    if item.overdue(today):
        return f"{item.paper} overdue"
    return f"now (paper: {item.paper})" if item.wear_now(today) else str(item.day)


def _hoist(item: Due) -> str:
    one = item.last.identity
    return " ".join(word for word in (one.maker, one.model, one.serial, one.tag) if word)


def _csv(path: Path, due: Sequence[Due], today: datetime.date) -> None:
    from hoistwright.certificate.write import write_whole
    from hoistwright.fleet.csv_text import csv_text
    from hoistwright.fleet.returns import CSV_HEADS, csv_rows

    write_whole(path, csv_text(CSV_HEADS, csv_rows(due, today)).encode("utf-8-sig"))
    console().print(plain(f"Table: {path}"))


def _calendar(path: Path, due: Sequence[Due], name: str) -> None:
    from hoistwright.certificate.write import write_whole
    from hoistwright.fleet.calendar import calendar_text

    now = datetime.datetime.now(datetime.UTC)
    write_whole(path, calendar_text([_event(item) for item in due], now, name).encode())
    console().print(plain(f"Calendar: {path}"))


def _event(item: Due) -> DayEvent:
    from hoistwright.fleet.calendar import DayEvent

    return DayEvent(
        key=item.hoist,
        day=item.day,
        summary=f"{_hoist(item)} due ({item.last.customer.name})",
        description=item.why,
        location=item.last.customer.premises or item.last.customer.address,
        category=item.reason,
    )
