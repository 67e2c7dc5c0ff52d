"""Strip and rebuild sheets: every step of the plan, what it needs, and where somebody signs."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Callable
from typing import Any

import pikepdf
import pypdfium2
import pytest

from hoistwright.certificate.step_drawings import step_picture
from hoistwright.certificate.steps_pdf import rebuild_data, render_steps, strip_data
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.strip.for_two import rebuild_for_two
from hoistwright.strip.plan import StripPlan, full_strip, strip_to, with_companions
from hoistwright.strip.rebuild import RebuildPlan, rebuild

Words = Callable[[bytes], str]

DAY = datetime.date(2026, 3, 9)


@pytest.fixture(scope="module")
def design() -> Design:
    return shipped("ardle-2000")


@pytest.fixture(scope="module")
def plan(design: Design) -> StripPlan:
    return strip_to(design, with_companions(design, ["pawl_spring"]))


@pytest.fixture(scope="module")
def back(design: Design, plan: StripPlan) -> RebuildPlan:
    return rebuild(design, plan, with_companions(design, ["pawl_spring"]))


def test_every_strip_step_stands_in_order(design: Design, plan: StripPlan, words: Words) -> None:
    text = words(render_steps(strip_data(design, plan, day=DAY, trainee=True)))
    at = 0
    for step in plan.steps:
        at = text.index(step.name, at)
        for piece in (step.caution, step.why, step.watch, step.tool):
            assert re.sub(r"\s+", " ", piece) in text
    for pieces in plan.one_use:
        assert f"{pieces.quantity} × {pieces.name}" in text
    for tool in plan.tools:
        assert tool in text


def test_only_the_trainee_is_told_why(design: Design, plan: StripPlan, words: Words) -> None:
    text = words(render_steps(strip_data(design, plan, day=DAY)))
    assert "Why:" not in text
    assert all(step.caution in text for step in plan.steps), "cautions are for everybody"


def test_a_trainee_is_told_why_it_goes_back_so(
    design: Design, back: RebuildPlan, words: Words
) -> None:
    text = words(render_steps(rebuild_data(design, back, day=DAY, trainee=True, whole=False)))
    for step in back.steps:
        assert step.why and re.sub(r"\s+", " ", step.why) in text


def test_every_hold_point_has_room_for_name_date_and_initials(
    design: Design, back: RebuildPlan, words: Words
) -> None:
    text = words(render_steps(rebuild_data(design, back, day=DAY)))
    assert len(back.hold_points) >= 3
    for point in back.hold_points:
        assert point.text in text
    assert text.count("No further step before it is signed.") == len(back.hold_points)
    signed = text.count("name date initials")
    assert signed == len(back.hold_points) + len(back.checks)


def test_settings_torques_treatments_and_new_parts_stand_at_their_step(
    design: Design, back: RebuildPlan, words: Words
) -> None:
    data = rebuild_data(design, back, day=DAY)
    text = words(render_steps(data))
    for step, printed in zip(back.steps, data["steps"], strict=True):
        said = {row["word"] for row in printed["work"]}
        assert {item.treatment for item in step.treated} <= said
        assert ("torque" in said) == (step.torque is not None)
        if step.setting:
            assert step.setting in text
        for pieces in step.fit_new:
            assert f"{pieces.quantity} × {pieces.name}" in text
    # 1 lbf ft = 1.3558 N m (NIST SP 811): 30 N m = 22.1 lbf ft
    assert "Torque: 30 N m (22.1 lbf ft)" in text


def test_the_way_back_ends_with_its_checks(design: Design, back: RebuildPlan, words: Words) -> None:
    text = words(render_steps(rebuild_data(design, back, day=DAY)))
    for check in back.checks:
        assert check.question in text


def test_checks_without_load_stand_before_the_first_load(
    design: Design, back: RebuildPlan, words: Words
) -> None:
    """A hoist just rebuilt is run empty and looked over before anything hangs on it."""
    text = words(render_steps(rebuild_data(design, back, day=DAY, whole=False)))
    last = text.rindex(back.steps[-1].name[:40])
    assert back.steps[-1].number == back.first_load
    assert text.index("Checks without load") < text.index(back.checks[0].question[:30]) < last


def test_a_sheet_for_two_says_who_and_what_waits(design: Design, words: Words) -> None:
    two = rebuild_for_two(rebuild(design, full_strip(design)))
    data = rebuild_data(design, two, day=DAY, whole=False)
    text = words(render_steps(data))
    numbers = {step.key: step.number for step in two.steps}
    assert "No further step" not in text
    assert "person 1" in text and "person 2" in text
    for point in two.hold_points:
        step = data["steps"][point.number - 1]
        assert f"person {step['person']} goes no further" in step["stop"]
        named = re.findall(r"\d+", step["stop"].split("no further")[1])
        assert [int(found) for found in named] == sorted(numbers[key] for key in point.holds)


def test_numbers_are_those_of_the_drawing(design: Design, plan: StripPlan) -> None:
    data = strip_data(design, plan, day=DAY)
    listed = {part["name"]: part["number"] for part in data["whole"]["parts"]}
    for step in data["steps"]:
        for part in step["parts"]:
            if part["number"] is not None:
                assert listed[part["name"]] == part["number"]
                assert f">{part['number']}</text>" in step["picture"]


def test_nothing_to_open_says_so(design: Design, words: Words) -> None:
    plan = strip_to(design, ["data_plate"], purpose="look at")
    text = words(render_steps(strip_data(design, plan, day=DAY)))
    assert "Nothing needs to be opened" in text


def test_a_rebuild_picture_speaks_of_going_on(design: Design) -> None:
    away = step_picture(design, ["pawl"], ["pawl_spring"], "wheel side")
    home = step_picture(design, ["pawl"], ["pawl_spring"], "wheel side", back=True)
    assert "comes off now" in away and "comes off now" not in home
    assert "goes on now" in home and "goes on now" not in away
    assert step_picture(design, [], ["pawl"], "middle") == ""


def test_pictures_show_what_a_part_goes_on_to(design: Design, back: RebuildPlan) -> None:
    """Only what is on the hoist by then, or in hand, stands in a rebuild picture."""
    data = rebuild_data(design, back, day=DAY)
    on = {part.key for part in design.parts} - {key for step in back.steps for key in step.fits}
    for step, printed in zip(back.steps, data["steps"], strict=True):
        on |= set(step.fits)
        shown = set(re.findall(r'data-part="([^"]+)"', printed["picture"]))
        assert shown <= on | set(step.worked_on)


@pytest.mark.parametrize("key", ["ardle-l750", "ardle-10000"])
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_whole_hoists_go_through(key: str, paper: Any, words: Words) -> None:
    """A full strip and its rebuild; vector only; every picture has words beside it."""
    design = shipped(key)
    plan = full_strip(design)
    data = rebuild_data(design, rebuild(design, plan), day=DAY)
    pdf = render_steps(data, paper)
    assert render_steps(data, paper) == pdf
    with pikepdf.open(io.BytesIO(pdf)) as document:
        streams = [o for o in document.objects if isinstance(o, pikepdf.Stream)]
        assert not [o for o in streams if o.get("/Subtype") == "/Image"]
        assert bool(document.Root.MarkInfo.Marked)
    assert f"page 1 of {len(pypdfium2.PdfDocument(pdf))}" in words(pdf)
