"""A figure that cannot be true is asked back also where only a limit is known.

A third and three times: a slip of the decimal mark is a factor of ten, inches for millimetres are
25.4; wear stays far inside (own rule).
"""

from __future__ import annotations

import attrs
import pytest

from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import Point, points
from hoistwright.faults import Fault, Place
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.sheet.figures import Typing, figures_of
from hoistwright.sheet.raw import Cell, RawRow


def without_as_new() -> Design:
    """The Ardle 2000 as a technician's own file would be: limits, and nothing as new."""
    design = shipped("ardle-2000")
    limits = tuple(attrs.evolve(limit, as_new="") for limit in design.maker_limits)
    return attrs.evolve(design, maker_limits=limits)


def point_of(design: Design, feature: str) -> Point:
    import datetime

    found = points(design, rulings(design, [], datetime.date(2026, 11, 25)))
    return next(p for p in found if p.feature == feature)


def faults(feature: str, typed: str) -> list[Fault]:
    design, told = without_as_new(), list[Fault]()
    row = RawRow(place=Place(), kind="reading", cells={}, values=(Cell(typed, Place()),))
    point = point_of(design, feature)
    assert point.baseline is None
    figures_of(row, point, None, design, Typing("mm", None, False), told)
    return told


@pytest.mark.parametrize("typed", ["1", "3.46", "346", "1.36"])
def test_a_span_far_from_its_limit_is_asked_back(typed: str) -> None:
    """The layshaft gear is renewed at 34.33 mm: 1.36 is 34.5 mm in inches."""
    [fault] = faults("gear.span", typed)
    assert "34.33 mm" in fault.expected


@pytest.mark.parametrize("typed", ["34.6", "34.33", "30", "1!", "34.6 mm"])
def test_what_can_be_is_taken_and_so_is_what_was_measured_again(typed: str) -> None:
    assert faults("gear.span", typed) == []


def test_a_clearance_grows_from_nothing() -> None:
    """Renewed at 0.4 mm: 0.02 can be, 4 cannot."""
    assert faults("drive_shaft.thread_clearance", "0.02") == []
    [fault] = faults("drive_shaft.thread_clearance", "4")
    assert "at most three times the limit 0.4 mm" in fault.expected
