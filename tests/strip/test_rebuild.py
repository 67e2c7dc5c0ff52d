"""The rebuild: the mirror of the strip, with all that going back asks for."""

from __future__ import annotations

import re

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.hoist.machine import LoadBrake
from hoistwright.strip.plan import full_strip, strip_to
from hoistwright.strip.rebuild import RebuildPlan, RebuildStep, rebuild

DESIGNS = shipped_keys()


def step_of(plan: RebuildPlan, key: str) -> RebuildStep:
    return next(step for step in plan.steps if step.key == key)


def holds(plan: RebuildPlan) -> str:
    return "\n".join(point.text for point in plan.hold_points).lower()


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(DESIGNS), st.data())
def test_the_rebuild_is_the_mirror_of_the_strip(key: str, data: st.DataObject) -> None:
    design = shipped(key)
    wanted = data.draw(
        st.lists(st.sampled_from([part.key for part in design.parts]), max_size=4, unique=True)
    )
    strip = strip_to(design, wanted)
    back = rebuild(design, strip)
    assert sorted(step.key for step in back.steps) == sorted(step.key for step in strip.steps)
    assert sorted(part for step in back.steps for part in step.fits) == sorted(
        part for step in strip.steps for part in step.frees
    )
    assert back.turns == strip.turns
    assert {piece.part for piece in strip.one_use} == {piece.part for piece in back.new_parts}
    assert goes_back_in_order(design, back)


def goes_back_in_order(design: Design, back: RebuildPlan) -> bool:
    """Independent of the planner: nothing is shut before what lies behind it is in."""
    keys = [step.key for step in back.steps]
    steps = {step.key: step for step in design.take_apart}
    for at, key in enumerate(keys):
        still_off = set(keys[at + 1 :])
        if not set(steps[key].after) <= still_off:
            return False
        if any(not still_off & set(group) for group in steps[key].after_any):
            return False
    return True


@pytest.mark.parametrize("key", DESIGNS)
def test_all_that_must_be_signed_is_there_after_a_full_strip(key: str) -> None:
    design = shipped(key)
    text = holds(rebuild(design, full_strip(design)))
    for words in (
        "clean and dry",
        "both pawls",
        "timing marks",
        "without twist",
        "anchor pin secured by a new split pin",
        "bottom hook nut locked",
        "top hook nut locked",
        "operating direction",
    ):
        assert words in text


@pytest.mark.parametrize("key", DESIGNS)
@pytest.mark.parametrize("part", ["pawl_spring", "friction_disc_inner", "drive_shaft_seal"])
def test_whoever_opens_the_brake_signs_for_dry_faces(key: str, part: str) -> None:
    design = shipped(key)
    text = holds(rebuild(design, strip_to(design, [part])))
    assert "clean and dry" in text
    assert "operating direction" in text
    assert "set back half a turn" in text


@pytest.mark.parametrize("key", DESIGNS)
def test_whoever_touches_the_chain_over_the_sheave_signs_for_its_twist(key: str) -> None:
    design = shipped(key)
    for part in ("load_chain", "load_sheave"):
        assert "without twist" in holds(rebuild(design, strip_to(design, [part])))
    checks = rebuild(design, strip_to(design, ["load_chain"])).checks
    assert "load_chain.reeving" in {check.feature for check in checks}
    assert "hoist.direction" in {check.feature for check in checks}


@pytest.mark.parametrize("key", DESIGNS)
def test_a_full_rebuild_lays_the_chain_on_a_sheave_that_is_in(key: str) -> None:
    """What is signed for must be there: chain after sheave, block and nut after chain."""
    design = shipped(key)
    keys = [step.key for step in rebuild(design, full_strip(design)).steps]
    chain = keys.index("chain_lifted_out")
    assert keys.index("plate_gear_off") < keys.index("load_sheave_out") < chain
    assert chain < keys.index("plate_wheel_off") < keys.index("brake_opened")
    assert chain < keys.index("anchor_split_pin_out")
    assert keys[-1] == "make_safe"
    if "idle_sheave_out" in keys:
        assert chain < keys.index("idle_sheave_out")
    if "top_idle_sheave_out" in keys:
        assert keys.index("top_idle_sheave_out") < chain


def test_settings_torques_and_treatments_come_from_the_design() -> None:
    design = shipped("ardle-2000")
    back = rebuild(design, full_strip(design))
    assert "half a turn" in step_of(back, "lock_nut_off").setting
    torque = design.stay_bolts[0].torque
    assert step_of(back, "cover_nuts_off").torque == torque
    assert step_of(back, "gear_case_nuts_off").torque == torque
    for point in design.lubrication:
        said = [
            treated
            for step in back.steps
            for treated in step.treated
            if treated.part == point.part and treated.treatment == point.lubricant
        ]
        assert said, point
    assert "marks" in step_of(back, "layshaft_gears_out").marks.lower()


@pytest.mark.parametrize("key", DESIGNS)
def test_no_friction_face_is_ever_greased(key: str) -> None:
    design = shipped(key)
    back = rebuild(design, full_strip(design))
    dry = {part.key for part in design.parts if part.role in ("friction_disc", "ratchet_disc")}
    for step in back.steps:
        if dry & set(step.fits):
            assert {treated.treatment for treated in step.treated} == {"keep dry"}


def test_an_unknown_set_back_is_said_to_be_open() -> None:
    known = shipped("ardle-2000")
    design = attrs.evolve(known, load_brake=LoadBrake())
    back = rebuild(design, strip_to(design, ["hand_wheel_nut"]))
    assert "not established: ask the maker" in step_of(back, "lock_nut_off").setting


def test_renewed_parts_are_marked_to_fit_new() -> None:
    design = shipped("ardle-2000")
    strip = strip_to(design, ["pawl_spring", "data_plate"])
    back = rebuild(design, strip, renewed=["pawl_spring", "data_plate"])
    fitted = {piece.part: piece.quantity for piece in step_of(back, "pawls_off").fit_new}
    assert fitted == {"pawl_spring": 2}
    assert {"pawl_spring", "data_plate", "pawl_retaining_ring"} <= {
        piece.part for piece in back.new_parts
    }


def test_a_renewed_part_that_stays_on_is_refused() -> None:
    design = shipped("ardle-2000")
    with pytest.raises(ValueError, match="load_gear does not come off in this plan"):
        rebuild(design, strip_to(design, ["pawl_spring"]), renewed=["load_gear"])


def test_a_plan_of_another_design_is_refused() -> None:
    with pytest.raises(ValueError, match="made for 'ardle-500'"):
        rebuild(shipped("ardle-2000"), full_strip(shipped("ardle-500")))


@pytest.mark.parametrize("key", DESIGNS)
def test_a_danger_of_taking_off_is_not_printed_on_fitting(key: str) -> None:
    """What can fall out or run out when a part comes off cannot when it goes back."""
    design = shipped(key)
    for step in rebuild(design, full_strip(design)).steps:
        for words in ("run right out", "falls out", "comes down with"):
            assert words not in step.caution, step.key


@pytest.mark.parametrize("key", DESIGNS)
def test_no_puller_is_asked_for_to_put_something_in(key: str) -> None:
    design = shipped(key)
    for step in rebuild(design, full_strip(design)).steps:
        for words in ("puller", "scraper", "drill", "seal hook", "chisel"):
            assert words not in step.tool, step.key


@pytest.mark.parametrize("key", DESIGNS)
def test_rings_that_fly_are_warned_of_when_fitted_too(key: str) -> None:
    design = shipped(key)
    for step in rebuild(design, full_strip(design)).steps:
        if "ring pliers" in step.tool:
            assert "eye protection" in step.caution, step.key
        if any(design.part(part).role == "friction_disc" for part in step.fits):
            assert "oil" in step.caution, step.key


@pytest.mark.parametrize("key", DESIGNS)
@pytest.mark.parametrize("part", ["friction_disc_outer", "friction_disc_inner", "disc_hub"])
def test_pawls_are_heard_whenever_the_brake_was_open(key: str, part: str) -> None:
    design = shipped(key)
    checks = rebuild(design, strip_to(design, [part])).checks
    assert "pawl.heard" in {check.feature for check in checks}


def test_pawls_need_not_be_heard_when_only_a_hook_latch_was_off() -> None:
    design = shipped("ardle-2000")
    checks = rebuild(design, strip_to(design, ["top_hook_latch_rivet"])).checks
    assert "pawl.heard" not in {check.feature for check in checks}


@pytest.mark.parametrize("key", DESIGNS)
def test_left_tools_are_looked_for_where_the_cover_shuts(key: str) -> None:
    design = shipped(key)
    back = rebuild(design, full_strip(design))
    signed = [step for step in back.steps if "no rag" in step.hold_point]
    assert [any("cover" in part for part in step.fits) for step in signed] == [True]
    keys = [step.key for step in back.steps]
    assert keys.index("brake_opened") < keys.index(signed[0].key)


@pytest.mark.parametrize("key", DESIGNS)
@pytest.mark.parametrize("part", ["load_chain", "load_sheave"])
def test_an_anchor_pin_is_secured_as_soon_as_it_is_in(key: str, part: str) -> None:
    design = shipped(key)
    steps = rebuild(design, strip_to(design, [part])).steps
    keys = [step.key for step in steps]
    if "anchor_pin_out" in keys:
        pin, secured = keys.index("anchor_pin_out"), keys.index("anchor_split_pin_out")
        assert pin < secured
        assert all(step.fastener for step in steps[pin + 1 : secured])


@pytest.mark.parametrize("part", ["load_chain", "load_sheave"])
def test_four_falls_are_reeved_over_the_top_idle_sheave(part: str) -> None:
    design = shipped("ardle-10000")
    back = rebuild(design, strip_to(design, [part]))
    paths = [step.setting for step in back.steps if step.key.startswith("chain_")]
    assert any(
        text.index("first bottom") < text.index("top idle") < text.index("second bottom")
        for text in paths
    )


@pytest.mark.parametrize("key", DESIGNS)
def test_the_function_check_hangs_the_hoist(key: str) -> None:
    last = rebuild(shipped(key), full_strip(shipped(key))).steps[-1]
    assert "test hook" in last.tool
    assert "light load" in last.setting


@pytest.mark.parametrize("key", DESIGNS)
def test_reasons_of_taking_off_are_not_given_for_putting_back(key: str) -> None:
    """Words of opening have no place in a rebuild."""
    plan = rebuild(shipped(key), full_strip(shipped(key)))
    for step in plan.steps:
        assert step.why, step.key
        assert not re.search(r"comes? (off|out)|can only|way to|Behind it|stays? shut", step.why)
