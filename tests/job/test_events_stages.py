"""The stages: each says what it lacks, and a whole job can be walked to ready to prove."""

from __future__ import annotations

import attrs
import pytest
from record_helpers import NOON, booking, draft

from hoistwright.basis.loading import shipped_basis
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import seal
from hoistwright.job.events import (
    Body,
    Corrected,
    ExtentChosen,
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    ReadingEntered,
    StageFinished,
    StepTicked,
)
from hoistwright.job.fold import further
from hoistwright.job.shop import Shop
from hoistwright.job.shop_file import shop_from_text
from hoistwright.job.stages import Facts, Missing, missing, missing_of, stands_at
from hoistwright.job.state import STAGES, JobState
from hoistwright.quantity import Dimension

SHOP = """
format = 1
name = "Kittiwake Quay Lifting Works"
address = "3 Slipway Row"
[[people]]
key = "odile"
name = "Odile Brannagh"
roles = ["competent person"]
[[people]]
key = "wren"
name = "Wren Adeyemi"
roles = ["technician"]
[[people]]
key = "marit"
name = "Marit Solheim"
roles = ["counter"]
[[gauges]]
key = "length"
name = "long caliper"
kind = "caliper"
resolution = "0.01 mm"
uncertainty = "0.02 mm"
calibrated_on = 2026-01-05
due_on = 2027-01-04
[[gauges]]
key = "old"
name = "old caliper"
kind = "caliper"
resolution = "0.01 mm"
uncertainty = "0.02 mm"
calibrated_on = 2024-01-05
due_on = 2025-01-04
[[gauges]]
key = "angle"
name = "protractor"
kind = "protractor"
resolution_angle = "0.1°"
uncertainty_angle = "0.1°"
calibrated_on = 2026-01-05
due_on = 2027-01-04
[[gauges]]
key = "force"
name = "spring balance"
kind = "spring balance"
resolution_force = "0.1 N"
uncertainty_force = "0.2 N"
calibrated_on = 2026-01-05
due_on = 2027-01-04
"""


class Walk:
    """A job that goes on by one person saying one thing after another."""

    def __init__(self) -> None:
        self.shop: Shop = shop_from_text(SHOP)
        self.design = shipped("ardle-2000")
        self.bases = (shipped_basis("b30-hand-hoists"),)
        self.state = JobState(job="KQ-1")

    @property
    def facts(self) -> Facts:
        design = self.design if self.state.design else None
        bases = self.bases if self.state.bases else ()
        return Facts(state=self.state, design=design, bases=bases, shop=self.shop)

    def say(self, *bodies: Body, by: str = "wren") -> str:
        for body in bodies:
            one = draft(body, by=by)
            event = seal(one, job="KQ-1", seq=self.state.seq + 1, at=NOON, before=self.state.hash)
            self.state = further(self.state, [event])
        return event.id

    def lacks(self, stage: str) -> tuple[Missing, ...]:
        return missing_of(stage, self.facts)  # type: ignore[arg-type]

    def sound(self) -> None:
        """Every point read as new and looked at in order."""
        for point in self.facts.points:
            if point.measured and point.dimension in (
                Dimension.LENGTH,
                Dimension.ANGLE,
                Dimension.FORCE,
            ):
                self.say(_sound_reading(point))
            elif not point.measured:
                self.say(_look(point.address))

    def book_in(self) -> None:
        self.say(booking(), StageFinished(stage="book in"))

    def strip(self) -> None:
        plan = self.facts.strip
        assert plan is not None
        for step in plan.steps:
            self.say(StepTicked(way="strip", step=step.key))
        self.say(StageFinished(stage="strip"))

    def rebuild(self) -> None:
        plan = self.facts.rebuild
        assert plan is not None
        for step in plan.steps:
            self.say(StepTicked(way="rebuild", step=step.key))
        for point in plan.hold_points:
            self.say(HoldPointSigned(step=point.step, text=point.text), by="odile")
        for look in self.facts.points:
            if look.stage == "rebuilt" and not look.measured:
                self.say(_look(look.address))

    def to(self, stage: str) -> Walk:
        for one in STAGES[: STAGES.index(stage)]:
            if one == "book in":
                self.book_in()
            elif one == "strip":
                self.strip()
            elif one == "examine":
                self.sound()
                self.say(StageFinished(stage="examine"))
            else:
                self.say(StageFinished(stage=one))
        return self


def _sound_reading(point: object) -> ReadingEntered:
    from hoistwright.examine.points import Point

    assert isinstance(point, Point)
    if point.baseline is not None:
        value = float(point.baseline.value)
    else:
        limit = point.rulings[0].limit_si if point.rulings else 0.01
        side = point.rulings[0].side if point.rulings else "lower"
        assert limit is not None
        value = limit * (1.25 if side == "lower" else 0.5)
    return ReadingEntered(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=(value,),
        unit="mm",
        gauge=point.dimension.value,
        links=point.links,
    )


def _look(address: tuple[str, str, str], answer: str = "in order") -> LookAnswered:
    part, feature, place = address
    return LookAnswered(part=part, feature=feature, place=place, answer=answer)  # type: ignore[arg-type]


@pytest.fixture
def walk() -> Walk:
    return Walk()


def words(found: tuple[Missing, ...]) -> str:
    return "\n".join(item.sentence for item in found)


def test_a_whole_job_walks_to_the_proof(walk: Walk) -> None:
    assert stands_at(walk.facts) == "book in"
    for stage in STAGES[: STAGES.index("prove")]:
        assert walk.state.stage == stage
        if stage == "book in":
            walk.say(booking())
        elif stage == "strip":
            for step in walk.facts.strip.steps:  # type: ignore[union-attr]
                walk.say(StepTicked(way="strip", step=step.key))
        elif stage == "examine":
            walk.sound()
        elif stage == "rebuild":
            walk.rebuild()
        assert walk.lacks(stage) == (), words(walk.lacks(stage))
        walk.say(StageFinished(stage=stage))
    assert stands_at(walk.facts) == walk.state.stage == "prove"
    found = missing(walk.state, walk.design, walk.bases, walk.shop)
    assert {item.stage for item in found} == {"prove", "release"}


def test_nothing_but_the_booking_is_asked_of_an_empty_job(walk: Walk) -> None:
    assert [item.what for item in walk.lacks("book in")] == ["booking"]


def test_a_thin_booking_says_all_it_lacks(walk: Walk) -> None:
    thin = booking(serial="", customer="")
    bare = attrs.evolve(
        thin, design="", bases=(), found="", hoist=attrs.evolve(thin.hoist, rated_load=None)
    )
    walk.say(bare)
    assert [item.what for item in walk.lacks("book in")] == [
        "identity", "customer", "found state", "rated load", "design", "basis",
    ]  # fmt: skip
    for stage in ("strip", "examine", "renew", "rebuild"):
        assert "No design is chosen" in words(walk.lacks(stage))


def test_stripping_asks_for_every_step_of_the_extent(walk: Walk) -> None:
    walk.book_in()
    full = len(walk.lacks("strip"))
    walk.say(ExtentChosen(parts=("hand_chain",), reason="a new hand chain only"))
    assert 0 <= len(walk.lacks("strip")) < full
    walk.say(PartChosen(part="load_sheave"))
    assert len(walk.lacks("strip")) > 0  # a part to be renewed must come off too


def test_an_examination_lacks_every_ruled_point_at_first(walk: Walk) -> None:
    walk.to("examine")
    lacking = walk.lacks("examine")
    ruled = [p for p in walk.facts.points if p.rulings and p.stage != "rebuilt" and not p.reference]
    assert {item.address for item in lacking} == {point.address for point in ruled}
    assert {item.what for item in lacking} == {"reading", "look"}


@pytest.mark.parametrize(
    ("gauge", "told"),
    [("", "no gauge is named"), ("none", "is not in the shop file"), ("old", "was due"),
     ("angle", "does not measure a length")],
)  # fmt: skip
def test_a_reading_that_cannot_count_is_still_lacking(walk: Walk, gauge: str, told: str) -> None:
    walk.to("renew")
    entry = next(e for e in walk.state.readings.values() if e.body.gauge == "length")  # type: ignore[union-attr]
    assert isinstance(entry.body, ReadingEntered)
    walk.say(attrs.evolve(entry.body, gauge=gauge))
    assert told in words(walk.lacks("examine"))
    assert stands_at(walk.facts) == "examine"


def test_an_answer_not_looked_is_no_look(walk: Walk) -> None:
    walk.to("renew")
    address = next(
        p.address
        for p in walk.facts.points
        if not p.measured and p.rulings and p.stage != "rebuilt"
    )
    walk.say(_look(address, "not looked"))
    assert [item.address for item in walk.lacks("examine")] == [address]


def test_a_conflict_must_be_settled(walk: Walk) -> None:
    walk.to("renew")
    address, entry = next(iter(walk.state.looks.items()))
    one = attrs.evolve(draft(_look(address, "defect"), by="odile"), seen=0)
    event = seal(one, job="KQ-1", seq=walk.state.seq + 1, at=NOON, before=walk.state.hash)
    walk.state = further(walk.state, [event])
    assert [item.what for item in walk.lacks("examine")] == ["conflict"]
    walk.say(Corrected(corrects=event.id, reason="in order after cleaning"), by="odile")
    assert walk.lacks("examine") == ()
    assert entry.body == walk.state.looks[address].body


def test_an_entry_for_no_point_is_told_as_a_stray(walk: Walk) -> None:
    walk.to("renew")
    stray = walk.say(
        ReadingEntered(part="no_such_part", feature="hook.throat", values=(0.03,), unit="mm")
    )
    assert [item.what for item in walk.lacks("examine")] == ["stray"]
    walk.say(Corrected(corrects=stray))
    assert walk.lacks("examine") == ()


def test_a_defective_part_must_be_chosen(walk: Walk) -> None:
    walk.to("rebuild")
    address = next(
        p.address for p in walk.facts.points if p.part == "pawl" and not p.measured and p.rulings
    )
    walk.say(_look(address, "defect"))
    assert "must be renewed" in words(walk.lacks("renew"))
    walk.say(PartChosen(part="pawl", renew=False, reason="still good"), by="odile")
    assert "must be renewed" in words(walk.lacks("renew"))
    walk.say(PartChosen(part="pawl"))
    assert "must be renewed" not in words(walk.lacks("renew"))


def test_what_is_renewed_together_is_asked_for(walk: Walk) -> None:
    walk.to("rebuild")
    part = next(part for part in walk.design.parts if part.renew_with)
    walk.say(PartChosen(part=part.key))
    asked = {item.address[0] for item in walk.lacks("renew")}
    wanted = {key for key in part.renew_with if walk.design.part(key).renewal != "always"}
    assert wanted <= asked
    walk.say(*(PartChosen(part=key) for key in sorted(asked)))
    assert walk.lacks("renew") == ()


def test_the_rebuilt_hoist_is_looked_at_after_its_last_step(walk: Walk) -> None:
    walk.to("rebuild")
    walk.rebuild()
    step = walk.facts.rebuild.steps[-1].key  # type: ignore[union-attr]
    walk.say(StepTicked(way="rebuild", step=step))
    assert "entered before the rebuild was done" in words(walk.lacks("rebuild"))


def test_hold_points_are_signed_by_somebody_who_may(walk: Walk) -> None:
    walk.to("rebuild")
    walk.rebuild()
    assert walk.lacks("rebuild") == ()
    point = walk.facts.rebuild.hold_points[0]  # type: ignore[union-attr]
    walk.say(HoldPointSigned(step=point.step, text=point.text), by="marit")
    assert "marit, who may not sign" in words(walk.lacks("rebuild"))
    walk.say(HoldPointSigned(step=point.step, text=point.text), by="odile")
    walk.say(StepTicked(way="rebuild", step=point.step, done=False))
    assert {item.what for item in walk.lacks("rebuild")} == {"step", "hold point"}


def test_a_late_finding_opens_a_finished_stage_again(walk: Walk) -> None:
    walk.to("rebuild")
    walk.rebuild()
    walk.say(StageFinished(stage="rebuild"))
    assert stands_at(walk.facts) == "prove"
    address = next(
        p.address for p in walk.facts.points if p.part == "bottom_hook" and not p.measured
        and p.rulings
    )  # fmt: skip
    walk.say(_look(address, "defect"))
    assert walk.state.stage == "prove"
    assert stands_at(walk.facts) == "renew"
