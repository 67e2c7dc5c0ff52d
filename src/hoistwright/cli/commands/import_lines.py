"""`hoistwright import`: an exported record, with its hashes as they are."""

from __future__ import annotations

import argparse
from pathlib import Path

from hoistwright.cli.show import console, plain
from hoistwright.cli.stores import store_at, watched, where


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", help="what `hoistwright export --to x.jsonl` wrote")
    where(parser)


def run(args: argparse.Namespace) -> int:
    from hoistwright.store.lines import import_lines

    path = Path(args.file)
    with store_at(args.db, new=True) as store:
        with watched("Entering") as progress:
            count = import_lines(store, path, progress=progress)
        stands = store.head()
    console().print(plain(f"{count} entries were new. The record now stands at {stands.number}."))
    return 0
