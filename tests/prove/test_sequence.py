"""The test sequence: right steps for the hoist, cautions and hold points where they matter."""

from __future__ import annotations

import itertools
import re

import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.prove.sequence import ProofStep, all_steps, hold_points, proof_sequence
from hoistwright.prove.tests_needed import Done, needed_tests

HEADS = [shipped_basis(key).head for key in ("b30-hand-hoists", "workshop-practice")]
PAWL = [Done(part="pawl", role="pawl")]
CHAIN = [Done(part="load_chain", role="load_chain")]


def steps(key: str, done: list[Done]) -> tuple[ProofStep, ...]:
    design = shipped(key)
    return proof_sequence(design, needed_tests(done, HEADS, design.identity.kind))


def keys(key: str, done: list[Done]) -> list[str]:
    return [step.key for step in steps(key, done)]


@pytest.mark.parametrize("key", shipped_keys())
@pytest.mark.parametrize("done", [PAWL, CHAIN], ids=["pawl", "chain"])
def test_no_blank_is_left_and_every_question_has_a_way_out(key: str, done: list[Done]) -> None:
    for step in steps(key, done):
        assert not re.search(r"[{}]", step.do)
        assert "(not stated)" not in step.do
        assert bool(step.look) == bool(step.question) == bool(step.if_not)


@pytest.mark.parametrize("key", shipped_keys())
def test_barriers_first_then_light_then_a_little_then_full(key: str) -> None:
    """Practice: nobody under the load; the load grows only after the brake has held less."""
    order = keys(key, PAWL)
    assert order[0] == "clear"
    wanted = ["clear", "hang", "empty", "light", "lift_a_little", "full_lift", "lower", "hold"]
    places = [order.index(name) for name in wanted]
    assert places == sorted(places)
    assert order[-1] == "after"


def test_every_step_under_a_load_has_a_caution() -> None:
    for step in all_steps():
        if "test load" in step.needs and step.key != "falls":
            assert step.caution, step.key


def test_what_endangers_is_a_hold_point() -> None:
    found = hold_points(steps("ardle-2000-ol", PAWL))
    assert {"clear", "light", "lift_a_little", "pawls", "hold", "limiter"} <= set(found)


def test_steps_belong_to_the_hoist() -> None:
    assert "free_chain" in keys("ardle-l750", PAWL)
    assert "free_chain" not in keys("ardle-2000", PAWL)
    assert "limiter" in keys("ardle-2000-ol", PAWL)
    assert "limiter" not in keys("ardle-2000", PAWL)
    assert "falls" in keys("ardle-10000", PAWL)
    assert "falls" not in keys("ardle-500", PAWL)


def test_without_a_load_test_the_brake_is_still_held() -> None:
    order = keys("ardle-2000", CHAIN)
    assert "full_lift" not in order
    assert "hold_hand_load" in order


def test_figures_are_the_hoists_own() -> None:
    told = {step.key: step.do for step in steps("ardle-2000-ol", PAWL)}
    assert "2000 kg to 2500 kg" in told["lift_a_little"]
    assert "100 kg" in told["light"]  # 5 % of 2 t
    assert "2600 kg and 3200 kg" in told["limiter"]
    assert "2.25 m, 1.5 m, 0.75 m" in told["lower"]


def test_an_unknown_hoist_gets_a_sequence_too() -> None:
    identity = Identity(maker="", model="", kind="lever hoist")
    design = Design(format=1, key="unknown", identity=identity)
    found = proof_sequence(design, needed_tests(PAWL, HEADS, "lever hoist"))
    assert "the test load" in next(s.do for s in found if s.key == "lift_a_little")


def test_step_keys_and_looks_do_not_clash() -> None:
    found = [step.key for step in all_steps()]
    assert len(found) == len(set(found))
    for one, other in itertools.combinations(all_steps(), 2):
        if one.look and one.look == other.look:
            assert {one.key, other.key} == {"hold", "hold_hand_load"}


def test_a_load_of_nothing_is_refused() -> None:
    design = shipped("ardle-500")
    with pytest.raises(ValueError, match="above 0"):
        proof_sequence(design, needed_tests(PAWL, HEADS, "hand chain hoist"), load=0)


def test_a_person_of_inches_reads_pounds_and_feet() -> None:
    """2000 kg are 4409 lb and 3 m are 9.8 ft (0.45359237 kg and 0.3048 m exactly)."""
    design = shipped("ardle-2000")
    needed = needed_tests(PAWL, HEADS, design.identity.kind)
    do = {s.key: s.do for s in proof_sequence(design, needed, load=2000.0, units="in")}
    assert "Raise 4409 lb over the lift of 9.8 ft" in do["full_lift"]
    assert not any(re.search(r"\d kg|\d m\b", text) for text in do.values())
