"""Opening the record of a shop that is there already, to ask it something."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hoistwright.web.bench import Bench


@contextmanager
def record_of(where: str) -> Iterator[Bench]:
    """The bench on a record. Raises FaultsError where there is none at `where`."""
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.web.serving import start_bench

    if "://" not in where and not Path(where).is_file():
        mend = "Name the file that `hoistwright serve --db` keeps its record in."
        raise FaultsError([Fault(Place(file=where), "no file", "the record of a shop", mend)])
    bench = start_bench(where)
    try:
        yield bench
    finally:
        bench.store.close()
