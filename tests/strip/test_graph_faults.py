"""A bad take-apart graph is refused with every fault named, a cycle with its path."""

from __future__ import annotations

import pytest

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.parts import Part
from hoistwright.hoist.take_apart import Refit, Step
from hoistwright.quantity import Duration
from hoistwright.strip.graph import build
from hoistwright.strip.graph_faults import take_apart_faults
from hoistwright.strip.plan import full_strip, strip_to
from hoistwright.strip.rebuild import rebuild

MINUTE = Duration(60)


def design(steps: list[Step], parts: list[Part] | None = None) -> Design:
    freed = dict.fromkeys(key for step in steps for key in step.frees)
    return Design(
        format=1,
        key="bench-test",
        identity=Identity(maker="Ardle", model="test", kind="hand chain hoist", invented=True),
        parts=tuple([Part(key=key, name=key) for key in freed] if parts is None else parts),
        take_apart=tuple(steps),
    )


def texts(steps: list[Step], parts: list[Part] | None = None) -> list[str]:
    return [str(fault) for fault in take_apart_faults(design(steps, parts))]


def test_a_sound_graph_has_no_fault() -> None:
    steps = [
        Step(key="cover", name="cover off", minutes=MINUTE, frees=("cover",)),
        Step(key="wheel", name="wheel off", minutes=MINUTE, frees=("wheel",), after=("cover",)),
    ]
    assert texts(steps) == []


def test_a_cycle_is_named_with_its_path_and_what_waits_for_it() -> None:
    steps = [
        Step(key="nut", name="", minutes=MINUTE, after=("cover",)),
        Step(key="wheel", name="", minutes=MINUTE, after=("nut",)),
        Step(key="cover", name="", minutes=MINUTE, after=("wheel",)),
        Step(key="disc", name="", minutes=MINUTE, after=("wheel",)),
    ]
    cycle, waiting = texts(steps)
    assert "cycle: cover → wheel → nut → cover" in cycle
    assert "take_apart[disc]" in waiting
    assert "never be done: it waits for 'wheel'" in waiting


def test_two_cycles_are_both_named() -> None:
    steps = [
        Step(key="a", name="", minutes=MINUTE, after=("b",)),
        Step(key="b", name="", minutes=MINUTE, after=("a",)),
        Step(key="c", name="", minutes=MINUTE, after=("c",)),
    ]
    found = texts(steps)
    assert any("a → b → a" in text for text in found)
    assert any("c → c" in text for text in found)


def test_a_cycle_through_every_way_in_is_found() -> None:
    steps = [
        Step(key="left", name="", minutes=MINUTE, after_any=(("right", "case"),)),
        Step(key="right", name="", minutes=MINUTE, after=("left",)),
        Step(key="case", name="", minutes=MINUTE, after=("right",)),
    ]
    (cycle, *_) = texts(steps)
    assert "left → right → left" in cycle


def test_ways_in_that_run_in_a_circle_but_can_be_begun_are_no_fault() -> None:
    steps = [
        Step(key="cover", name="", minutes=MINUTE, frees=("cover",)),
        Step(key="left", name="", minutes=MINUTE, frees=("l",), after_any=(("right", "cover"),)),
        Step(key="right", name="", minutes=MINUTE, frees=("r",), after_any=(("left", "cover"),)),
    ]
    assert texts(steps) == []
    plan = strip_to(design(steps), ["r"])
    assert [step.key for step in plan.steps] == ["cover", "right"]


def test_a_part_without_a_step_is_named_unless_it_stands_outside() -> None:
    parts = [
        Part(key="hoist", name="whole hoist", role="hoist"),
        Part(key="plate", name="data plate", outside=True),
        Part(key="pawl", name="pawl"),
    ]
    (text,) = texts([], parts)
    assert "parts[pawl]" in text
    assert "a part without a step" in text
    assert "outside = true" in text


def test_two_fasteners_with_one_name_are_named() -> None:
    steps = [
        Step(key="a", name="", minutes=MINUTE, frees=("x",), fastener="cover nuts", tool="spanner"),
        Step(key="b", name="", minutes=MINUTE, frees=("y",), fastener="Cover  nuts", tool="pliers"),
        Step(key="c", name="", minutes=MINUTE, frees=("z",), fastener="ring", tool="ring pliers"),
        Step(key="d", name="", minutes=MINUTE, frees=("w",), fastener="ring", tool="ring pliers"),
    ]
    tool, part = texts(steps)
    assert "take_apart[b].fastener" in tool
    assert "two fasteners with one name" in tool
    assert "another tool ('spanner' and 'pliers')" in tool
    assert "take_apart[d].fastener" in part
    assert "'c'" in part


def test_one_fastener_reached_in_two_ways_keeps_its_name() -> None:
    steps = [
        Step(key="a", name="", minutes=MINUTE, frees=("x",), fastener="anchor pin", tool="drift"),
        Step(key="b", name="", minutes=MINUTE, frees=("x",), fastener="anchor pin", tool="drift"),
    ]
    assert texts(steps) == []


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (Step(key="a", name="", minutes=MINUTE, after=("ghost",)), "the step 'ghost'"),
        (Step(key="a", name="", minutes=MINUTE, after_any=((),)), "a group without a step"),
        (Step(key="a", name="", minutes=Duration(-1)), "a time from 0 up"),
        (Step(key="a", name="", minutes=Duration(float("nan"))), "a time from 0 up"),
        (Step(key="a", name="set back {turns}", minutes=MINUTE), "the blank {turns}"),
        (
            Step(key="a", name="", minutes=MINUTE, refit=Refit(setting="{sett_back}")),
            "the blank {sett_back}",
        ),
        (
            Step(key="a", name="", minutes=MINUTE, refit=Refit(caution="{laod}")),
            "the blank {laod}",
        ),
    ],
)
def test_other_faults_say_what_was_read(step: Step, said: str) -> None:
    (text,) = texts([step])
    assert said in text
    assert "take_apart[a]" in text


def test_unknown_parts_and_double_keys_are_named() -> None:
    steps = [
        Step(key="a", name="", minutes=MINUTE, frees=("x",), consumes=("ghost_ring",)),
        Step(key="a", name="", minutes=MINUTE),
    ]
    found = texts(steps)
    assert any("'ghost_ring'" in text for text in found)
    assert any("'a' a second time" in text for text in found)


def test_all_faults_come_at_once() -> None:
    steps = [
        Step(key="a", name="", minutes=MINUTE, after=("b",)),
        Step(key="b", name="", minutes=MINUTE, after=("a",)),
    ]
    with pytest.raises(FaultsError) as caught:
        build(design(steps, [Part(key="pawl", name="pawl")]))
    assert len(caught.value.faults) == 2


def test_a_wish_for_a_part_that_is_not_there_offers_near_names() -> None:
    steps = [Step(key="a", name="", minutes=MINUTE, frees=("pawl_spring",))]
    with pytest.raises(ValueError, match=r"'pawl_sprin' is no part.*Did you mean pawl_spring"):
        strip_to(design(steps), ["pawl_sprin"])


PARTIAL = [
    Part(key="hoist", name="whole hoist", role="hoist"),
    Part(key="plate", name="data plate", outside=True),
    Part(key="latch", name="hook latch"),
    Part(key="pawl", name="pawl"),
]


def test_a_design_not_written_down_whole_is_planned_as_far_as_it_goes() -> None:
    own = design([Step(key="latch_off", name="", minutes=MINUTE, frees=("latch",))], PARTIAL)
    plan = strip_to(own, ["latch"])
    assert plan.freed == ("latch",)
    assert [step.fits for step in rebuild(own, plan, ["latch"]).steps] == [("latch",)]
    assert strip_to(own, ["plate"], purpose="look at").steps == ()


def test_a_wanted_part_without_a_step_is_refused_with_what_to_add() -> None:
    own = design([Step(key="latch_off", name="", minutes=MINUTE, frees=("latch",))], PARTIAL)
    for wanted in (["latch", "pawl"], None):
        with pytest.raises(FaultsError) as caught:
            full_strip(own) if wanted is None else strip_to(own, wanted)
        (fault,) = caught.value.faults
        assert "parts[pawl]" in str(fault)
        assert 'Add a [[take_apart]] entry with frees = ["pawl"]' in str(fault)


def test_a_design_without_any_step_says_once_how_to_get_them() -> None:
    own = design([], PARTIAL)
    for wanted in (["pawl"], None):
        with pytest.raises(FaultsError) as caught:
            full_strip(own) if wanted is None else strip_to(own, wanted)
        (fault,) = caught.value.faults
        assert "no step at all" in str(fault)
        assert "hand-chain-single-fall" in str(fault)
    assert strip_to(own, ["plate"], purpose="look at").note
