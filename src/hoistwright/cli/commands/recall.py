"""`hoistwright recall`: hoists with a batch or number, or judged with a gauge found wrong."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli import typed
from hoistwright.cli.exits import NOT_ALL_FIT
from hoistwright.cli.record import record_of
from hoistwright.cli.show import console, plain, table, worded

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from hoistwright.fleet.recall import Doubted, Fitted
    from hoistwright.web.bench import Bench
    from hoistwright.web.gauge_recalls import Touched


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--db", required=True, metavar="WHERE",
                        help="the record: a file, or postgresql://...")  # fmt: skip
    parser.add_argument("--trace", default="", help="a batch, heat, number or part certificate")
    parser.add_argument("--part", default="", help="only this part, by its key")
    parser.add_argument("--gauge", default="", help="key of a gauge found wrong")
    parser.add_argument("--since", type=typed.day, metavar="DATE", help="its last good check")
    parser.add_argument("--until", type=typed.day, metavar="DATE", help="without: today")
    parser.add_argument("--error", default="", metavar="FIGURE",
                        help='how much it read too much, such as "0.2 mm"')  # fmt: skip
    parser.add_argument("--give-or-take", default="", metavar="FIGURE",
                        help="its uncertainty U as found, k = 2")  # fmt: skip
    parser.add_argument("--csv", metavar="FILE", help="write a table")


def run(args: argparse.Namespace) -> int:
    from hoistwright.faults import Fault, FaultsError, Place

    if bool(args.trace) == bool(args.gauge):
        read = "both" if args.trace else "neither"
        raise FaultsError([Fault(Place(), read, "--trace or --gauge, one of the two")])
    with record_of(args.db) as bench:
        return _batch(bench, args) if args.trace else _gauge(bench, args)


def _batch(bench: Bench, args: argparse.Namespace) -> int:
    from hoistwright.fleet.recall import FITTED_HEADS, fitted_row, fitted_with
    from hoistwright.web.whole_fleet import whole_fleet

    visits = [v for many in whole_fleet(bench).visits.values() for v in many]
    found = fitted_with(visits, args.trace, args.part)
    rows = [_fitted_line(item) for item in found]
    heads = ("part", "trace", "fitted in", "on", "still in", "hoist", "customer")
    console().print(table("Parts fitted here", heads, rows))
    _csv(args.csv, FITTED_HEADS, [fitted_row(item) for item in found])
    return 0


def _fitted_line(item: Fitted) -> Sequence[str]:
    one = item.last.identity
    return (
        plain(item.part), plain(item.trace), plain(item.visit.job), str(item.visit.day),
        "yes" if item.still_in else plain(f"no, renewed in {item.replaced_in}"),
        plain(f"{one.model} {one.serial}"), plain(item.last.customer.name),
    )  # fmt: skip


def _gauge(bench: Bench, args: argparse.Namespace) -> int:
    from hoistwright.web.gauge_recalls import CSV_HEADS, csv_rows, touched_by

    found = touched_by(bench, _doubted(bench, args))
    rows = [line for item in found for line in _lines(item)]
    heads = ("job", "day", "hoist", "customer", "what", "was", "would be")
    console().print(table("Jobs that leaned on it", heads, rows))
    _csv(args.csv, CSV_HEADS, csv_rows(found))
    return NOT_ALL_FIT if any(item.worse for item in found) else 0


def _lines(item: Touched) -> Iterable[Sequence[str]]:
    one = item.visit.identity
    head = (
        plain(item.visit.job), str(item.visit.day), plain(f"{one.model} {one.serial}"),
        plain(item.visit.customer.name),
    )  # fmt: skip
    for pair in item.changed:
        yield (*head, plain(pair.before.title), worded(pair.before.outcome),
               worded(pair.after.outcome))  # fmt: skip
    if not item.changed:
        yield (*head, plain(item.trouble or f"{len(item.pairs)} verdicts, none changes"), "", "")
    if item.proof:
        yield (*head, "proof test: judge it again by hand", "", "")


def _doubted(bench: Bench, args: argparse.Namespace) -> Doubted:
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.fleet.recall import Doubted
    from hoistwright.quantity import QuantityError, parse
    from hoistwright.store.connect import reading
    from hoistwright.web.records.shop_records import shop_of

    with reading(bench.engine) as conn:
        gauges = {gauge.key: gauge for gauge in shop_of(conn).all_gauges()}
    gauge = gauges.get(args.gauge)
    if gauge is None:
        raise FaultsError([Fault(Place(), args.gauge, f"a gauge of the shop: {', '.join(gauges)}")])
    if args.since is None:
        raise FaultsError([Fault(Place(), "no --since", "the day of its last good check")])
    try:
        error = parse(args.error, gauge.measures).si if args.error else 0.0
        spread = parse(args.give_or_take, gauge.measures).si / 2 if args.give_or_take else None
    except QuantityError as problem:
        raise FaultsError([Fault(Place(), problem.read, problem.expected, problem.mend)]) from None
    return Doubted(gauge=gauge.key, since=args.since, until=args.until or bench.today,
                   error=error, u=spread)  # fmt: skip


def _csv(name: str | None, heads: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    from hoistwright.certificate.write import write_whole
    from hoistwright.fleet.csv_text import csv_text

    if name:
        write_whole(Path(name), csv_text(heads, rows).encode("utf-8-sig"))
        console().print(plain(f"Table: {name}"))
