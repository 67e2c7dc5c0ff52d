"""One slip in a sound design, and the check names it."""

from __future__ import annotations

from typing import Any

import attrs
import pytest

from hoistwright.check import Remark, check_design
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped


def with_(design: Design, table: str, **figures: Any) -> Design:
    changed: dict[str, Any] = {table: attrs.evolve(getattr(design, table), **figures)}
    return attrs.evolve(design, **changed)


def entry_with(design: Design, table: str, part: str, **figures: Any) -> Design:
    entries: Any = tuple(
        attrs.evolve(item, **figures) if item.part == part else item
        for item in getattr(design, table)
    )
    changed: dict[str, Any] = {table: entries}
    return attrs.evolve(design, **changed)


def remarks_on(design: Design, key: str, severity: str = "wrong") -> list[Remark]:
    found = check_design(design)
    return [item for item in found.remarks if item.key == key and item.severity == severity]


SLIPS: list[tuple[str, dict[str, Any], str]] = [
    ("gear_train", {"pinion_teeth": 13}, "gear_train"),
    ("gear_train", {"layshaft_large_teeth": 65}, "gear_train"),
    ("gear_train", {"layshaft_small_teeth": 13}, "gear_train"),
    ("gear_train", {"load_gear_teeth": 41}, "gear_train"),
    ("gear_train", {"second_module": 2.5e-3}, "gear_train"),
    ("gear_train", {"mark_phase": 0.5}, "gear_train.mark_phase"),
    ("gear_train", {"second_face_width": 12e-3}, "gear_train.second_face_width"),
    ("gear_train", {"first_face_width": 6e-3}, "gear_train.first_face_width"),
    ("load_chain", {"length": 3.5}, "load_chain.length"),
    ("load_chain", {"wire": 7e-3}, "load_chain.wire"),
    ("load_chain", {"wire": 7e-3}, "load_sheave.pocket_wire"),
    ("load_chain", {"pitch": 22e-3}, "load_sheave.pocket_pitch"),
    ("load_chain", {"working_stress": 300e6}, "load_chain.working_stress"),
    ("load_chain", {"working_stress": 160e6}, "load_chain.wire"),
    ("load_chain", {"grade": "M", "working_stress": 200e6}, "load_chain.grade"),
    ("load_sheave", {"pocket_length": 39e-3}, "load_sheave.pocket_length"),
    ("load_sheave", {"pocket_pitch": 25e-3}, "load_sheave.pocket_pitch"),
    ("rating", {"lift": 6.0}, "load_chain.length"),
    ("rating", {"rated_load": 5000.0}, "hand_drive"),
    ("rating", {"rated_load": 5000.0}, "load_chain.wire"),
    ("rating", {"rated_load": 5000.0}, "hooks[top_hook].depth"),
    ("rating", {"rated_load": 5000.0}, "pins[bottom_hook_pin].diameter"),
    ("hand_drive", {"wheel_pockets": 4}, "hand_drive"),
    ("hand_drive", {"wheel_diameter": 0.25}, "hand_drive.wheel_diameter"),
    ("load_brake", {"friction_dry_low": 0.08}, "load_brake.friction_dry_low"),
    ("load_brake", {"thread_lead": 60e-3}, "load_brake.friction_dry_low"),
    ("load_brake", {"disc_outer_diameter": 0.053}, "load_brake.disc_outer_diameter"),
    ("load_brake", {"disc_outer_diameter": 0.040}, "lock_ratio_dry_low"),
]


@pytest.mark.parametrize(("table", "figures", "key"), SLIPS)
def test_a_slip_is_named(table: str, figures: dict[str, Any], key: str) -> None:
    design = with_(shipped("ardle-2000"), table, **figures)
    assert remarks_on(design, key), check_design(design).remarks


DOUBTS: list[tuple[str, dict[str, Any], str]] = [
    ("rating", {"rated_load": 2500.0}, "hand_drive"),
    ("load_chain", {"pitch": 28e-3}, "load_chain.pitch"),
    ("load_chain", {"gauge_links": 20}, "load_chain.gauge_links"),
    ("load_chain", {"grade": "X9"}, "load_chain.grade"),
    ("load_sheave", {"pocket_length": 41e-3}, "load_sheave.pocket_length"),
    ("load_brake", {"friction_dry_low": 0.12}, "load_brake.friction_dry_low"),
    ("load_brake", {"set_back_turns": 2.0}, "load_brake.set_back_turns"),
]


@pytest.mark.parametrize(("table", "figures", "key"), DOUBTS)
def test_what_is_unusual_is_doubted(table: str, figures: dict[str, Any], key: str) -> None:
    design = with_(shipped("ardle-2000"), table, **figures)
    assert remarks_on(design, key, "doubtful"), check_design(design).remarks


ENTRIES: list[tuple[str, str, dict[str, Any], str]] = [
    ("hooks", "bottom_hook", {"depth": 20e-3}, "hooks[bottom_hook].depth"),
    ("hooks", "top_hook", {"shank_thread": "M8"}, "hooks[top_hook].shank_thread"),
    ("pins", "suspension_pin", {"diameter": 8e-3}, "pins[suspension_pin].diameter"),
    ("stay_bolts", "stay_bolt", {"torque": 60.0}, "stay_bolts[stay_bolt].torque"),
    ("stay_bolts", "stay_bolt", {"property_class": "4.6"}, "stay_bolts[stay_bolt].torque"),
    (
        "springs",
        "pawl_spring",
        {"kind": "compression", "coils": 40.0},
        "springs[pawl_spring].free_length",
    ),
    ("springs", "pawl_spring", {"leg": 10e-3}, "springs[pawl_spring].free_length"),
]


@pytest.mark.parametrize(("table", "part", "figures", "key"), ENTRIES)
def test_a_slip_in_an_entry_is_named(
    table: str, part: str, figures: dict[str, Any], key: str
) -> None:
    design = entry_with(shipped("ardle-2000"), table, part, **figures)
    assert remarks_on(design, key), check_design(design).remarks


def test_falls_need_their_sheaves() -> None:
    design = with_(shipped("ardle-10000"), "rating", falls=6)
    [remark] = remarks_on(design, "idle_sheaves")
    assert remark.read == "3 idle sheaves for 6 falls"
    assert remark.expected.startswith("5")


def test_several_falls_without_any_sheave_are_refused() -> None:
    design = with_(shipped("ardle-500"), "rating", falls=2)
    assert any("expected one sheave" in item.read for item in check_design(design).of("wrong"))


@pytest.mark.parametrize("preload", [3500.0, 6500.0])
def test_a_limiter_outside_its_band_is_named(preload: float) -> None:
    design = with_(shipped("ardle-2000-ol"), "overload_limiter", spring_preload=preload)
    assert remarks_on(design, "overload_limiter.spring_preload")


def test_a_limiter_band_upside_down_is_named() -> None:
    design = with_(shipped("ardle-2000-ol"), "overload_limiter", slip_low=1.7)
    assert remarks_on(design, "overload_limiter.slip_low")


def test_a_hook_without_latch_is_a_question_for_a_person() -> None:
    design = entry_with(shipped("ardle-500"), "hooks", "bottom_hook", latch=False)
    [remark] = remarks_on(design, "hooks[bottom_hook].latch", "doubtful")
    assert "competent person" in remark.mend


def test_profile_shift_accounts_for_a_gap() -> None:
    """A tooth less at the load gear leaves half a module; shifting by about half takes it up."""
    unshifted = with_(shipped("ardle-500"), "gear_train", load_gear_teeth=33)
    assert remarks_on(unshifted, "gear_train")
    shifted = with_(
        shipped("ardle-500"), "gear_train", load_gear_teeth=33, second_profile_shift=0.5335
    )
    assert not [r for r in remarks_on(shifted, "gear_train") if "centre" in r.read]


def test_a_stated_phase_lets_unlike_layshafts_assemble() -> None:
    """12/43/12/43: two like layshafts cannot share; keyed half a tooth apart they do."""
    counts = {"layshaft_large_teeth": 43, "load_gear_teeth": 43}
    alike = with_(shipped("ardle-3000"), "gear_train", **counts)
    assert remarks_on(alike, "gear_train.mark_phase")
    apart = with_(shipped("ardle-3000"), "gear_train", **counts, mark_phase=0.5)
    assert not check_design(apart).of("wrong")


def test_a_remark_says_how_to_mend() -> None:
    design = with_(shipped("ardle-2000"), "load_chain", length=3.5)
    [remark] = remarks_on(design, "load_chain.length")
    assert "3.5 m" in remark.expected
    assert "3.646 m" in remark.read
    assert "measure the chain" in remark.mend


def test_positions_that_deceive_are_counted_by_geometry() -> None:
    """11/69/12/44: of 69 positions 3 share; 6 miss by a 23rd of a pitch and would go in."""
    design = shipped("ardle-10000")
    errors = [((11 * 12 - 69 * 44) / 2 + k * 12) / 69 % 1 for k in range(69)]
    misses = [min(error, 1 - error) for error in errors]
    found = check_design(design)
    assert found.figure("timing_positions").value == sum(miss < 1e-9 for miss in misses)
    hidden = sum(1e-9 < miss <= 0.05 for miss in misses)
    assert found.figure("timing_deceptive").value == hidden == 6


def test_a_greasy_face_is_worse_than_a_glazed_one() -> None:
    found = check_design(shipped("ardle-2000"))
    names = ("dry_high", "dry_low", "glazed", "greasy", "oily")
    ratios = [found.figure(f"lock_ratio_{name}").value for name in names]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[2] > 1 > ratios[3]
