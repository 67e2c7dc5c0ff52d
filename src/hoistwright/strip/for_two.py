"""A plan put into the order in which two people do it: times, order and hold points agree."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import attrs

from hoistwright.strip.plan import StripPlan, StripStep
from hoistwright.strip.rebuild import RebuildPlan, RebuildStep

_AnyStep = TypeVar("_AnyStep", StripStep, RebuildStep)


def strip_for_two(plan: StripPlan) -> StripPlan:
    """The same steps in the order in which two people begin them.

    A plan for one keeps the turns of the hoist few; for two it stands upright with both sides
    open and is not turned. Nobody begins a step before all that it waits for is done, and the
    two are never on the same side at once (`two_people.schedule`).

    Args:
        plan: a plan for one.

    Returns:
        The plan with `people` 2: steps numbered anew, starts never falling, no turns.

    References:
        As `two_people.schedule`.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.strip.plan import full_strip
    >>> plan = strip_for_two(full_strip(shipped("ardle-2000")))
    >>> plan.people, {step.person for step in plan.steps} == {1, 2}
    (2, True)
    """
    steps = _by_start(plan.steps)
    return attrs.evolve(plan, steps=steps, people=2, turns=0)


def rebuild_for_two(plan: RebuildPlan) -> RebuildPlan:
    """The same for a rebuild; its hold points name the steps that wait for them.

    Args:
        plan: a rebuild plan for one.

    Returns:
        The plan with `people` 2; hold points and the step with the first load renumbered.

    References:
        As `strip_for_two`.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.strip.plan import full_strip
    >>> from hoistwright.strip.rebuild import rebuild
    >>> design = shipped("ardle-2000")
    >>> plan = rebuild_for_two(rebuild(design, full_strip(design)))
    >>> plan.steps[-1].number == plan.first_load
    True
    """
    steps = _by_start(plan.steps)
    number = {step.key: step.number for step in steps}
    load = next((step.key for step in plan.steps if step.number == plan.first_load), "")
    points = [attrs.evolve(point, number=number[point.step]) for point in plan.hold_points]
    return attrs.evolve(
        plan,
        steps=steps,
        people=2,
        turns=0,
        hold_points=tuple(sorted(points, key=lambda point: point.number)),
        first_load=number.get(load, 0),
    )


def _by_start(steps: Sequence[_AnyStep]) -> tuple[_AnyStep, ...]:
    """In order of beginning; a step without a time of its own before those that wait for it."""
    ordered = sorted(steps, key=lambda step: (step.start, step.end, step.number))
    return tuple(
        attrs.evolve(step, number=number, turn=False)
        for number, step in enumerate(ordered, start=1)
    )
