"""Array types, and how long rows are cut so that the work stays in the processor's cache."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Codes: TypeAlias = NDArray[np.int8]
FloatLike: TypeAlias = float | Floats

BLOCK = 16_384  # rows; a dozen float64 work arrays of this length fit a second-level cache


def as_floats(values: Any) -> Floats:
    """The values as float64, copied only where they are something else."""
    return np.asarray(values, dtype=np.float64)


def blocks(rows: int) -> Iterator[slice]:
    """Slices that cover `rows` rows in order.

    >>> [b.stop - b.start for b in blocks(40_000)]
    [16384, 16384, 7232]
    """
    for start in range(0, rows, BLOCK):
        yield slice(start, min(start + BLOCK, rows))
