"""`hoistwright backup`: a copy of the record, taken while people work on, and verified."""

from __future__ import annotations

import argparse
from pathlib import Path

from hoistwright.cli.show import console, plain
from hoistwright.cli.stores import store_at, watched, where


def arguments(parser: argparse.ArgumentParser) -> None:
    where(parser)
    parser.add_argument("--to", required=True, metavar="FILE", help="where the copy goes")


def run(args: argparse.Namespace) -> int:
    from hoistwright.store.backup import backup

    path = Path(args.to)
    with store_at(args.db) as store, watched("Copying") as progress:
        stands = backup(store, path, progress=progress)
        whole = store.engine.dialect.name == "sqlite"
    out = console()
    out.print(plain(f"{path} holds the record up to entry {stands.number}, and was verified."))
    out.print("Write this line on its label, away from the machine; it proves the copy later:")
    out.print(plain(f"  {stands.number}:{stands.chain}"), soft_wrap=True)
    if not whole:
        out.print(
            "Accounts, gauges, adoptions and price lists are not in it: copy those with the "
            "means of your PostgreSQL server."
        )
    return 0
