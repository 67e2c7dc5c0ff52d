"""The kinds of quantity that a hoist examination deals in."""

from __future__ import annotations

from enum import Enum


class Dimension(Enum):
    """What a figure measures. The value is the word that is shown to people."""

    LENGTH = "length"
    MASS = "mass"
    FORCE = "force"
    ANGLE = "angle"
    RATIO = "ratio"
    TORQUE = "torque"
    STRESS = "stress"
    TIME = "time"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    COUNT = "count"
    NUMBER = "number"

    @property
    def dimensionless(self) -> bool:
        """True where a bare figure says all, so that no unit is asked for."""
        return self in (Dimension.RATIO, Dimension.COUNT, Dimension.NUMBER)
