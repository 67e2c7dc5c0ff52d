"""Figures as the person wants them: their units, their decimal mark."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from hoistwright.language import Language
from hoistwright.quantity import Dimension, show

Units = Literal["mm", "in"]
INCH: Mapping[str, str] = {
    "mm": "in", "m": "ft", "kg": "lb", "t": "short ton", "N": "lbf", "kN": "lbf",
    "N m": "lbf ft", "MPa": "ksi",
}  # fmt: skip
"""The inch-and-pound unit shown in place of a metric one."""


def shown(
    si: float | None, dimension: Dimension, unit: str, units: Units, language: Language
) -> str:
    """An SI figure in `unit`, or in what stands for it in inches and pounds."""
    if si is None:
        return language.say("not known")
    wanted = INCH.get(unit, unit) if units == "in" else unit
    return show(si, dimension, wanted, decimal=language.decimal)


def shown_load(kilograms: float | None, units: Units, language: Language) -> str:
    """A rated load: tonnes from 1 t on, as data plates have it; pounds for inch people."""
    unit = "t" if kilograms is not None and kilograms >= 1000 and units == "mm" else "kg"
    return shown(kilograms, Dimension.MASS, unit, units, language)
