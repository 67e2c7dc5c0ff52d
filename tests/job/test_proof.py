"""A job's proof from its events: what is asked for, what counts, what it comes to."""

from __future__ import annotations

import datetime
import math

import attrs
import pytest
from proof_scene import AT, LOAD, WEIGHTS, ProofScene, figure, look, proof_bodies, series_text

from hoistwright.job.events import StageFinished, StepTicked
from hoistwright.job.events_prove import TestLoadChosen, TestSettled
from hoistwright.job.events_release import ExitChosen
from hoistwright.job.proven import proven_of
from hoistwright.job.stages import stands_at
from hoistwright.metrology import Outcome
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove.tests_needed import STATED


def whats(scene: ProofScene) -> set[str]:
    return {item.what for item in scene.lacks()}


def _extent(scene: ProofScene) -> str:
    return scene.proof.needed.extent


def _band(scene: ProofScene) -> tuple[float, float] | None:
    return scene.proof.needed.band


# which tests


def test_parts_chosen_and_new_one_use_parts_are_the_work_done() -> None:
    scene = ProofScene(renew=("pawl",))
    done = {one.part for one in scene.proof.done}
    assert {"pawl", "chain_anchor_split_pin"} <= done
    assert _extent(scene) == "rated-load test"
    assert "pawl renewed" in scene.proof.needed.why


def test_without_load_sustaining_work_no_load_is_asked_for() -> None:
    """ASME B30.16, 16-2.2, from memory: the lifting medium alone needs no load test."""
    proof = ProofScene(renew=()).proof
    assert proof.needed.extent == "functional only"
    assert proof.permitted is None
    assert "hold_hand_load" in {step.key for step in proof.steps}


def test_an_open_test_is_settled_by_a_competent_person_alone() -> None:
    """us-federal has words that no occasion of the shop's list covers until somebody says so."""
    scene = ProofScene(bases=("b30-hand-hoists",), renew=())
    test = next(t for t in scene.proof.needed.asked if t.name == "load test after repair")
    says = TestSettled(basis=test.basis, test=test.name, applies=True, reason="brake was opened")
    scene.say(says, by="tomasz")
    assert _extent(scene) == "functional only", "a technician settles nothing"
    scene.say(says, by="odile")
    assert _extent(scene) == "rated-load test"
    assert "Odile Brannagh asks for it: brake was opened" in scene.proof.needed.why


def test_a_needed_test_is_not_talked_away() -> None:
    scene = ProofScene(renew=("pawl",))
    scene.say(TestSettled(basis="b30-hand-hoists", test="load test after repair", applies=False,
                          reason="no time"))  # fmt: skip
    assert _extent(scene) == "rated-load test"


def test_where_no_basis_names_a_load_a_competent_person_does() -> None:
    scene = ProofScene(bases=("workshop-practice",), renew=("pawl",))
    assert _extent(scene) == "not established"
    assert "proof test" in whats(scene)
    stated = TestSettled(
        basis="", test=STATED, applies=True, reason="manual", load_from=1.0, load_to=1.1
    )
    scene.say(stated, by="tomasz")
    assert _band(scene) is None, "a technician states no load"
    scene.say(stated, by="odile")
    assert _band(scene) == (1.0, 1.1)
    assert scene.proof.permitted is not None
    assert (scene.proof.permitted.low, scene.proof.permitted.high) == (2000.0, 2200.0)


# the load


def test_the_load_has_half_the_shop_files_uncertainty_as_standard_one() -> None:
    """The shop file states k = 2; weights from one standard add (GUM F.1.2.3, from memory)."""
    scene = ProofScene()
    scene.say(WEIGHTS)
    applied = scene.proof.applied
    assert applied is not None
    assert applied.load == LOAD
    assert applied.u == pytest.approx((4 * 0.25 + 0.13) / 2)
    assert applied.outcome is Outcome.FIT


def test_tackle_adds_its_mass_and_its_uncertainty() -> None:
    scene = ProofScene()
    scene.say(attrs.evolve(WEIGHTS, tackle=40.0, tackle_uncertainty=2.0))
    applied = scene.proof.applied
    assert applied is not None
    assert applied.load == LOAD + 40
    assert applied.u == pytest.approx((0.565**2 + 1.0**2) ** 0.5)


def test_weights_out_of_date_on_the_day_prove_nothing() -> None:
    scene = ProofScene()
    late = datetime.datetime(2028, 7, 1, 9, 0, tzinfo=datetime.UTC)
    scene.say(WEIGHTS)
    scene.say(*proof_bodies(scene.proof), at=late)
    applied = scene.proof.applied
    assert applied is not None
    assert applied.outcome is Outcome.NOT_ESTABLISHED
    assert "w500 was due on 2028-06-30" in applied.why
    assert any("load applied" in item.sentence for item in scene.lacks())


def test_a_test_bed_counts_once_its_instrument_was_read() -> None:
    scene = ProofScene()
    scene.say(TestLoadChosen(by="test bed", bed_reading=2200.0, gauge="cell-1"))
    before = scene.proof.applied
    assert before is not None
    assert before.outcome is Outcome.NOT_ESTABLISHED
    scene.say(figure("lift_a_little", "bed reading", 2210.0, unit="kN", gauge="cell-1"))
    applied = scene.proof.applied
    assert applied is not None
    assert applied.outcome is Outcome.FIT
    assert applied.load == pytest.approx(2210.0)
    calibration, step = 25 / 2 / STANDARD_GRAVITY, 5 / STANDARD_GRAVITY / 12**0.5
    assert applied.u == pytest.approx(math.hypot(calibration, step), rel=0.02)


# what the stage asks for


def test_a_sound_proof_leaves_nothing_missing() -> None:
    scene = ProofScene()
    scene.prove()
    assert scene.lacks() == ()
    assert scene.proof.result.passed


def test_without_a_load_test_a_sound_proof_leaves_nothing_missing_either() -> None:
    scene = ProofScene(renew=())
    scene.prove()
    assert scene.lacks() == ()


def test_nothing_entered_asks_for_load_and_every_step() -> None:
    scene = ProofScene()
    lacking = scene.lacks()
    steps = {item.address[0] for item in lacking if item.what == "proof look"}
    assert steps == {step.key for step in scene.proof.steps}
    assert "test load" in whats(scene)


@pytest.mark.parametrize("at", ["clear", "light", "lift_a_little", "hold", "after"])
def test_each_answer_no_stops_the_proof(at: str) -> None:
    scene = ProofScene()
    scene.prove()
    step = next(step for step in scene.proof.steps if step.key == at)
    scene.say(look(step, "no"))
    assert [item.address[0] for item in scene.lacks()] == [at]


@pytest.mark.parametrize(
    ("step", "what", "value"), [("hold", "hold time", 20.0), ("pawls", "pawls heard", 1.0)]
)
def test_each_required_figure_must_be_fit(step: str, what: str, value: float) -> None:
    scene = ProofScene()
    scene.prove()
    scene.say(figure(step, what, value))  # type: ignore[arg-type]
    assert [item.address[0] for item in scene.lacks()] == [step]


def test_what_was_answered_before_the_rebuild_was_done_does_not_count() -> None:
    scene = ProofScene()
    scene.prove()
    last = list(scene.state.ticks("rebuild"))[-1]
    scene.say(StepTicked(way="rebuild", step=last, done=False))
    scene.say(StepTicked(way="rebuild", step=last))
    assert {item.address[0] for item in scene.lacks() if item.what == "proof look"} == {
        step.key for step in scene.proof.steps
    }
    assert all(
        "before the rebuild" in item.sentence for item in scene.lacks() if item.what == "proof look"
    )
    assert scene.proof.record.pulls == ()
    assert not scene.proof.result.passed


def test_a_hold_point_answered_by_somebody_who_may_not_sign_is_not_signed() -> None:
    scene = ProofScene()
    scene.prove()
    clear, empty = (s for s in scene.proof.steps if s.key in ("clear", "empty"))
    scene.say(look(clear), look(empty), by="counter")
    assert [item.address[0] for item in scene.lacks()] == ["clear"], "empty is no hold point"


def test_a_gauge_out_of_date_when_used_must_be_read_again() -> None:
    scene = ProofScene()
    scene.prove()
    scene.say(figure("play", "free play", 0.0007, unit="mm", gauge="cal-2"))
    (item,) = scene.lacks()
    assert (item.what, item.address[0]) == ("proof gauge", "play")
    assert "2026-09-14" in item.sentence


def test_a_finished_stage_is_open_again_once_something_of_it_is_missing() -> None:
    scene = ProofScene()
    scene.prove()
    for stage in ("book in", "strip", "examine", "renew", "rebuild", "prove"):
        scene.say(StageFinished(stage=stage))
    scene.say(look(next(s for s in scene.proof.steps if s.key == "hold"), "no"))
    assert scene.lacks()
    assert stands_at(scene.facts) != "release"


# what it comes to


def test_a_brake_that_slips_is_never_nothing_wrong() -> None:
    scene = ProofScene()
    scene.say(WEIGHTS)
    hold = next(step for step in scene.proof.steps if step.key == "hold")
    scene.say(look(hold, "no"))
    found = scene.proof.diagnosis
    assert found is not None
    assert found.brake_slips
    assert "none" not in {one.key for one in found.ranked}


@pytest.mark.parametrize("at", ["light", "lift_a_little", "lower"])
def test_a_load_that_ran_at_any_step_fails_the_brake(at: str) -> None:
    scene = ProofScene()
    scene.prove()
    step = next(step for step in scene.proof.steps if step.key == at)
    scene.say(look(step, "no", ran=True))
    assert scene.proof.result.of("brake holds").outcome is Outcome.RENEW
    assert scene.proof.diagnosis is not None
    assert scene.proof.diagnosis.brake_slips


@pytest.mark.parametrize("fault", ["dry_gears", "weak_pawl_spring", "oily_discs"])
def test_a_simulated_fault_is_among_the_first_two(fault: str) -> None:
    scene = ProofScene()
    scene.prove(fault, 0.6)
    found = scene.proof.diagnosis
    assert found is not None
    assert fault in {one.key for one in found.ranked[:2]}


def test_a_pull_over_time_is_seen_by_the_diagnosis() -> None:
    scene = ProofScene()
    scene.prove()
    plain = scene.proof.seen
    proof = scene.with_series(series_text(scene.machine))
    seen = proof.seen
    assert plain is not None
    assert seen is not None
    assert plain.ripple_shaft is None
    assert seen.ripple_shaft is not None
    assert proof.record.series[0].gauge is not None


def test_pulls_at_several_speeds_are_told_apart() -> None:
    scene = ProofScene()
    scene.prove()
    scene.say(
        figure("full_lift", "pull up", 400.0, 410.0, 430.0, unit="N", gauge="cell-2"),
        figure("full_lift", "hand speed", 0.1, 0.2, 0.4, unit="m/s"),
    )
    finding = scene.proof.result.of("pull against speed")
    assert finding.value == pytest.approx(100.0)


def test_lever_strokes_and_cover_inform() -> None:
    scene = ProofScene(design="ardle-l750", bases=("b30-hand-hoists",), renew=("pawl",))
    machine = scene.machine
    strokes = round(4 * machine.turns_per_lift * 0.5)  # a quarter turn each, over half a metre
    scene.say(
        figure("pawls", "lift", 0.5, unit="m", gauge="tape-1"),
        figure("pawls", "strokes", strokes),
        figure("lower", "cover before", 291.15, unit="°C"),
        figure("lower", "cover after", 340.15, unit="°C"),
    )
    swing, cover = (scene.proof.result.of(key) for key in ("strokes", "cover temperature"))
    assert swing.outcome is Outcome.FIT
    assert not swing.required
    assert swing.value == pytest.approx(1.5708, rel=0.02)
    assert cover.outcome is Outcome.RENEW, "67 °C burns (ISO 13732-1, from memory)"
    assert not cover.required


def test_what_a_release_takes_over() -> None:
    scene = ProofScene()
    assert proven_of(scene.facts) is None
    scene.prove()
    proven = proven_of(scene.facts)
    assert proven is not None
    assert proven.result.passed
    assert proven.day == AT.date()
    assert proven.by == "Odile Brannagh"
    assert all(use.in_date for use in proven.gauges)


@pytest.mark.parametrize(
    ("load", "outcome"), [(2900.0, Outcome.FIT), (2300.0, Outcome.RENEW), (3600.0, Outcome.RENEW)]
)
def test_a_limiter_is_held_against_its_band_by_a_cell_in_newtons(
    load: float, outcome: Outcome
) -> None:
    """The design's band is 1.3 to 1.6 times 2000 kg; the cell's U is in newtons."""
    scene = ProofScene(design="ardle-2000-ol")
    assert "limiter" in {step.key for step in scene.proof.steps}
    scene.say(figure("limiter", "slip load", load, unit="kN", gauge="cell-1"))
    found = scene.proof.result.of("limiter")
    assert found.outcome is outcome
    assert found.u == pytest.approx(math.hypot(25 / 2, 5 / 12**0.5) / STANDARD_GRAVITY / 2000,
                                    rel=0.02)  # fmt: skip


def test_proving_for_a_lower_rated_load_takes_its_own_band() -> None:
    scene = ProofScene()
    scene.say(
        ExitChosen(exit="released with lower rated load", lowered_to=1500.0, reason="worn sheave")
    )
    assert scene.proof.permitted is not None
    assert (scene.proof.permitted.low, scene.proof.permitted.high) == (1500.0, 1875.0)
    scene.say(WEIGHTS)
    applied = scene.proof.applied
    assert applied is not None
    assert applied.outcome is Outcome.RENEW, "2250 kg is too much for it"
