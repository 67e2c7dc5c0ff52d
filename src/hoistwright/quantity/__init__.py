"""Units at the edges: reading what people type, showing what the engines know.

Inside Hoistwright all figures are SI floats; this package is the only door in and out.
It imports neither numpy nor scipy, so that the command line starts at once.
"""

from hoistwright.quantity.dimension import Dimension
from hoistwright.quantity.errors import QuantityError
from hoistwright.quantity.parsing import Quantity, parse
from hoistwright.quantity.showing import convert, in_unit, show, show_interval
from hoistwright.quantity.typed import (
    Angle,
    Duration,
    Force,
    Length,
    Mass,
    Measure,
    Ratio,
    Stress,
    Temperature,
    TemperatureDifference,
    Torque,
)
from hoistwright.quantity.units import Unit, expected_unit, find_unit, si_unit, units_of

__all__ = [
    "Angle", "Dimension", "Duration", "Force", "Length", "Mass", "Measure", "Quantity",
    "QuantityError", "Ratio", "Stress", "Temperature", "TemperatureDifference", "Torque", "Unit",
    "convert", "expected_unit", "find_unit", "in_unit", "parse", "show", "show_interval",
    "si_unit", "units_of",
]  # fmt: skip
