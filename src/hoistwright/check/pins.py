"""Pins: shear, bending and bearing pressure at rated load."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import derive, stated_in
from hoistwright.check.model import Finding
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import Pin
from hoistwright.physics import pins
from hoistwright.quantity import Dimension

_ROARK = "beam on two supports; Shigley, ch. 3, from memory"


def pin_findings(design: Design) -> Iterator[Finding]:
    """Stresses of every pin that the design lists."""
    for pin in design.pins:
        yield from _pin(design, pin)


def _pin(design: Design, pin: Pin) -> Iterator[Finding]:
    share = stated_in(pin, "pins", "load_share")
    force = derive(lambda W, part: W * part, mechanism.weight(design), share)
    diameter = stated_in(pin, "pins", "diameter")
    width = stated_in(pin, "pins", "load_width")
    name = _called(design, pin)
    shear = derive(pins.shear_stress, force, diameter)
    yield from findings(_shear_row(pin, name), shear, _permitted(pin))
    bending = derive(_bending, force, diameter, width, stated_in(pin, "pins", "span"))
    yield from findings(_bending_row(pin, name), bending)
    yield from findings(
        _bearing_row(pin, name), derive(pins.bearing_pressure, force, diameter, width)
    )


def _bending(force: float, d: float, middle: float, span: float) -> float:
    """The supports' half widths and the gaps together are what the span leaves."""
    if span <= middle:
        raise ValueError(
            f"pin span: given {span * 1e3:g} mm; expected more than the loaded width of "
            f"{middle * 1e3:g} mm"
        )
    return float(pins.bending_stress(force, d, middle, span - middle))


def _permitted(pin: Pin) -> Bound:
    return Bound(
        sense="at most",
        fact=stated_in(pin, "pins", "shear_strength"),
        source="permitted stress as stated in the design",
        key=f"pins[{pin.part}].diameter",
        mend="Check diameter and load share of the pin.",
    )


def _called(design: Design, pin: Pin) -> str:
    return next((part.name for part in design.parts if part.key == pin.part), pin.part)


def _shear_row(pin: Pin, name: str) -> Row:
    return _row(pin, "shear", f"{name}, shear stress", "load / (2 · pi d² / 4)", "double shear")


def _bending_row(pin: Pin, name: str) -> Row:
    how = "32 M / (pi d³), M = (load / 2) (span / 2 - loaded width / 4)"
    return _row(pin, "bending", f"{name}, bending stress", how, _ROARK)


def _bearing_row(pin: Pin, name: str) -> Row:
    how = "load / (d · loaded width)"
    return _row(pin, "bearing", f"{name}, bearing pressure", how, "projected area")


def _row(pin: Pin, kind: str, name: str, how: str, source: str) -> Row:
    return Row(
        key=f"{pin.part}_{kind}",
        name=name,
        dimension=Dimension.STRESS,
        unit="MPa",
        how=how,
        source=source,
    )
