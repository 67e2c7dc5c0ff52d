"""`hoistwright examine`: job sheets in, verdicts and reports out."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.exits import ALL_FIT, BAD_INPUT, NOT_ALL_FIT
from hoistwright.cli.typed import latest_day

if TYPE_CHECKING:
    from hoistwright.examine.result import Examination
    from hoistwright.faults import FaultsError
    from hoistwright.job.job_sheet import JobSheet
    from hoistwright.job.shop import Shop


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "sheets", nargs="+", metavar="SHEET", help="a .toml, .csv or .xlsx job sheet"
    )
    parser.add_argument("--shop", required=True, help="the shop file: people, gauges, test weights")
    parser.add_argument("--out", metavar="FOLDER", help="write the PDF report of each sheet there")
    parser.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="paper of the reports"
    )
    parser.add_argument(
        "--lang",
        choices=("en", "fr"),
        default="",
        help="language of the reports; otherwise the customer's, else the shop's",
    )
    parser.add_argument(
        "--units", choices=("mm", "in"), help="show in these units, not the sheet's"
    )
    parser.add_argument("--all", action="store_true", help="list what is fit as well")
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    from hoistwright.faults import FaultsError
    from hoistwright.job.shop_file import load_shop

    shop = load_shop(Path(args.shop))
    done: list[tuple[JobSheet, Examination, str]] = []
    faulty = False
    for name in args.sheets:
        try:
            done.append(_one(Path(name), shop, args))
        except FaultsError as error:  # the other sheets are still examined
            faulty = True
            _faults(name, error)
    if args.json:
        from hoistwright.certificate.record import examination_record

        print(json.dumps([examination_record(e, s) for s, e, _ in done], indent=2))
    if faulty:
        return BAD_INPUT
    fit = all(e.outcome.words == "fit" and e.adopted for _, e, _ in done)
    return ALL_FIT if fit else NOT_ALL_FIT


def _one(path: Path, shop: Shop, args: argparse.Namespace) -> tuple[JobSheet, Examination, str]:
    from hoistwright.cli.verdict_table import show_examination
    from hoistwright.sheet import read_sheet
    from hoistwright.sheet.examine_sheet import examine_sheet

    sheet = read_sheet(path, shop=shop, today=latest_day(shop))
    examination = examine_sheet(sheet, shop)
    report = _report(sheet, examination, shop, args) if args.out else ""
    if not args.json:
        show_examination(examination, sheet, units=args.units or sheet.units, everything=args.all)
        if report:
            print(f"Report: {report}\n")
    return sheet, examination, report


def _report(sheet: JobSheet, examination: Examination, shop: Shop, args: argparse.Namespace) -> str:
    from hoistwright.certificate.write import write_report

    folder = Path(args.out)
    written = write_report(folder, examination, sheet, shop, paper=args.paper, lang=args.lang)
    return str(written)


def _faults(name: str, error: FaultsError) -> None:
    print(f"{name}: {len(error.faults)} fault(s); this sheet was not examined:", file=sys.stderr)
    for fault in error.faults:
        print(f"  {fault}", file=sys.stderr)
