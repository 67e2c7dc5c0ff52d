"""`hoistwright prices`: check a price list before it is taken over."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.renew.prices import PriceBook

NOT_ALL_PRICED = 1


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=("check",), metavar="check", help="what to do: check")
    parser.add_argument("file", metavar="FILE", help="a price list ending in .csv or .xlsx")
    parser.add_argument("--currency", default="", help="the currency it must be in, such as GBP")
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    from hoistwright.pricing.known import shipped_parts
    from hoistwright.pricing.read import read_prices

    book = read_prices(Path(args.file), currency=args.currency.upper(), known=shipped_parts())
    designs = _designs(book)
    if args.json:
        print(json.dumps({"currency": book.currency, "lines": len(book.lines),
                          "without_price": designs}, indent=2))  # fmt: skip
    else:
        _show(book, designs)
    return NOT_ALL_PRICED if any(designs.values()) else 0


def _designs(book: PriceBook) -> dict[str, list[str]]:
    """Parts without a price, of each design that the list says anything about."""
    from hoistwright.hoist.library import shipped, shipped_keys
    from hoistwright.pricing.known import without_price

    named = {design for design, _ in book.fits}
    return {k: list(without_price(book, shipped(k))) for k in shipped_keys() if k in named}


def _show(book: PriceBook, designs: dict[str, list[str]]) -> None:
    out = console()
    out.print(f"{len(book.lines)} lines, in {book.currency}; nothing is wrong with the list.")
    if not designs:
        out.print("It says of no shipped design which number fits: see the column fits.")
        return
    rows = [(key, str(len(parts)), plain(", ".join(parts[:8]))) for key, parts in designs.items()]
    out.print(table("Parts without a price", ("design", "parts", "which"), rows))
