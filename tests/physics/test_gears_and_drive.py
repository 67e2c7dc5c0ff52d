"""Gears and drive by other ways: flanks point by point, losses along the path, counting."""

from __future__ import annotations

from math import cos, floor, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from hoistwright.physics.drive import (
    clicks_per_lift,
    drive_efficiency,
    efficiency_found,
    hand_chain_per_lift,
    hand_pull,
    lever_strokes_per_lift,
    mesh_efficiency,
    shaft_torque,
    shaft_torque_from_load,
    shaft_turns_per_lift,
)
from hoistwright.physics.gear_span import (
    base_tangent_length,
    profile_shift_from_span,
    span_teeth,
    tooth_thickness_from_span,
)
from hoistwright.physics.gear_strength import contact_stress, lewis_form_factor
from hoistwright.physics.gears import (
    centre_distance,
    coaxial_gap,
    contact_ratio,
    involute,
    involute_inverse,
    train_ratio,
    working_pressure_angle,
)
from hoistwright.physics.limiter import preload_for, slip_load, slip_torque
from hoistwright.physics.springs import (
    helical_rate,
    helical_stress,
    torsion_rate,
    torsion_stress,
    torsion_torque,
)

ALPHA = radians(20)
teeth = st.integers(8, 80)


@settings(deadline=None)
@given(st.floats(0.01, 1.4))
def test_involute_is_undone_by_its_inverse(alpha: float) -> None:
    assert float(involute_inverse(involute(alpha))) == pytest.approx(alpha, abs=1e-9)


def test_involute_is_the_unwound_thread() -> None:
    """A thread unwound by alpha' = tan(alpha) stands at polar angle inv(alpha)."""
    for alpha in (0.1, 0.3, 0.7):
        roll = tan(alpha)
        x, y = cos(roll) + roll * sin(roll), sin(roll) - roll * cos(roll)
        assert float(involute(alpha)) == pytest.approx(np.arctan2(y, x), abs=1e-14)
        assert hypot(x, y) * cos(alpha) == pytest.approx(1)


@settings(deadline=None)
@given(teeth, teeth, st.floats(-0.2, 0.5), st.floats(-0.2, 0.5))
def test_shifted_gears_close_without_backlash(za: int, zb: int, xa: float, xb: float) -> None:
    """On the working circles both tooth thicknesses fill the pitch exactly."""
    if (involute(ALPHA) + 2 * (xa + xb) * tan(ALPHA) / (za + zb)) < 0:
        return
    alpha_w = float(working_pressure_angle(za, zb, xa, xb))
    filled = 0.0
    for z, x in ((za, xa), (zb, xb)):
        radius = z / 2 * cos(ALPHA) / cos(alpha_w)
        on_reference = pi / 2 + 2 * x * tan(ALPHA)
        filled += (
            2 * radius * (on_reference / z + float(involute(ALPHA)) - float(involute(alpha_w)))
        )
    pitch = pi * cos(ALPHA) / cos(alpha_w)
    assert filled == pytest.approx(pitch, rel=1e-9)
    a = float(centre_distance(1.0, za, zb, xa, xb))
    assert a == pytest.approx((za + zb) / 2 * cos(ALPHA) / cos(alpha_w), rel=1e-12)


@settings(deadline=None)
@given(st.integers(14, 60), st.integers(14, 60))
def test_contact_ratio_from_the_line_of_action(za: int, zb: int) -> None:
    """Where the tip circles cut the line of action, found as points by a root solver."""

    def reach(z: int) -> float:
        tip, pitch = z / 2 + 1, z / 2
        along = lambda t: hypot(pitch + t * sin(ALPHA), t * cos(ALPHA)) - tip  # noqa: E731
        return float(brentq(along, 0, 10))

    expected = (reach(za) + reach(zb)) / (pi * cos(ALPHA))
    assert float(contact_ratio(za, zb)) == pytest.approx(expected, rel=1e-9)


@settings(deadline=None)
@given(teeth, st.floats(-0.1, 0.6), st.floats(0.001, 0.006))
def test_span_gives_shift_and_thickness_back(z: int, x: float, m: float) -> None:
    k = float(span_teeth(z))
    span = base_tangent_length(m, z, k, x)
    assert float(profile_shift_from_span(span, m, z, k)) == pytest.approx(x, abs=1e-9)
    worn = tooth_thickness_from_span(span - 0.0001, m, z, k)
    loss = tooth_thickness_from_span(span, m, z, k) - worn
    assert float(loss) == pytest.approx(0.0001 / cos(ALPHA), rel=1e-6)


def test_coaxial_trains() -> None:
    assert coaxial_gap(0.002, 12, 40, 0.002, 12, 40) == pytest.approx(0, abs=1e-15)
    assert coaxial_gap(0.002, 12, 40, 0.002, 12, 38) == pytest.approx(0.002)
    assert train_ratio(12, 40, 12, 36) == pytest.approx(10)


def test_mesh_loss_along_the_path_of_contact() -> None:
    """Sliding times friction along the path, one pair carrying at the pitch point's force.

    With both contact ratios 0.5 there is one pair at a time: sliding speed grows evenly
    from the pitch point, so the loss can be summed without the closed formula.
    """
    za, zb, mu = 12, 40, 0.08
    base_pitch = pi * cos(ALPHA)
    per_length = 1 / (za / 2 * cos(ALPHA)) + 1 / (zb / 2 * cos(ALPHA))  # of sliding to rolling
    lost, _ = quad(lambda s: mu * abs(s) * per_length, -base_pitch / 2, base_pitch / 2, points=[0])
    expected = 1 - lost / base_pitch
    assert float(mesh_efficiency(za, zb, mu, 0.5, 0.5)) == pytest.approx(expected, rel=1e-9)


def test_whole_spur_geared_hoist_is_about_85_to_92_per_cent() -> None:
    """Handbook figure for a spur-geared hand hoist: about 0.85 with its drag."""
    mesh = mesh_efficiency([12, 12], [40, 36], 0.1)
    eta = drive_efficiency(mesh[0], 0.98, 0.975, meshes=2, bearings=3)
    assert 0.82 < eta < 0.92


@settings(deadline=None)
@given(st.floats(100, 5e4), st.integers(1, 4), st.floats(2, 60), st.floats(0.3, 1.0))
def test_pull_velocity_ratio_and_efficiency_agree(
    load: float, n: int, i: float, eta: float
) -> None:
    """Work in is work out over eta: pull times hand chain against load times lift."""
    pull = hand_pull(shaft_torque(load, 0.0477, n, i, eta), 0.16)
    ratio = hand_chain_per_lift(n, i, 0.0477, 0.16)
    assert float(pull * ratio) == pytest.approx(load / eta, rel=1e-9)
    assert float(efficiency_found(load, pull, ratio)) == pytest.approx(eta, rel=1e-9)


def test_load_pushes_less_than_it_takes_to_raise_it() -> None:
    up = shaft_torque(1e4, 0.0477, 1, 10, 0.9)
    back = shaft_torque_from_load(1e4, 0.0477, 1, 10, 0.9)
    assert back / up == pytest.approx(0.81)


def test_clicks_by_counting_teeth() -> None:
    """Lift two metres tooth by tooth of a 12-tooth ratchet and count."""
    turns = float(shaft_turns_per_lift(1, 10, 0.047746))
    tooth_lift = 1 / turns / 12
    counted = sum(1 for n in range(1, 10_000) if n * tooth_lift <= 2)
    assert floor(2 * float(clicks_per_lift(turns, 12))) == counted
    assert clicks_per_lift(turns, 12, 2) == 2 * clicks_per_lift(turns, 12)


def test_lever_strokes_lose_the_part_tooth() -> None:
    assert lever_strokes_per_lift(10.0, radians(95), 18) == pytest.approx(10 * 18 / 4)
    with pytest.raises(ValueError, match="in one lever swing"):
        lever_strokes_per_lift(10.0, radians(15), 18)


@settings(deadline=None)
@given(st.floats(2e3, 5e4), st.integers(1, 3), st.floats(3, 60), st.floats(0.5, 1.0))
def test_limiter_setting_and_slip_load_are_inverse(
    load: float, n: int, i: float, eta: float
) -> None:
    force = preload_for(load, 0.05, n, i, eta, 0.12, 0.03, 6)
    torque = slip_torque(force, 0.12, 0.03, 6)
    assert float(slip_load(torque, 0.05, n, i, eta)) == pytest.approx(load, rel=1e-9)


def test_drag_that_eats_the_slip_torque_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing is lifted"):
        slip_load(1.0, 0.05, 1, 10, 0.9, 1.0)


def test_two_layshafts_lower_contact_pressure_by_root_two() -> None:
    ratio = contact_stress(1000, 0.02, 0.03, 0.1) / contact_stress(500, 0.02, 0.03, 0.1)
    assert ratio == pytest.approx(sqrt(2))


def test_form_factor_is_refused_where_the_table_ends() -> None:
    with pytest.raises(ValueError, match="at least 10"):
        lewis_form_factor(9)


def test_springs_store_the_work_put_in() -> None:
    """Energy of the coil from its wire: shear for the helical, bending for the torsion
    spring, summed along the wire, against half of rate times travel squared."""
    d, D, n, G, E = 0.001, 0.010, 8.0, 79.3e9, 206e9
    wire = pi * D * n
    force = 5.0
    twist_energy = (force * D / 2) ** 2 * wire / (2 * G * pi * d**4 / 32)
    assert force**2 / (2 * helical_rate(d, D, n, G)) == pytest.approx(twist_energy)
    torque = float(torsion_torque(torsion_rate(d, D, n, E), 0.8))
    bend_energy = torque**2 * wire / (2 * E * pi * d**4 / 64)
    assert torque * 0.8 / 2 == pytest.approx(bend_energy)


def test_spring_stress_tends_to_the_straight_wire() -> None:
    d, D = 0.001, 0.5
    assert helical_stress(1, d, D) == pytest.approx(8 * D / (pi * d**3), rel=3e-3)
    assert torsion_stress(1, d, D) == pytest.approx(32 / (pi * d**3), rel=3e-3)


def test_shift_and_height_that_make_no_gear_are_refused() -> None:
    with pytest.raises(ValueError, match="in modules and not in mm"):
        working_pressure_angle(12, 40, -3.0, -3.0)
    with pytest.raises(ValueError, match="above the base circle"):
        contact_ratio(6, 40, -1.2, 1.2)
    with pytest.raises(ValueError, match="degrees given"):
        involute_inverse(1e6)
