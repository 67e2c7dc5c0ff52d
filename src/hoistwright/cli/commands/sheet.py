"""`hoistwright sheet`: a blank job sheet for a design and its bases."""

from __future__ import annotations

import argparse
import datetime
import os
from pathlib import Path

from hoistwright.cli.show import console, plain
from hoistwright.cli.typed import with_ending

ENDINGS = (".toml", ".csv", ".xlsx", ".pdf")


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument(
        "--basis",
        action="append",
        required=True,
        metavar="BASIS",
        help="a basis to examine by (may be given several times)",
    )
    parser.add_argument(
        "--to",
        action="append",
        required=True,
        metavar="FILE",
        help="a .xlsx, .csv, .toml or .pdf file (may be given several times)",
    )
    parser.add_argument("--shop", help="the shop file, for lists of gauges and people")
    parser.add_argument("--units", choices=("mm", "in"), default="mm")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper of a PDF")
    parser.add_argument(
        "--lang",
        choices=("en", "fr"),
        default="",
        help="language of the sheet; otherwise the shop's",
    )
    parser.add_argument("--job", default="", help="the job number to put on it")


def _from(sheet: Path, name: str) -> str:
    """A design file or basis folder as the sheet will look for it: from its own folder."""
    if not Path(name).exists():
        return name
    return Path(os.path.relpath(name, sheet.resolve().parent)).as_posix()


def run(args: argparse.Namespace) -> int:
    from hoistwright.basis.loading import find_basis
    from hoistwright.hoist.library import find_design
    from hoistwright.job.paper_language import paper_language
    from hoistwright.job.shop_file import load_shop
    from hoistwright.sheet import blank_rows, write_blank

    shop = load_shop(Path(args.shop)) if args.shop else None
    lang = paper_language(None, shop, args.lang)
    design, bases = find_design(args.design), [find_basis(name) for name in args.basis]
    for name in args.to:
        path = with_ending(name, ENDINGS)
        blank = blank_rows(
            design,
            bases,
            datetime.date.today(),
            units=args.units,
            lang=lang,
            job=args.job,
            design=_from(path, args.design),
            work__bases="; ".join(_from(path, name) for name in args.basis),
        )
        if path.suffix.lower() == ".pdf":
            from hoistwright.certificate.write import write_blank_sheet

            write_blank_sheet(path, blank, paper=args.paper)
        else:
            write_blank(path, blank, shop=shop)
        measured = sum(row.measured for row in blank.rows)
        looks = len(blank.rows) - measured
        console().print(plain(f"{name}: {measured} places to measure, {looks} to look at"))
    return 0
