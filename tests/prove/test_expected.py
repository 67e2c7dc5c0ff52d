"""Expected bands: around the design, and where sound simulated hoists lie."""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.physics.chain import STANDARD_GRAVITY
from hoistwright.prove import expected
from hoistwright.prove.machine import machine_of
from hoistwright.prove.simulate import simulate

SEEDS = 20


@pytest.mark.parametrize("key", shipped_keys())
def test_sound_simulated_hoists_lie_in_their_bands(key: str) -> None:
    """The simulator has its own friction and polygon; most of its sound hoists must fit."""
    machine = machine_of(shipped(key))
    load = machine.rated
    up, down = expected.pull_up(machine, load), expected.pull_down(machine, load)
    play = expected.free_play(machine)
    inside = {"up": 0, "down": 0, "play": 0}
    for seed in range(SEEDS):
        record = simulate(machine, "none", 0.0, np.random.default_rng(seed), load)
        raised = float(record.series[0].pull.mean())
        lowered = record.pulls[1].pull.mean
        assert record.free_play is not None
        inside["up"] += up.low <= raised <= up.high
        inside["down"] += down.low <= lowered <= down.high
        inside["play"] += play.low <= record.free_play.mean <= play.high
    assert min(inside.values()) >= 0.8 * SEEDS, inside


@pytest.mark.parametrize("key", shipped_keys())
def test_no_sound_hoist_pulls_less_than_one_without_losses(key: str) -> None:
    """Energy: the hand cannot put in less work than the load gains."""
    machine = machine_of(shipped(key))
    found = expected.pull_up(machine, machine.rated)
    without = machine.rated * STANDARD_GRAVITY / machine.velocity_ratio
    assert without < found.low < found.likely < found.high


def test_clicks_and_hand_path_grow_with_the_lift() -> None:
    machine = machine_of(shipped("ardle-2000"))
    for make in (expected.clicks, expected.hand_path, expected.strokes):
        one, two = make(machine, 0.5), make(machine, 1.0)
        assert two.low == pytest.approx(2 * one.low)
        assert two.high == pytest.approx(2 * one.high)


def test_a_limiter_slips_between_its_shares_of_the_rated_load() -> None:
    machine = machine_of(shipped("ardle-2000-ol"))
    found = expected.slip_load(machine)
    assert found is not None
    assert machine.limiter is not None
    assert found.low == machine.limiter.low * machine.rated
    assert expected.slip_load(machine_of(shipped("ardle-2000"))) is None


def test_a_figure_in_another_unit_is_off() -> None:
    """A pull of 370 N typed as 83 lbf without its unit, or as 37 kgf: asked back."""
    band = expected.pull_up(machine_of(shipped("ardle-2000")), 2000)
    assert not band.off(370, 4)
    assert band.off(83, 4)
    assert band.off(37, 4)
