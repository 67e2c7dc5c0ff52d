"""`hoistwright bases`: the bases there are, and what one of them says."""

from __future__ import annotations

import argparse
import datetime
import json
from typing import TYPE_CHECKING

from hoistwright.cli import typed
from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.basis.model import Basis, Criterion, DatedLimit

KNOWN = {"read": "text read", "memory": "from memory", "practice": "common practice"}


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("basis", nargs="?", help="show the criteria of this basis (key or folder)")
    parser.add_argument("--on", type=typed.day, metavar="DATE", help="as in force on this day")
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    from hoistwright.basis.loading import find_basis, shipped_bases, shipped_basis

    day = args.on or datetime.date.today()
    if args.basis:
        basis = find_basis(args.basis)
        print(json.dumps(_record(basis, day), indent=2)) if args.json else _show(basis, day)
        return 0
    bases = [shipped_basis(key) for key in shipped_bases()]
    if args.json:
        print(json.dumps([_record(basis, day) for basis in bases], indent=2))
        return 0
    rows = [
        (b.key, b.head.title, b.head.jurisdiction or "-", str(len(b.criteria)), b.digest[:12])
        for b in bases
    ]
    heads = ("key", "title", "where", "criteria", "digest")
    console().print(table("Bases", heads, rows))
    console().print(
        "Our figures must be compared with your own copy of each source before a basis is adopted."
    )
    return 0


def _in_force(basis: Basis, day: datetime.date) -> list[tuple[Criterion, DatedLimit]]:
    from hoistwright.basis.model import limit_on

    pairs = [(criterion, limit_on(criterion, day)) for criterion in basis.criteria]
    return [(criterion, limit) for criterion, limit in pairs if limit is not None]


def _show(basis: Basis, day: datetime.date) -> None:
    rows = [
        (
            criterion.title,
            criterion.feature,
            f"{criterion.comparison} {limit.value}".strip(),
            f"{limit.clause}, {limit.edition}".strip(", "),
            KNOWN[limit.known],
            "" if criterion.use == "decides" else "number check only, judges no hoist",
        )
        for criterion, limit in _in_force(basis, day)
    ]
    heads = ("criterion", "feature", "limit", "clause, edition", "known", "note")
    console().print(table(plain(f"{basis.head.title}, in force on {day}"), heads, rows))
    if basis.head.note:
        console().print(plain(basis.head.note))
    console().print(f"Digest {basis.digest}")


def _record(basis: Basis, day: datetime.date) -> dict[str, object]:
    return {
        "key": basis.key,
        "title": basis.head.title,
        "digest": basis.digest,
        "on": day.isoformat(),
        "criteria": [
            {
                "id": criterion.id,
                "title": criterion.title,
                "feature": criterion.feature,
                "comparison": criterion.comparison,
                "limit": limit.value,
                "source": limit.source,
                "clause": limit.clause,
                "edition": limit.edition,
                "known": limit.known,
                "use": criterion.use,
            }
            for criterion, limit in _in_force(basis, day)
        ],
    }
