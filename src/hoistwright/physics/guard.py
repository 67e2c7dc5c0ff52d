"""Refuse values that no formula here can mean, and say which one and what to do.

The formulas stay vectorised: one guard call checks a whole array. NaN is refused
everywhere, since an unknown value must stay unknown with the caller and never turn into
a figure.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

Num: TypeAlias = ArrayLike
"""What a formula takes: a number or anything that numpy can read as numbers."""

Array: TypeAlias = NDArray[np.float64]
"""What a formula gives: a numpy float for scalars in, an array of the broadcast shape else."""

Truth: TypeAlias = NDArray[np.bool_] | np.bool_
"""What a condition gives: a numpy truth value, or an array of them."""


def finite(value: Num, what: str) -> Array:
    """Give `value` as float array, refusing NaN, infinity and what is no number.

    x such that |x| < infinity.

    Args:
        value: number or array, unit as `what` says.
        what: name and unit of the value, for the message.

    Returns:
        Float array of the same shape.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> finite(2, "throat opening, m")
    array(2.)

    References:
        none (a guard, no formula)
    """
    array = _as_floats(value, what)
    _hold(array, np.isfinite(array), what, "a finite number")
    return array


def positive(value: Num, what: str) -> Array:
    """Give `value` as float array, refusing what is not above zero.

    x > 0.

    Args:
        value: number or array, unit as `what` says.
        what: name and unit of the value, for the message.

    Returns:
        Float array of the same shape.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> positive([1, -2], "wire diameter d, m")
    Traceback (most recent call last):
    ...
    ValueError: wire diameter d, m: given -2.0 at place 2 of 2; expected a number above 0. Measure or enter it again; leave it out if it is unknown.

    References:
        none (a guard, no formula)
    """  # noqa: E501 (the message is shown whole)
    array = _as_floats(value, what)
    _hold(array, np.isfinite(array) & (array > 0), what, "a number above 0")
    return array


def not_negative(value: Num, what: str) -> Array:
    """Give `value` as float array, refusing what is below zero.

    x >= 0.

    Args:
        value: number or array, unit as `what` says.
        what: name and unit of the value, for the message.

    Returns:
        Float array of the same shape.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> not_negative(0, "load, N")
    array(0.)

    References:
        none (a guard, no formula)
    """
    array = _as_floats(value, what)
    _hold(array, np.isfinite(array) & (array >= 0), what, "0 or a number above it")
    return array


def share(value: Num, what: str) -> Array:
    """Give `value` as float array, refusing what is not above 0 and at most 1.

    0 < x <= 1.

    Args:
        value: number or array without unit, such as an efficiency.
        what: name of the value, for the message.

    Returns:
        Float array of the same shape.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> share(0.98, "efficiency of a mesh")
    array(0.98)

    References:
        none (a guard, no formula)
    """
    array = _as_floats(value, what)
    good = np.isfinite(array) & (array > 0) & (array <= 1)
    _hold(array, good, what, "a number above 0 and at most 1")
    return array


def whole(value: Num, what: str, low: int = 1) -> Array:
    """Give a count as float array, refusing fractions and what is below `low`.

    x whole and x >= low.

    Args:
        value: count or array of counts.
        what: name of the count, for the message.
        low: least count that makes sense.

    Returns:
        Float array of the same shape, holding whole numbers.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> whole(5, "pockets", 3)
    array(5.)

    References:
        none (a guard, no formula)
    """
    array = _as_floats(value, what)
    good = np.isfinite(array) & (array >= low) & (array == np.round(array))
    _hold(array, good, what, f"a whole number of at least {low}")
    return array


def angle(value: Num, what: str, low: float, high: float) -> Array:
    """Give an angle as float array, refusing what is outside the open interval.

    low < x < high.

    Args:
        value: angle or array of angles, rad.
        what: name of the angle, for the message.
        low: lower bound, rad, not included.
        high: upper bound, rad, not included.

    Returns:
        Float array of the same shape, rad.

    Raises:
        ValueError: names the value, what was given and what was expected.

    >>> angle(0.35, "pressure angle", 0, 1.5)
    array(0.35)

    References:
        none (a guard, no formula)
    """
    array = _as_floats(value, what)
    good = np.isfinite(array) & (array > low) & (array < high)
    _hold(array, good, what, f"an angle between {low:.4g} and {high:.4g} rad")
    return array


def require(good: Truth, message: str) -> None:
    """Raise `message` unless all of `good` holds (a condition between several values).

    all(good).

    Args:
        good: truth of the condition, any shape.
        message: what was given, what was expected, what to do.

    Raises:
        ValueError: the message.

    >>> import numpy as np
    >>> require(np.asarray([True, True]), "never raised")

    References:
        none (a guard, no formula)
    """
    if not np.all(good):
        raise ValueError(message)


def _as_floats(value: Num, what: str) -> Array:
    try:
        return np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise ValueError(
            f"{what}: given {value!r}; expected a number or an array of numbers."
        ) from None


def _hold(array: Array, good: Truth, what: str, expected: str) -> None:
    if np.all(good):
        return
    flat = array.ravel()
    first = int(np.flatnonzero(~np.atleast_1d(good).ravel())[0])
    where = f" at place {first + 1} of {flat.size}" if flat.size > 1 else ""
    raise ValueError(
        f"{what}: given {flat[first]}{where}; expected {expected}. "
        "Measure or enter it again; leave it out if it is unknown."
    )
