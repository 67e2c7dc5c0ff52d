"""`hoistwright record`: is the record what was written, and are its tables level with it?"""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from hoistwright.cli.exits import ALL_FIT, NOT_ALL_FIT
from hoistwright.cli.show import console, plain
from hoistwright.cli.stores import store_at, watched, where

if TYPE_CHECKING:
    from hoistwright.store.model import Difference, Head

_MOST = 40
"""Damages told one by one."""


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "act",
        choices=("check", "tables"),
        help="check: hold every entry against its chains, and the tables against the entries; "
        "tables: make the tables again from the entries",
    )
    where(parser)
    parser.add_argument(
        "--noted", metavar="NUMBER:CHAIN", help="where the record stood, from a backup's label"
    )


def run(args: argparse.Namespace) -> int:
    noted = _noted(args.noted) if args.noted else None
    with store_at(args.db) as store:
        if args.act == "tables":
            with watched("Making the tables") as progress:
                store.rebuild(progress=progress)
        with watched("Checking entries") as progress:
            damages = store.verify(noted=noted, progress=progress)
        found = [str(damage) for damage in damages]
        if not damages:
            with watched("Comparing tables") as progress:
                found += [_told(one) for one in store.compare(progress=progress)]
        stands = store.head()
    return _tell(found, stands)


def _tell(found: list[str], stands: Head) -> int:
    out = console()
    for line in _bounded(found):
        out.print(plain(f"- {line}"), soft_wrap=True)
    if found:
        out.print(
            "The record is not what was written. Keep it as it is, restore the last backup beside "
            "it, and find out what happened before anybody goes on."
        )
        return NOT_ALL_FIT
    out.print(plain(f"The record is in order: {stands.number} entries. It stands at"))
    out.print(plain(f"  {stands.number}:{stands.chain}"), soft_wrap=True)
    return ALL_FIT


def _bounded(found: list[str]) -> Iterable[str]:
    yield from found[:_MOST]
    if len(found) > _MOST:
        yield f"and {len(found) - _MOST} more"


def _told(one: Difference) -> str:
    mend = "`hoistwright record tables` makes the tables again"
    return f"table {one.table}, row {one.key}: it is not what the entries give; {mend}"


def _noted(text: str) -> Head:
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.store.model import Head

    found = re.fullmatch(r"(\d{1,18}):([0-9a-f]{64})", text.strip())
    if found is None:
        expected = "a number, a colon and 64 digits of a chain, as `backup` prints them"
        raise FaultsError([Fault(Place(key="--noted"), text[:80], expected)])
    return Head(number=int(found[1]), chain=found[2])
