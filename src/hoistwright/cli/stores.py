"""The record as it is stored: opened where it is, with progress bars for long work."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console

if TYPE_CHECKING:
    from hoistwright.store.model import Progress
    from hoistwright.store.sql_store import SqlStore


def where(parser: argparse.ArgumentParser) -> None:
    """The argument that every verb on a record takes."""
    parser.add_argument(
        "--db", required=True, metavar="WHERE", help="the record: a file, or postgresql://..."
    )


@contextmanager
def store_at(place: str, *, new: bool = False) -> Iterator[SqlStore]:
    """The record at a place; only where `new` it may be one that is not there yet.

    Whatever the record cannot do is told as a fault of the place. Raises FaultsError.
    """
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.store.errors import StoreError
    from hoistwright.store.sql_store import open_store

    named = place.rsplit("@", maxsplit=1)[-1]  # without anybody's password
    if not new and "://" not in place and not Path(place).is_file():
        mend = "Name the file that `hoistwright serve --db` keeps its record in."
        raise FaultsError([Fault(Place(file=place), "no file", "the record of a shop", mend)])
    try:
        store = open_store(place)
        try:
            yield store
        finally:
            store.close()
    except StoreError as error:
        raise FaultsError([Fault(Place(file=named), str(error), "a record in order")]) from None
    except ValueError as error:
        if isinstance(error, FaultsError):
            raise
        raise FaultsError([Fault(Place(file=named), str(error), "a record's place")]) from None


@contextmanager
def watched(what: str) -> Iterator[Progress]:
    """A bar on the terminal for work that tells how far it is; some of it does not know the end."""
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(),
               TimeElapsedColumn())  # fmt: skip
    out = console()
    with Progress(*columns, console=out, transient=True, disable=not out.is_terminal) as bars:
        task = bars.add_task(what, total=None)

        def told(done: int, total: int, /) -> None:
            bars.update(task, completed=done, total=total or None)

        yield told
