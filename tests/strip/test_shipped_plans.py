"""The take-apart graphs of the shipped designs: sound, complete, and true to the trade."""

from __future__ import annotations

import itertools
import re

import pytest

from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.strip.graph import build
from hoistwright.strip.graph_faults import take_apart_faults
from hoistwright.strip.plan import StripPlan, full_strip, strip_to, with_companions
from hoistwright.strip.rebuild import rebuild

DESIGNS = shipped_keys()
HAND = [key for key in DESIGNS if shipped(key).identity.kind == "hand chain hoist"]


def fitter_can_do(design: Design, plan: StripPlan) -> bool:
    """Independent of the planner: every step's conditions hold when it is its turn."""
    steps = {step.key: step for step in design.take_apart}
    done: list[str] = []
    for planned in plan.steps:
        step = steps[planned.key]
        if planned.key in done or any(key not in done for key in step.after):
            return False
        if any(not any(key in done for key in group) for group in step.after_any):
            return False
        done.append(planned.key)
    return True


@pytest.mark.parametrize("key", DESIGNS)
def test_the_graph_is_sound(key: str) -> None:
    assert take_apart_faults(shipped(key)) == []


@pytest.mark.parametrize("key", DESIGNS)
def test_the_full_strip_frees_all_parts(key: str) -> None:
    design = shipped(key)
    plan = full_strip(design)
    assert fitter_can_do(design, plan)
    left = {part.key for part in design.parts} - set(plan.freed)
    assert all(design.part(key).outside or design.part(key).role == "hoist" for key in left)
    # Plates and tags that say what the hoist is stay on: common practice.
    assert {"data_plate", "warning_tag", "hoist"} <= left


@pytest.mark.parametrize("key", DESIGNS)
def test_every_single_part_has_a_plan_that_can_be_done(key: str) -> None:
    design = shipped(key)
    for part in design.parts:
        plan = strip_to(design, [part.key])
        assert fitter_can_do(design, plan)
        assert part.key in plan.freed or part.key in plan.no_opening
        assert plan.seconds <= full_strip(design).seconds
        assert bool(plan.steps) != (part.key in plan.no_opening)


@pytest.mark.parametrize("key", DESIGNS)
def test_no_step_of_a_plan_can_be_left_out(key: str) -> None:
    design = shipped(key)
    steps = {step.key: step for step in design.take_apart}
    for part in design.parts:
        plan = strip_to(design, [part.key])
        for left_out in plan.steps:
            rest = [steps[step.key] for step in plan.steps if step.key != left_out.key]
            done: set[str] = set()
            for step in rest:
                ways = all(done & set(group) for group in step.after_any)
                if set(step.after) <= done and ways:
                    done.add(step.key)
            freed = {freed for key in done for freed in steps[key].frees}
            assert part.key not in freed or len(done) < len(rest)


@pytest.mark.parametrize("key", DESIGNS)
def test_one_use_parts_are_listed_and_go_back_new(key: str) -> None:
    design = shipped(key)
    plan = full_strip(design)
    once = {part.key: part.quantity for part in design.parts if part.renewal == "always"}
    expected = {name: count for name, count in once.items() if name in plan.freed}
    assert {piece.part: piece.quantity for piece in plan.one_use} == expected
    assert expected.keys() >= {"pawl_retaining_ring", "hand_wheel_nut_split_pin"}
    assert {piece.part for piece in rebuild(design, plan).new_parts} == set(expected)


@pytest.mark.parametrize("key", DESIGNS)
def test_every_step_teaches(key: str) -> None:
    for step in shipped(key).take_apart:
        assert step.name.endswith((".", "?")), step.key
        assert step.why, step.key
        assert step.refit.name, step.key


def test_a_pawl_spring_opens_the_wheel_side_alone() -> None:
    """The case of the work order: renew one pawl spring on the demo hoist."""
    plan = strip_to(shipped("ardle-2000"), ["pawl_spring"])
    assert set(plan.sides) == {"middle", "wheel side"}
    assert [step.key for step in plan.steps if step.side == "middle"] == ["make_safe"]
    assert plan.turns == 0
    assert {piece.part: piece.quantity for piece in plan.one_use} == {
        "cover_lock_washer": 3,
        "hand_wheel_nut_split_pin": 1,
        "pawl_retaining_ring": 2,
    }
    assert not {"gear_case", "load_chain", "disc_hub"} & set(plan.freed)


@pytest.mark.parametrize("key", DESIGNS)
def test_a_pawl_spring_never_needs_the_gear_side(key: str) -> None:
    plan = strip_to(shipped(key), ["pawl_spring"])
    assert "gear side" not in plan.sides
    assert "hook ends" not in plan.sides


@pytest.mark.parametrize("key", DESIGNS)
def test_a_load_chain_takes_the_short_way(key: str) -> None:
    """The case of the work order: the chain is run out, the body stays shut."""
    plan = strip_to(shipped(key), ["load_chain"])
    keys = {step.key for step in plan.steps}
    assert "chain_run_out" in keys
    assert not keys & {"plate_wheel_off", "plate_gear_off", "chain_lifted_out"}
    assert not {"wheel side", "gear side"} & set(plan.sides)


def test_with_the_body_open_the_chain_is_lifted_out() -> None:
    plan = strip_to(shipped("ardle-2000"), ["load_chain", "guide_roller", "chain_anchor_pin"])
    keys = {step.key for step in plan.steps}
    assert "chain_lifted_out" in keys
    assert "chain_run_out" not in keys


@pytest.mark.parametrize("key", HAND)
def test_a_new_hand_chain_opens_nothing_but_its_link(key: str) -> None:
    plan = strip_to(shipped(key), ["hand_chain"])
    assert [step.key for step in plan.steps] == ["make_safe", "hand_chain_opened"]
    assert [piece.part for piece in plan.one_use] == ["hand_chain_joining_link"]


def test_what_stands_outside_needs_no_opening() -> None:
    design = shipped("ardle-2000")
    plate = strip_to(design, ["data_plate", "warning_tag"])
    assert plate.steps == ()
    assert plate.note == "Nothing needs to be opened for: data plate, warning tag."
    assert strip_to(design, ["load_chain", "top_hook"], purpose="look at").steps == ()
    assert strip_to(design, ["top_hook"]).steps != ()
    assert strip_to(design, []).note == "Nothing needs to be opened."
    assert rebuild(design, plate).steps == ()
    assert rebuild(design, plate).checks == ()


def test_looking_costs_less_than_taking_off() -> None:
    design = shipped("ardle-2000")
    for part in design.parts:
        look = strip_to(design, [part.key], purpose="look at")
        assert look.seconds <= strip_to(design, [part.key]).seconds
    gears = strip_to(design, ["layshaft_gear_left"], purpose="look at")
    assert [step.key for step in gears.steps][-1] == "gear_case_off"


def test_two_people_gain_on_the_full_strip() -> None:
    plan = full_strip(shipped("ardle-2000"))
    assert plan.seconds / 2 <= plan.two_person_seconds < 0.7 * plan.seconds
    for one, other in itertools.combinations(plan.steps, 2):
        if one.start < other.end and other.start < one.end:
            assert one.side != other.side
            assert one.person != other.person


@pytest.mark.parametrize("key", DESIGNS)
def test_no_blank_is_left_in_a_text(key: str) -> None:
    design = shipped(key)
    plan = full_strip(design)
    words = [repr(step) for step in (*plan.steps, *rebuild(design, plan).steps)]
    assert not [word for word in words if re.search(r"[{}]|not established", word)]


def test_companions_are_renewed_together() -> None:
    design = shipped("ardle-2000")
    assert with_companions(design, ["friction_disc_inner"]) == (
        "friction_disc_outer",
        "friction_disc_inner",
    )


@pytest.mark.parametrize("key", DESIGNS)
def test_a_plan_is_the_same_each_time(key: str) -> None:
    design = shipped(key)
    build.cache_clear()
    first = full_strip(design)
    build.cache_clear()
    assert full_strip(design) == first
