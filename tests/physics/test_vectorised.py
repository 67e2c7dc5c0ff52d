"""Each formula: numbers in, numpy float out; arrays broadcast; NaN and nonsense refused.

The table below must name every formula; an array call must equal its scalar calls.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

import hoistwright.physics as package

EXACT = {"guard", "timing", "layshafts", "friction"}
"""Modules that are not formulas on floats."""

SAMPLES: dict[str, tuple[float, ...]] = {
    "bearings.friction_torque": (8000.0, 0.025, 0.1),
    "bearings.life_seconds": (1e6, 20.0),
    "bearings.rating_life": (5050.0, 2400.0, 3.0),
    "bearings.rating_needed": (2400.0, 21e6, 3.0),
    "bearings.static_safety": (12e3, 8e3),
    "bolts.nut_factor": (0.012, 0.00175, 0.15, 0.15, 0.0155, 0.52),
    "bolts.preload": (0.75, 580e6, 84.3e-6),
    "bolts.preload_from_torque": (66.0, 0.012, 0.15),
    "bolts.tensile_stress_area": (0.012, 0.00175),
    "bolts.tightening_torque": (36.7e3, 0.012, 0.15),
    "chain.force_at_stress": (200e6, 0.005),
    "chain.mass_per_metre": (0.005, 0.015, 0.0065, 7850.0),
    "chain.mean_stress": (7854.0, 0.005),
    "chain.peak_stress": (7854.0, 0.005, 0.4),
    "chain.preferred_mass": (513.0,),
    "chain.two_leg_area": (0.005,),
    "chain.working_load_mass": (0.008, 200e6),
    "chain_wear.crown_wear": (0.005, 0.00485),
    "chain_wear.elongation": (0.1783, 0.175, 11, 0.015),
    "chain_wear.mean_crown_diameter": (0.0045, 0.005),
    "chain_wear.outside_length": (11, 0.015, 0.005),
    "chain_wear.permanent_stretch": (0.03, 0.02),
    "chain_wear.remaining_section": (0.0045, 0.005, 0.005),
    "chain_wear.wear_elongation": (0.00015, 0.015, 11),
    "disc.disc_torque": (3141.0, 0.3, 0.125, 2),
    "disc.force_at_peak_pressure": (1e5, 0.15, 0.1),
    "disc.mean_pressure": (4000.0, 0.1, 0.05),
    "disc.peak_pressure": (4000.0, 0.1, 0.05),
    "disc.radius_uniform_pressure": (0.04, 0.025),
    "disc.radius_uniform_wear": (0.04, 0.025),
    "drive.clicks_per_lift": (66.67, 12, 2),
    "drive.drive_efficiency": (0.977, 0.99, 0.98, 1.0, 2, 3),
    "drive.efficiency_found": (1500.0, 125.0, 30.0),
    "drive.hand_chain_per_lift": (2, 10.0, 0.0477, 0.16),
    "drive.hand_pull": (25.8, 0.16),
    "drive.lever_pull": (80.0, 0.25),
    "drive.lever_strokes_per_lift": (66.67, 1.6, 18),
    "drive.mesh_efficiency": (12, 40, 0.1, 0.8, 0.8),
    "drive.shaft_torque": (9806.65, 0.0477, 2, 10.0, 0.9, 0.1),
    "drive.shaft_torque_from_load": (9806.65, 0.0477, 2, 10.0, 0.9),
    "drive.shaft_turns_per_lift": (2, 10.0, 0.0477),
    "gear_span.base_tangent_length": (0.001, 20, 3, 0.1, 0.349),
    "gear_span.module_from_tip": (0.084, 40, 0.0, 1.0),
    "gear_span.profile_shift_from_span": (7.66e-3, 0.001, 20, 3, 0.349),
    "gear_span.span_teeth": (20, 0.349),
    "gear_span.tooth_thickness_from_span": (7.66e-3, 0.001, 20, 3, 0.349),
    "gear_strength.contact_stress": (1000.0, 0.02, 0.03, 0.1, 206e9, 0.3, 0.349),
    "gear_strength.lewis_form_factor": (16,),
    "gear_strength.lewis_stress": (1000.0, 0.02, 0.002, 0.296, 1.0),
    "gear_strength.tooth_force": (30.0, 0.002, 15, 2),
    "gear_strength.velocity_factor": (3.19, 6.096),
    "gears.centre_distance": (0.002, 12, 40, 0.2, -0.1, 0.349),
    "gears.coaxial_gap": (0.002, 12, 40, 0.002, 13, 39),
    "gears.contact_ratio": (20, 40, 0.0, 0.0, 0.349, 1.0),
    "gears.involute": (0.349,),
    "gears.involute_inverse": (0.0149,),
    "gears.pressure_angle": (0.349,),
    "gears.train_ratio": (12, 40, 12, 36),
    "gears.working_pressure_angle": (12, 40, 0.2, 0.0, 0.349),
    "hook.section_wear": (0.0225, 0.025),
    "hook.throat_growth": (0.0315, 0.03),
    "hook.twist_angle": (0.005, 0.03),
    "limiter.preload_for": (9781.0, 0.0477, 1, 10.0, 0.9, 0.12, 0.03, 6),
    "limiter.slip_load": (25.9, 0.0477, 1, 10.0, 0.9, 0.1),
    "limiter.slip_torque": (1200.0, 0.12, 0.03, 6),
    "load_brake.axial_clearance": (0.5, 0.0015),
    "load_brake.clamp_force": (20.0, 0.3, 0.035, 0.011, 0.16, 0.12),
    "load_brake.closing_turns": (0.0009, 0.012),
    "load_brake.holding_reserve": (3.0,),
    "load_brake.lock_ratio": (0.3, 0.035, 0.011, 0.16, 0.12),
    "load_brake.lowering_heat": (20.0, 3.0),
    "load_brake.lowering_torque": (20.0, 3.0, 1.2),
    "load_brake.release_torque": (1464.0, 0.3, 0.035, 0.011, 0.16, 0.12),
    "pins.bearing_pressure": (10e3, 0.012, 0.008),
    "pins.bending_stress": (10e3, 0.012, 0.008, 0.006, 0.0005),
    "pins.rod_stress": (10e3, 84.3e-6),
    "pins.shear_force": (70e6, 0.0126, 2),
    "pins.shear_stress": (17457.0, 0.0126, 2),
    "pins.thread_shear_stress": (10e3, 0.0098, 0.01, 0.75),
    "pocket_wheel.chain_per_turn": (5, 0.015),
    "pocket_wheel.effective_diameter": (5, 0.015),
    "pocket_wheel.engaged_pockets": (5, 3.0),
    "pocket_wheel.idle_sheave_efficiency": (0.0168,),
    "pocket_wheel.load_sheave_efficiency": (0.0168,),
    "pocket_wheel.loss_arm": (0.0477, 0.005, 0.1, 0.03, 0.01),
    "pocket_wheel.pitch_diameter": (5, 0.015, 0.005),
    "pocket_wheel.pitch_growth_tolerated": (0.0265, 0.025, 3),
    "pocket_wheel.seats_in_pockets": (0.0265, 0.0152, 0.005, 0.015, 3),
    "pocket_wheel.speed_ripple": (5, 0.015, 0.005),
    "reeving.chain_length": (3.0, 2, 0.1, 0.15, 0.2),
    "reeving.hand_chain_loop": (2.5, 0.2),
    "reeving.lift_possible": (6.55, 2, 0.1, 0.15, 0.2),
    "reeving.links_for": (6.55, 0.015),
    "reeving.live_fall_force": (20000.0, 2, 0.96),
    "reeving.live_fall_force_lowering": (20000.0, 2, 0.96),
    "reeving.reeving_efficiency": (4, 0.96),
    "screw.collar_torque": (6400.0, 0.08, 0.02),
    "screw.lead_angle": (0.008, 0.015),
    "screw.loosen_torque": (6400.0, 0.015, 0.08, 0.1),
    "screw.screw_efficiency": (0.08, 0.12),
    "screw.tan_sum": (0.08, 0.12),
    "screw.thread_friction_angle": (0.12, 0.26),
    "screw.tighten_torque": (6400.0, 0.015, 0.08, 0.1),
    "springs.helical_rate": (0.001, 0.008, 10.0, 79.3e9),
    "springs.helical_stress": (10.0, 0.001, 0.008),
    "springs.pawl_lift_margin": (0.05, 0.08, 0.02, 0.001),
    "springs.torsion_rate": (0.001, 0.008, 5.0, 206e9),
    "springs.torsion_stress": (0.1, 0.001, 0.008),
    "springs.torsion_torque": (0.08, 1.5),
    "tooth_form.form_factor_from_shape": (12, 0.3, 0.349, 1.0, 1.25, 0.38),
    "wear.archard_volume": (7e-3, 50.0, 200.0, 1.18e9, 3.0),
    "wear.joint_sliding": (0.005, 5),
    "wear.wear_depth": (2e-9, 2e-5),
}

OWN_TESTS = {
    "gears.tooth_count",  # takes a name
    "hook.bending_stress",  # take or give sections: test_hook_sections.py
    "hook.circle",
    "hook.hook_stresses",
    "hook.rectangle",
    "hook.trapezoid",
    "load_brake.lock_ratio_band",  # takes bands: test_load_brake.py
    "pocket_wheel.arm_range",  # gives two: test_chain_and_wheel.py
    "reeving.fall_forces",  # adds an axis: test_chain_and_wheel.py
}


def formula(name: str) -> Callable[..., Any]:
    module, function = name.split(".")
    found: Callable[..., Any] = getattr(
        importlib.import_module(f"{package.__name__}.{module}"), function
    )
    return found


def test_every_formula_is_in_the_table() -> None:
    names = set()
    for info in pkgutil.iter_modules(package.__path__):
        if info.name in EXACT:
            continue
        module = importlib.import_module(f"{package.__name__}.{info.name}")
        for name, thing in vars(module).items():
            if inspect.isfunction(thing) and thing.__module__ == module.__name__:
                names |= set() if name.startswith("_") else {f"{info.name}.{name}"}
    assert names == set(SAMPLES) | OWN_TESTS


@pytest.mark.parametrize("name", SAMPLES)
def test_numbers_in_numpy_number_out(name: str) -> None:
    result = formula(name)(*SAMPLES[name])
    assert np.ndim(result) == 0
    assert np.isfinite(float(result))


@pytest.mark.parametrize("name", SAMPLES)
def test_arrays_broadcast_and_equal_the_scalar_calls(name: str) -> None:
    values = SAMPLES[name]
    # a lightly varied copy of each argument; whole numbers go up by whole steps
    other = [v + 2 if isinstance(v, int) else v * (0.999 if v else 1) for v in values]
    for place in range(len(values)):
        args = [np.asarray([[v], [v], [v]]) for v in values]
        args[place] = np.asarray([values[place], other[place]])
        result = np.asarray(formula(name)(*args))
        assert result.shape == (3, 2) if len(values) > 1 else (2,)
        for column, value in enumerate(args[place]):
            scalar = [*values[:place], value, *values[place + 1 :]]
            expected = float(formula(name)(*scalar))
            got = result[..., column]
            assert got == pytest.approx(np.full(got.shape, expected), rel=1e-12)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("bad", [float("nan"), float("inf"), "about 5"])
def test_what_is_no_number_is_refused_in_every_argument(name: str, bad: object) -> None:
    for place in range(len(SAMPLES[name])):
        args: list[object] = list(SAMPLES[name])
        args[place] = bad
        with pytest.raises(ValueError, match="expected") as caught:
            formula(name)(*args)
        assert "given" in str(caught.value)


SIGNED = {
    "chain.mean_stress": {0},
    "chain.peak_stress": {0},
    "chain_wear.permanent_stretch": {0, 1},
    "chain_wear.wear_elongation": {0},
    "gear_span.base_tangent_length": {3},
    "gear_span.module_from_tip": {2},
    "gears.centre_distance": {3, 4},
    "gears.contact_ratio": {2, 3},
    "gears.working_pressure_angle": {2, 3},
    "hook.twist_angle": {0},
    "springs.torsion_torque": {1},
    "tooth_form.form_factor_from_shape": {1},
}
"""Arguments that may be below 0: readings that scatter, profile shift, directions."""


@pytest.mark.parametrize("name", SAMPLES)
def test_below_zero_is_refused_unless_it_has_a_meaning(name: str) -> None:
    for place, value in enumerate(SAMPLES[name]):
        if place in SIGNED.get(name, set()):
            continue
        args = list(SAMPLES[name])
        args[place] = -abs(value) - 1
        with pytest.raises(ValueError, match=r"expected|below|above"):
            formula(name)(*args)


def test_the_message_names_place_and_next_step() -> None:
    with pytest.raises(ValueError) as caught:
        formula("chain.mean_stress")([1.0, 2.0], [0.005, -0.005])
    assert str(caught.value) == (
        "wire diameter d, m: given -0.005 at place 2 of 2; expected a number above 0. "
        "Measure or enter it again; leave it out if it is unknown."
    )
