"""Floats that carry their kind in their type, for the fields of data files.

A design file's field declared as `Length` holds plain SI metres; the type alone tells the
reader of the file which units may stand there. They calculate as floats do.
"""

from __future__ import annotations

from typing import ClassVar

from hoistwright.quantity.dimension import Dimension


class Measure(float):
    """A float in SI units whose class says what it measures."""

    __slots__ = ()
    dimension: ClassVar[Dimension] = Dimension.NUMBER


class Length(Measure):
    """Metres."""

    __slots__ = ()
    dimension = Dimension.LENGTH


class Mass(Measure):
    """Kilograms."""

    __slots__ = ()
    dimension = Dimension.MASS


class Force(Measure):
    """Newtons."""

    __slots__ = ()
    dimension = Dimension.FORCE


class Angle(Measure):
    """Radians."""

    __slots__ = ()
    dimension = Dimension.ANGLE


class Ratio(Measure):
    """A plain ratio: 0.02 is 2 %."""

    __slots__ = ()
    dimension = Dimension.RATIO


class Torque(Measure):
    """Newton metres."""

    __slots__ = ()
    dimension = Dimension.TORQUE


class Stress(Measure):
    """Pascals."""

    __slots__ = ()
    dimension = Dimension.STRESS


class Duration(Measure):
    """Seconds."""

    __slots__ = ()
    dimension = Dimension.TIME


class Temperature(Measure):
    """Kelvins, as a point on the scale."""

    __slots__ = ()
    dimension = Dimension.TEMPERATURE


class TemperatureDifference(Measure):
    """Kelvins, as a difference."""

    __slots__ = ()
    dimension = Dimension.TEMPERATURE_DIFFERENCE
