"""The shipped designs come through their own check, and its figures stand up by hand."""

from __future__ import annotations

import math

import pytest

from hoistwright.check import check_design
from hoistwright.hoist.library import shipped, shipped_keys

KEYS = shipped_keys()


@pytest.mark.parametrize("key", KEYS)
def test_nothing_is_wrong_doubtful_or_unknown(key: str) -> None:
    assert check_design(shipped(key)).remarks == ()


@pytest.mark.parametrize("key", KEYS)
def test_every_figure_is_named_derived_and_sourced_once(key: str) -> None:
    figures = check_design(shipped(key)).figures
    assert len({figure.key for figure in figures}) == len(figures)
    for figure in figures:
        assert figure.name
        assert figure.how
        assert figure.source
        assert math.isfinite(figure.value)
        assert figure.limit is None or figure.limit_source


@pytest.mark.parametrize("key", KEYS)
def test_work_by_hand_is_work_on_the_load_over_the_efficiency(key: str) -> None:
    """Energy: pull times path of the hand is weight times lift, over the efficiency."""
    design = shipped(key)
    found = check_design(design)
    weight = float(design.rating.rated_load or 0) * 9.80665
    by_hand = found.figure("pull").value * found.figure("velocity_ratio").value
    assert by_hand * found.figure("efficiency").value == pytest.approx(weight, rel=1e-12)


@pytest.mark.parametrize("key", KEYS)
def test_a_hoist_gives_a_little_to_friction(key: str) -> None:
    """Spur-geared hoists are about 85 % efficient (handbook): none comes near 100 %."""
    assert 0.75 < check_design(shipped(key)).figure("efficiency").value < 0.95


@pytest.mark.parametrize("key", KEYS)
def test_dry_faces_hold_and_soaked_ones_do_not(key: str) -> None:
    """What every screw-and-disc brake with a steep thread does, and why oil is a danger."""
    found = check_design(shipped(key))
    assert found.figure("lock_ratio_dry_low").value > 1.3
    assert found.figure("lock_ratio_oily").value < 1.0
    assert found.figure("lock_ratio_oily").keeps_limit is False


@pytest.mark.parametrize("key", KEYS)
def test_the_greatest_clamp_is_that_of_raising(key: str) -> None:
    """Clamp goes with torque, and raising has the losses of the drive and of the reeving on top:
    the ratio of the clamps is one over the efficiency from hand to hook.
    """
    found = check_design(shipped(key))
    held, greatest = found.figure("brake_clamp_held").value, found.figure("brake_clamp").value
    assert greatest / held == pytest.approx(1 / found.figure("efficiency").value)
    area = math.pi / 4 * _ring(key)
    assert found.figure("face_pressure").value == pytest.approx(greatest / area)


def _ring(key: str) -> float:
    brake = shipped(key).load_brake
    assert brake.disc_outer_diameter and brake.disc_inner_diameter
    return float(brake.disc_outer_diameter**2 - brake.disc_inner_diameter**2)


def test_the_ardle_2000_by_longhand() -> None:
    """Every step by hand from the counts: 12/66, 12/40, 4 pockets of 24 mm, 13 of 25 mm."""
    found = check_design(shipped("ardle-2000"))
    ratio = 66 / 12 * 40 / 12
    per_turn, hand_per_turn = 2 * 4 * 0.024, 2 * 13 * 0.025
    assert found.figure("gear_ratio").value == pytest.approx(ratio)
    assert found.figure("shaft_turns").value == pytest.approx(ratio / per_turn)
    assert found.figure("clicks").value == pytest.approx(16 * ratio / per_turn)
    assert found.figure("velocity_ratio").value == pytest.approx(hand_per_turn * ratio / per_turn)
    pull = 2000 * 9.80665 * per_turn / (hand_per_turn * ratio * 0.975**2 * 0.9)
    assert found.figure("pull").value == pytest.approx(pull)
    assert found.figure("chain_stress").value == pytest.approx(
        2000 * 9.80665 / (2 * math.pi * 0.008**2 / 4)
    )
    tangent = math.tan(
        math.atan(0.12 / math.cos(math.radians(15))) + math.atan(12 / (math.pi * 24))
    )
    lock = 0.30 * (80 + 50) / 4 / (12 * tangent)
    assert found.figure("lock_ratio_dry_low").value == pytest.approx(lock)
    needed = 3 + 0.25 + 4 * 0.024 + 0.3
    assert found.figure("chain_needed").value == pytest.approx(needed)
    assert found.figure("stay_bolt_preload").value == pytest.approx(30 / (0.12 * 0.010))


def test_falls_divide_the_load_on_the_chain() -> None:
    found = check_design(shipped("ardle-10000"))
    one_fall = 10000 * 9.80665 / 4
    area = 2 * math.pi * 0.009**2 / 4
    assert found.figure("chain_stress").value == pytest.approx(one_fall / area)


def test_the_limiter_slips_within_its_band() -> None:
    found = check_design(shipped("ardle-2000-ol"))
    torque = 2 * 0.15 * 4900 * (0.090 + 0.060) / 4
    assert found.figure("limiter_torque").value == pytest.approx(torque)
    assert 1.3 < found.figure("limiter_slip").value < 1.6


def test_only_a_hoist_with_a_limiter_has_limiter_figures() -> None:
    with pytest.raises(KeyError):
        check_design(shipped("ardle-2000")).figure("limiter_slip")
