"""What a maker states as new beside a limit is known wherever as-new values are asked for."""

from __future__ import annotations

import datetime
import math

import attrs
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import points
from hoistwright.hoist.as_new import as_new
from hoistwright.hoist.feature import measure
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.hoist.limits import MakerLimit

DAY = datetime.date(2026, 11, 25)


def involute(angle: float) -> float:
    return math.tan(angle) - angle


@pytest.mark.parametrize("key", shipped_keys())
def test_the_span_of_a_layshaft_gear_is_that_of_its_teeth(key: str) -> None:
    """W = m cos(a) ((k - 1/2) pi + z inv a): base tangent length of a spur gear without profile
    shift over k teeth (ISO 21771-1; from memory), 20 degrees, k as the design file says.
    """
    design = shipped(key)
    limit = next(
        x for x in design.maker_limits
        if x.feature == "gear.span" and x.part == "layshaft_gear_left"
    )  # fmt: skip
    over = int(limit.source.split("over ")[1].split()[0])
    train, a = design.gear_train, math.radians(20.0)
    assert train.first_module and train.layshaft_large_teeth
    tangent = (
        float(train.first_module)
        * math.cos(a)
        * ((over - 0.5) * math.pi + train.layshaft_large_teeth * involute(a))
    )
    found = as_new(design, design.part("layshaft_gear_left"), measure("gear.span"))
    assert found is not None
    assert found.value == pytest.approx(tangent, abs=0.006e-3)


@pytest.mark.parametrize("key", shipped_keys())
def test_only_the_clearance_of_the_brake_thread_has_no_as_new_value(key: str) -> None:
    design = shipped(key)
    bases = [shipped_basis("b30-hand-hoists"), shipped_basis("workshop-practice")]
    unknown = {
        point.feature
        for point in points(design, rulings(design, bases, DAY))
        if point.measured and point.rulings and point.baseline is None
    }
    assert unknown == {"drive_shaft.thread_clearance"}


def test_a_value_for_one_part_comes_before_that_of_the_role() -> None:
    design = shipped("ardle-2000")
    role = MakerLimit(
        feature="gear.span", comparison="at least", limit="1 mm", as_new="2 mm", source="here"
    )
    design = attrs.evolve(design, maker_limits=(role, *design.maker_limits))
    found = as_new(design, design.part("load_gear"), measure("gear.span"))
    assert found is not None
    assert found.value == pytest.approx(31.15e-3)
    alone = attrs.evolve(design, maker_limits=(role,))
    found = as_new(alone, alone.part("load_gear"), measure("gear.span"))
    assert found is not None
    assert found.value == pytest.approx(2e-3)
