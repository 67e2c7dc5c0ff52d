"""Standard uncertainties from what is known without repeated readings (type B).

All take half-widths a ≥ 0 (scalar or array) and give u in the same unit; a negative
half-width is a ValueError.
"""

from __future__ import annotations

import math

from hoistwright.metrology.arrays import FloatLike, as_floats


def rectangular(half_width: FloatLike) -> FloatLike:
    """Anything within ±a equally likely: u = a/√3.

    References:
        JCGM 100:2008 (GUM), 4.3.7, from memory.

    >>> rectangular(math.sqrt(3))
    1.0
    """
    return _checked(half_width) / math.sqrt(3)


def triangular(half_width: FloatLike) -> FloatLike:
    """The middle of ±a most likely, as for the sum of two equal rectangles: u = a/√6.

    References:
        JCGM 100:2008 (GUM), 4.3.9, from memory.

    >>> round(triangular(1.0), 4)
    0.4082
    """
    return _checked(half_width) / math.sqrt(6)


def arcsine(half_width: FloatLike) -> FloatLike:
    """A quantity that swings between −a and +a, such as a room's temperature: u = a/√2.

    References:
        JCGM 100:2008 (GUM), H.1.3.4, from memory.

    >>> round(arcsine(0.5), 4)
    0.3536
    """
    return _checked(half_width) / math.sqrt(2)


def normal(expanded: FloatLike, coverage_factor: float = 2.0) -> FloatLike:
    """A certificate's expanded uncertainty U with its coverage factor k: u = U/k.

    References:
        JCGM 100:2008 (GUM), 4.3.3, from memory.

    >>> normal(0.000_03, 2)
    1.5e-05
    """
    if not (math.isfinite(coverage_factor) and coverage_factor > 0):
        raise ValueError(f"the coverage factor is {coverage_factor}; expected a figure above 0")
    return _checked(expanded) / coverage_factor


def _checked(half_width: FloatLike) -> FloatLike:
    if (as_floats(half_width) < 0).any():
        raise ValueError(f"a half-width or uncertainty is {half_width}; expected 0 or more")
    return half_width
