"""Diagnosis on simulated faults, and what it must never say."""

from __future__ import annotations

import functools
from collections import Counter

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.prove.diagnose import (
    WORDS,
    Diagnosis,
    brake_slips,
    diagnose,
    posterior,
)
from hoistwright.prove.fault_data import NONE, fault_data
from hoistwright.prove.forward import Loads, applicable, draws, predict
from hoistwright.prove.machine import Machine, machine_of
from hoistwright.prove.observables import MEASURED, RIPPLES, Observables, Observed
from hoistwright.prove.observe import observables, without
from hoistwright.prove.simulate import simulate

EACH = 22
"""Cases for each fault and design: with seven designs and 13 to 15 faults, over 2,000."""


@functools.cache
def machine(key: str) -> Machine:
    return machine_of(shipped(key))


@attrs.frozen
class Case:
    fault: str
    seen: Observables
    diagnosis: Diagnosis

    @property
    def first_two(self) -> list[str]:
        return [likely.key for likely in self.diagnosis.ranked[:2]]


@functools.cache
def simulated(key: str) -> tuple[Case, ...]:
    """Every fault the design can have, at sizes from just a fault to as bad as it gets."""
    hoist = machine(key)
    rng = np.random.default_rng([20261125, shipped_keys().index(key)])
    cases = []
    for fault in applicable(hoist):
        for at in range(EACH):
            severity = (at + rng.random()) / EACH
            load = hoist.rated * rng.uniform(1.0, 1.25)
            seen = observables(simulate(hoist, fault, severity, rng, load), hoist, load)
            cases.append(Case(fault, seen, diagnose(hoist, seen)))
    return tuple(cases)


def all_cases() -> list[Case]:
    return [case for key in shipped_keys() for case in simulated(key)]


def test_the_true_fault_is_in_the_first_two_in_nine_of_ten_cases() -> None:
    cases = all_cases()
    assert len(cases) >= 2000
    hit = sum(case.fault in case.first_two for case in cases)
    assert hit / len(cases) >= 0.90


def test_no_single_fault_is_missed_often() -> None:
    """A good mean must not hide a fault that is never found."""
    hit: Counter[str] = Counter()
    there: Counter[str] = Counter()
    for case in all_cases():
        there[case.fault] += 1
        hit[case.fault] += case.fault in case.first_two
    assert all(hit[fault] / there[fault] >= 0.80 for fault in there), hit


def test_never_nothing_wrong_when_the_brake_slips() -> None:
    """Whatever else was recorded: once it ran or crept, "none" is not even in the ranking."""
    slipping = [case for case in all_cases() if brake_slips(case.seen)]
    assert len(slipping) >= 50
    for case in slipping:
        assert NONE not in [likely.key for likely in case.diagnosis.ranked]
        assert case.diagnosis.brake_slips
        assert "take the load off" in case.diagnosis.remark


def test_every_simulated_slip_is_seen_as_one() -> None:
    """All cases whose brake in truth ran away or crept by a millimetre a minute and more."""
    for case in all_cases():
        ran = case.seen.held is False
        crept = case.seen.creep is not None and case.seen.creep.value > 0.5
        assert brake_slips(case.seen) or not (ran or crept)


def test_a_sound_hoist_is_rarely_suspected() -> None:
    sound = [case for case in all_cases() if case.fault == NONE]
    assert sum(case.first_two[0] == NONE for case in sound) / len(sound) >= 0.85


def test_without_a_pull_over_time_it_still_finds_most() -> None:
    """Scalars alone cannot tell shafts, layshafts and chain apart; the rest they can."""
    by_ripple = {"mistimed_layshaft", "chain_not_seating", "bent_shaft", "dry_gears"}
    cases = [case for case in simulated("ardle-2000-ol") if case.fault not in by_ripple]
    hit = 0
    for case in cases:
        seen = without(case.seen, *RIPPLES)
        ranked = diagnose(machine("ardle-2000-ol"), seen).ranked
        hit += case.fault in [likely.key for likely in ranked[:2]]
    assert hit / len(cases) >= 0.85


def test_with_a_third_of_the_record_missing_it_still_finds_most() -> None:
    """Technicians leave things out: each observable is lost with one chance in three."""
    rng = np.random.default_rng(33)
    names = (*MEASURED, "held", "lifted", "pawls")
    hit = total = 0
    for key in shipped_keys():
        for case in simulated(key)[::3]:
            seen = without(case.seen, *(name for name in names if rng.random() < 1 / 3))
            ranked = diagnose(machine(key), seen).ranked
            hit += case.fault in [likely.key for likely in ranked[:2]]
            total += 1
    assert total > 600
    assert hit / total >= 0.80


def test_probabilities_sum_to_one_and_are_ranked() -> None:
    for case in simulated("ardle-500")[::10]:
        chances = [likely.probability for likely in case.diagnosis.ranked]
        assert sum(chances) == pytest.approx(1.0)
        assert chances == sorted(chances, reverse=True)


def test_the_same_record_gives_the_same_ranking() -> None:
    case = simulated("ardle-500")[0]
    again = diagnose(machine("ardle-500"), case.seen)
    assert again == case.diagnosis


def test_only_faults_the_hoist_can_have_are_named() -> None:
    plain = applicable(machine("ardle-2000"))
    assert "limiter_low" not in plain
    assert "limiter_low" in applicable(machine("ardle-2000-ol"))
    one = attrs.evolve(machine("ardle-2000"), layshafts=1)
    assert "mistimed_layshaft" not in applicable(one)


SOUND = Observables(
    load=2000,
    light_load=200,
    pull_up=Observed(value=1.0, u=0.01),
    pull_down=Observed(value=0.4, u=0.01),
    creep=Observed(value=0.01, u=0.02),
    clicks=Observed(value=1.0, u=0.002),
    free_play=Observed(value=1.0, u=0.05),
    held=True,
    pawls=2,
)


def first(**change: object) -> str:
    seen = attrs.evolve(SOUND, **change)  # type: ignore[arg-type]
    return diagnose(machine("ardle-2000"), seen).first.key


def test_plain_signs_lead_to_their_fault() -> None:
    """What any mechanic would say of one plain sign."""
    assert first() == NONE
    assert first(pawls=1) == "pawl_stuck"
    assert first(free_play=Observed(value=0.0, u=0.02)) == "lock_nut_tight"
    assert first(free_play=Observed(value=3.0, u=0.05)) == "lock_nut_loose"
    assert first(clicks=Observed(value=41 / 40, u=0.002)) == "wrong_ratio"
    assert first(held=False, creep=None) == "oily_discs"
    assert first(ripple_shaft=Observed(value=0.2, u=0.005)) == "bent_shaft"
    assert first(ripple_pocket=Observed(value=0.35, u=0.005)) == "chain_not_seating"
    assert first(ripple_layshaft=Observed(value=0.1, u=0.005)) == "mistimed_layshaft"


BRAKE = {"oily_discs", "pawl_stuck", "glazed_discs", "weak_pawl_spring"}


def test_when_the_load_ran_the_brake_comes_first_whatever_else_was_read() -> None:
    """Readings that fit no slipping brake must not lead away from the brake."""
    for odd in ({}, {"pull_down": Observed(value=0.6, u=0.01)}, {"pull_up": SOUND.pull_down}):
        seen = attrs.evolve(SOUND, held=False, creep=None, **odd)
        found = diagnose(machine("ardle-2000"), seen)
        assert found.first.key in BRAKE, odd
        assert found.brake_slips


def test_the_reasons_are_what_was_changed() -> None:
    seen = attrs.evolve(SOUND, ripple_shaft=Observed(value=0.2, u=0.005))
    likely = diagnose(machine("ardle-2000"), seen).first
    assert likely.because[0] == "ripple_shaft"
    assert WORDS[likely.because[0]] == "ripple at each turn of the drive shaft"
    assert likely.look_first


def test_what_was_not_recorded_is_named() -> None:
    found = diagnose(machine("ardle-2000"), Observables(load=2000, pawls=2))
    assert "creep" in found.not_seen
    assert "Whether the brake holds was not recorded" in found.remark
    with pytest.raises(ValueError, match="nothing was recorded"):
        diagnose(machine("ardle-2000"), Observables(load=2000))


@given(
    st.dictionaries(
        st.sampled_from(MEASURED), st.floats(-5, 50, allow_nan=False), min_size=1, max_size=8
    ),
    st.sampled_from([True, False, None]),
)
@settings(max_examples=60, deadline=None)
def test_no_reading_however_wild_breaks_it(values: dict[str, float], held: bool | None) -> None:
    seen = attrs.evolve(
        Observables(load=500, held=held),
        **{name: Observed(value=value, u=0.01) for name, value in values.items()},  # type: ignore[arg-type]
    )
    found = diagnose(machine("ardle-500"), seen, cases=128)
    assert sum(likely.probability for likely in found.ranked) == pytest.approx(1.0)
    if held is False:
        assert NONE not in [likely.key for likely in found.ranked]


@given(st.dictionaries(st.text(max_size=3), st.floats(-500, 500), min_size=1, max_size=6))
def test_posterior_keeps_the_odds(weights: dict[str, float]) -> None:
    chances = posterior(weights)
    assert sum(chances.values()) == pytest.approx(1.0)
    best = max(weights, key=lambda key: weights[key])
    assert chances[best] == max(chances.values())


def test_the_data_are_whole() -> None:
    data = fault_data()
    assert sum(fault.prior for fault in data.fault) == pytest.approx(1.0, abs=0.05)
    assert {fault.key for fault in data.fault} >= {NONE, "oily_discs", "limiter_high"}
    assert all(fault.look_first for fault in data.fault)
    assert set(WORDS) == {*MEASURED, "held", "lifted", "pawls"}


@pytest.mark.parametrize("key", shipped_keys())
def test_every_fault_predicts_every_observable(key: str) -> None:
    hoist = machine(key)
    for fault in applicable(hoist):
        told = predict(hoist, fault, Loads(load=hoist.rated, light=0.1 * hoist.rated), 64)
        assert set(told) == {*MEASURED, "held", "lifted", "pawls"}
        for name, column in told.items():
            assert column.shape == (64,), name
            assert name == "slip" or np.all(np.isfinite(column)), name


def test_the_model_follows_the_mechanics() -> None:
    """Dry gears raise the pull and ease the lowering; oil takes the pull of lowering away."""
    hoist, loads = machine("ardle-2000"), Loads(load=2000, light=200)
    mean = {
        fault: {name: float(np.mean(c)) for name, c in predict(hoist, fault, loads).items()}
        for fault in (NONE, "dry_gears", "oily_discs", "tight_bearing", "lock_nut_tight")
    }
    assert mean[NONE]["pull_up"] == pytest.approx(1.0, abs=0.05)
    assert mean["dry_gears"]["pull_up"] > 1.1 * mean[NONE]["pull_up"]
    assert mean["dry_gears"]["pull_down"] < mean[NONE]["pull_down"]
    assert mean["oily_discs"]["pull_down"] < 0.5 * mean[NONE]["pull_down"]
    assert mean["lock_nut_tight"]["pull_down"] > 1.5 * mean[NONE]["pull_down"]
    assert mean["tight_bearing"]["pull_light"] > 2 * mean[NONE]["pull_light"]


def test_draws_are_evenly_spread() -> None:
    for column in draws(2048).values():
        assert np.histogram(column, bins=8, range=(0, 1))[0] == pytest.approx(256, abs=12)


def test_the_simulator_refuses_what_it_does_not_know() -> None:
    rng = np.random.default_rng(0)
    with pytest.raises(ValueError, match="expected none or one of"):
        simulate(machine("ardle-500"), "gremlins", 0.5, rng, 500)
    with pytest.raises(ValueError, match="no overload limiter"):
        simulate(machine("ardle-500"), "limiter_low", 0.5, rng, 500)
    with pytest.raises(ValueError, match="severity"):
        simulate(machine("ardle-500"), "none", 1.5, rng, 500)
