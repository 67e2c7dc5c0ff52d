"""`hoistwright check`: every figure a design file allows, and what cannot be right in it."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from hoistwright.cli.exits import ALL_FIT, NOT_ALL_FIT
from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.check.model import DesignCheck, Figure

SEVERITY = {
    "wrong": "[bold red]✗ wrong[/]",
    "doubtful": "[yellow]! doubtful[/]",
}


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "designs", nargs="+", metavar="DESIGN", help="a design's key, or a design file"
    )
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    from hoistwright.check.check import check_design
    from hoistwright.faults import FaultsError
    from hoistwright.hoist.library import find_design
    from hoistwright.strip.graph_faults import take_apart_faults

    designs = [find_design(name) for name in args.designs]
    faults = [  # a partial design has no take-apart graph yet
        fault
        for design in designs
        if design.take_apart
        for fault in take_apart_faults(design, file=f"{design.key}.toml")
    ]
    if faults:
        raise FaultsError(faults)
    checks = [check_design(design) for design in designs]
    if args.json:
        print(json.dumps([_record(check) for check in checks], indent=2))
    else:
        for check in checks:
            _show(check)
    return NOT_ALL_FIT if any(check.cannot_be_right for check in checks) else ALL_FIT


def _show(check: DesignCheck) -> None:
    rows = [
        (plain(f.name), f.text, f.limit_text, _reserve(f), plain(f.how), plain(f.source))
        for f in check.figures
    ]
    heads = ("figure", "value", "limit", "reserve", "how derived", "source")
    console().print(table(plain(check.design), heads, rows))
    for note in dict.fromkeys(f.note for f in check.figures if f.note and f.keeps_limit is False):
        console().print(f"[bold]![/] {plain(note)}")
    for remark in (*check.of("wrong"), *check.of("doubtful")):
        console().print(
            f"{SEVERITY[remark.severity]} {plain(remark.key)}: read {plain(remark.read)}; expected "
            f"{plain(remark.expected)} {plain(remark.mend)}"
        )
    if check.of("unknown"):
        _show_unknown(check)
    elif not check.remarks:
        console().print("Nothing in it contradicts anything else.")
    console().print()


def _show_unknown(check: DesignCheck) -> None:
    """What cannot be derived yet, then once for each missing key how to find it."""
    from hoistwright.check.how_to_find import how_to_find

    rows = [(plain(r.expected), plain(", ".join(r.missing))) for r in check.of("unknown")]
    console().print(table("Not known yet", ("figure", "waits for"), rows))
    found = [(plain(key), plain(how_to_find((key,)))) for key in check.missing]
    heads = ("key of the design file", "count it, measure it, or ask")
    console().print(table("How to find it, the most waited-for first", heads, found))


def _reserve(figure: Figure) -> str:
    return "" if figure.reserve is None else f"{figure.reserve:.2f}"


def _record(check: DesignCheck) -> dict[str, object]:
    return {
        "design": check.design,
        "cannot_be_right": check.cannot_be_right,
        "figures": [
            {
                "key": f.key,
                "name": f.name,
                "value_si": f.value,
                "shown": f.text,
                "limit": f.limit_text,
                "reserve": f.reserve,
                "how": f.how,
                "source": f.source,
            }
            for f in check.figures
        ],
        "remarks": [
            {
                "severity": r.severity,
                "key": r.key,
                "read": r.read,
                "expected": r.expected,
                "mend": r.mend,
                "missing": list(r.missing),
            }
            for r in check.remarks
        ],
    }
