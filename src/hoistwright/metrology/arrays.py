"""Array types, and how long rows are cut so that the work stays in the processor's cache."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Codes: TypeAlias = NDArray[np.int8]
FloatLike: TypeAlias = float | Floats

BLOCK = 32_768  # rows; the work arrays of a block stay in the processor's cache
THREADED_FROM = 4 * BLOCK  # below this, starting threads costs more than it saves


def as_floats(values: Any) -> Floats:
    """The values as float64, copied only where they are something else."""
    return np.asarray(values, dtype=np.float64)


def rows_where(mask: NDArray[np.bool_]) -> Any:
    """An index of the rows where `mask` is true; by number, which is quicker than by mask."""
    return np.nonzero(mask) if mask.ndim else mask


def blocks(rows: int) -> Iterator[slice]:
    """Slices that cover `rows` rows in order.

    >>> [b.stop - b.start for b in blocks(70_000)]
    [32768, 32768, 4464]
    """
    for start in range(0, rows, BLOCK):
        yield slice(start, min(start + BLOCK, rows))


def for_blocks(rows: int, work: Callable[[slice], None]) -> None:
    """Do `work` on every block; many rows are shared among the processor's cores.

    numpy and scipy let go of the interpreter inside their loops, and every block writes only
    to its own rows: the result is the same, bit for bit, on one core or on many.
    """
    if rows < THREADED_FROM:
        for block in blocks(rows):
            work(block)
        return
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(max_workers=os.cpu_count()) as pool:
        for _ in pool.map(work, blocks(rows)):  # taking each result raises what went wrong
            pass
