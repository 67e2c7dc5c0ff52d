"""Load brake: what must hold for any design, and cases worked by hand."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.physics.friction import FACE_BANDS, THREAD_BANDS, FrictionBand
from hoistwright.physics.load_brake import (
    axial_clearance,
    clamp_force,
    closing_turns,
    holding_reserve,
    lock_ratio,
    lock_ratio_band,
    lowering_heat,
    lowering_torque,
    release_torque,
)

designs = st.fixed_dictionaries(
    {
        "mu": st.floats(0.03, 0.6),
        "R": st.floats(0.015, 0.06),
        "r": st.floats(0.005, 0.02),
        "lead": st.floats(0.03, 0.5),
        "phi": st.floats(0.02, 0.4),
        "T": st.floats(0.5, 100.0),
    }
)


def parts(x: dict[str, float]) -> tuple[float, float, float, float, float]:
    return x["mu"], x["R"], x["r"], x["lead"], x["phi"]


@settings(deadline=None)
@given(designs)
def test_both_faces_at_the_loads_own_clamp_hold_exactly_when_s_is_above_one(
    x: dict[str, float],
) -> None:
    """Statics: 2 mu N R against T, worked from the clamp, against the closed form of S."""
    S = float(lock_ratio(*parts(x)))
    N = float(clamp_force(x["T"], *parts(x)))
    reserve = 2 * x["mu"] * N * x["R"] / x["T"]
    assert reserve == pytest.approx(float(holding_reserve(S)), rel=1e-9)
    assert (reserve > 1) == (S > 1) or pytest.approx(1, abs=1e-9) == S


@settings(deadline=None)
@given(designs)
def test_work_of_load_and_hand_goes_into_the_faces(x: dict[str, float]) -> None:
    S = float(lock_ratio(*parts(x)))
    if S < 1:
        return
    N = float(clamp_force(x["T"], *parts(x)))
    slid = 2 * x["mu"] * N * x["R"]
    hand = float(lowering_torque(x["T"], S))
    assert x["T"] + hand == pytest.approx(slid, rel=1e-9)
    assert float(lowering_heat(x["T"], S)) == pytest.approx(slid, rel=1e-9)


@settings(deadline=None)
@given(designs, st.floats(1.01, 5.0))
def test_more_face_friction_locks_better_and_more_thread_friction_worse(
    x: dict[str, float], more: float
) -> None:
    S = float(lock_ratio(*parts(x)))
    assert float(lock_ratio(x["mu"] * more, *parts(x)[1:])) == pytest.approx(S * more)
    assert float(lock_ratio(*parts(x)[:4], x["phi"] * 1.1)) < S


def test_reserve_never_reaches_two() -> None:
    S = np.asarray([0.0, 0.5, 1.0, 2.0, 1e6])
    reserve = np.asarray(holding_reserve(S))
    assert reserve[:3] == pytest.approx([0.0, 2 / 3, 1.0])
    assert np.all(np.diff(reserve) > 0) and reserve[-1] < 2


def test_jammed_brake_takes_more_to_unscrew_than_to_lower() -> None:
    """Clamped three times as hard, worked by hand: N = 3 * 20 / (0.0105 + 0.0111 tan 16 deg)."""
    mu, R, r, lead, phi = 0.3, 0.035, 0.0111, np.deg2rad(9), np.deg2rad(7)
    N = 20 / (0.0105 + 0.0111 * np.tan(np.deg2rad(16)))
    S = 0.0105 / (0.0111 * np.tan(np.deg2rad(16)))
    assert clamp_force(20.0, mu, R, r, lead, phi) == pytest.approx(N)
    jammed = release_torque(3 * N, mu, R, r, lead, phi)
    assert jammed == pytest.approx(3 * N * (0.0105 - 0.0111 * np.tan(np.deg2rad(2))))
    assert lowering_torque(20.0, S, 3.0) == pytest.approx(2 * 0.0105 * 3 * N - 20)
    assert jammed > lowering_torque(20.0, S)


def test_bands_of_a_sound_brake() -> None:
    """R 35, r 11 mm, lead angle 9 deg: dry holds with reserve; oil may let it run away."""
    lead = np.deg2rad(9)
    state = {
        name: lock_ratio_band(band, THREAD_BANDS["oiled"], 0.035, 0.011, lead)
        for name, band in FACE_BANDS.items()
    }
    assert state["dry"][0] > 2
    assert state["oily"][0] < 1 < state["oily"][1]
    lows = [float(state[name][0]) for name in ("dry", "worn", "greasy", "oily")]
    assert all(one > next_one for one, next_one in pairwise(lows))
    assert all(low < high for low, high in state.values())


def test_a_dry_thread_lowers_the_band() -> None:
    oiled = lock_ratio_band(FACE_BANDS["dry"], THREAD_BANDS["oiled"], 0.035, 0.011, 0.16)
    dry = lock_ratio_band(FACE_BANDS["dry"], THREAD_BANDS["dry"], 0.035, 0.011, 0.16)
    assert dry[0] < oiled[0] and dry[1] < oiled[1]


def test_every_band_names_its_source() -> None:
    for band in (*FACE_BANDS.values(), *THREAD_BANDS.values()):
        assert len(band.source) > 10
    with pytest.raises(ValueError, match="expected 0 < low <= high"):
        FrictionBand("upside down", 0.3, 0.2, "none")


def test_clearance_and_wheel_travel_are_inverse() -> None:
    assert closing_turns(axial_clearance(0.5, 0.0015), 0.0015) == pytest.approx(0.5)


def test_heat_of_a_brake_that_does_not_lock_is_refused() -> None:
    with pytest.raises(ValueError, match="runs away"):
        lowering_heat(20.0, 0.9)
