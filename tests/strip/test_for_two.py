"""A plan for two people: order, times and hold points say the same."""

from __future__ import annotations

import itertools

import pytest

from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.strip.for_two import rebuild_for_two, strip_for_two
from hoistwright.strip.plan import StripPlan, full_strip, strip_to
from hoistwright.strip.rebuild import RebuildPlan, rebuild

DESIGNS = shipped_keys()


def _both(key: str) -> tuple[StripPlan, RebuildPlan]:
    design = shipped(key)
    plan = full_strip(design)
    return strip_for_two(plan), rebuild_for_two(rebuild(design, plan))


@pytest.mark.parametrize("key", DESIGNS)
def test_the_printed_order_is_that_of_the_clock(key: str) -> None:
    for plan in _both(key):
        assert [step.number for step in plan.steps] == list(range(1, len(plan.steps) + 1))
        starts = [step.start for step in plan.steps]
        assert starts == sorted(starts)
        assert not any(step.turn for step in plan.steps) and plan.turns == 0
        for person in (1, 2):
            own = [step for step in plan.steps if step.person == person]
            assert all(one.end <= other.start for one, other in itertools.pairwise(own))


@pytest.mark.parametrize("key", DESIGNS)
def test_nothing_begins_before_what_it_waits_for(key: str) -> None:
    """The take-apart file says what waits for what; followed here without the planner."""
    strip, back = _both(key)
    needs = {step.key: step for step in shipped(key).take_apart}
    for plan, way in ((strip, 1), (back, -1)):
        at = {step.key: step for step in plan.steps}
        for name, step in at.items():
            for before in needs[name].after:
                first, then = (at[before], step) if way > 0 else (step, at[before])
                assert first.end <= then.start and first.number < then.number


@pytest.mark.parametrize("key", DESIGNS)
def test_a_hold_point_holds_all_that_needs_its_step_off_again(key: str) -> None:
    """What had to be off before the step could be done cannot go back before it is signed."""
    _, back = _both(key)
    steps = {step.key: step for step in back.steps}
    needs = {step.key: step.after for step in shipped(key).take_apart}
    for point in back.hold_points:
        assert steps[point.step].number == point.number
        assert {name for name in needs[point.step] if name in steps} <= set(point.holds)
        for held in point.holds:
            assert steps[held].start >= steps[point.step].end


@pytest.mark.parametrize("key", DESIGNS)
def test_the_first_load_comes_last(key: str) -> None:
    """No load before everything is back and checked (common practice)."""
    design = shipped(key)
    back = rebuild(design, strip_to(design, ["load_chain"]))
    for plan in (back, rebuild_for_two(back)):
        last = plan.steps[-1]
        assert plan.first_load == last.number
        assert all(step.end <= last.start for step in plan.steps[:-1])


def test_the_plan_for_two_has_the_same_steps() -> None:
    plan = full_strip(shipped("ardle-10000"))
    two = strip_for_two(plan)
    assert {step.key for step in two.steps} == {step.key for step in plan.steps}
    assert (two.seconds, two.one_use, plan.people, two.people) == (plan.seconds, plan.one_use, 1, 2)


@pytest.mark.parametrize("key", DESIGNS)
def test_seats_are_looked_at_before_the_brake_hides_them(key: str) -> None:
    """The look at seats and threads is worth nothing once hub and discs are on."""
    design = shipped(key)
    plain = rebuild(design, full_strip(design))
    for plan in (plain, rebuild_for_two(plain)):
        number = {step.key: step.number for step in plan.steps}
        first_of_brake = min(number[name] for name in ("hub_off", "inner_disc_off", "brake_opened"))
        assert number["wheel_side_bare"] < first_of_brake


@pytest.mark.parametrize("key", DESIGNS)
def test_two_people_never_work_on_one_part_at_once(key: str) -> None:
    """While one presses a bearing into a plate the other cannot fit pawls to it."""
    parts = {step.key: {*step.frees, *step.worked_on} for step in shipped(key).take_apart}
    for plan in _both(key):
        times = [(step.key, step.start, step.end) for step in plan.steps]
        for (one, start, end), (other, begins, ends) in itertools.combinations(times, 2):
            if start < ends and begins < end:
                assert not parts[one] & parts[other], (one, other)
