"""A hoist from an unknown maker: what a technician counts and measures, and what follows."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.check import DesignCheck, check_design
from hoistwright.check.how_to_find import plain_key, ways
from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.library import load_design, shipped
from hoistwright.hoist.machine import OverloadLimiter

UNKNOWN_HOIST = """
format = 1
key = "found-in-a-shed"

[identity]
maker = "illegible"
model = "illegible"
kind = "hand chain hoist"

[rating]
rated_load = "1 t"
falls = 1
"""

COUNTED = """
[load_chain]
wire = "6.3 mm"
pitch = "19 mm"

[load_sheave]
pockets = 4

[gear_train]
layshafts = 2
pinion_teeth = 12
layshaft_large_teeth = 44
layshaft_small_teeth = 12
load_gear_teeth = 44

[hand_drive]
chain_pitch = "25 mm"
wheel_pockets = 10

[load_brake]
ratchet_teeth = 12
"""


def checked(tmp_path: Path, text: str) -> DesignCheck:
    file = tmp_path / "own.toml"
    file.write_text(text, encoding="utf-8")
    return check_design(load_design(file))


def test_a_data_plate_alone_gives_nothing_and_says_what_to_do(tmp_path: Path) -> None:
    found = checked(tmp_path, UNKNOWN_HOIST)
    assert found.figures == ()
    assert not found.cannot_be_right
    assert "load_sheave.pockets" in found.missing
    stress = next(item for item in found.of("unknown") if item.key == "chain_stress")
    assert stress.missing == ("load_chain.wire",)
    assert stress.mend == "Measure the wire of an unworn link at its straight side."


def test_counts_and_two_readings_give_the_ratios(tmp_path: Path) -> None:
    """Tooth counts and pockets give all motion; no efficiency was stated, so no pull."""
    found = checked(tmp_path, UNKNOWN_HOIST + COUNTED)
    ratio = (44 / 12) ** 2
    assert abs(found.figure("gear_ratio").value - ratio) < 1e-12
    assert found.figure("velocity_ratio").value > 0
    assert found.figure("clicks").value > 0
    assert found.figure("timing_positions").value == 4
    assert found.figure("chain_stress").value > 0
    unknown = {item.key: item for item in found.of("unknown")}
    assert unknown["pull"].missing == ("gear_train.mesh_efficiency", "hand_drive.efficiency")
    assert "test lift" in unknown["pull"].mend
    assert "first_centre_distance" in unknown
    assert "lock_ratio_dry_low" in unknown


def test_a_grade_is_not_guessed(tmp_path: Path) -> None:
    """Without a grade mark the chain has a stress but no limit that it keeps."""
    figure = checked(tmp_path, UNKNOWN_HOIST + COUNTED).figure("chain_stress")
    assert figure.limit is None
    assert figure.keeps_limit is None


def test_an_empty_design_is_no_error() -> None:
    bare = Identity(maker="?", model="?", kind="lever hoist")
    found = check_design(Design(format=1, key="bare", identity=bare))
    assert found.figures == ()
    assert {item.severity for item in found.remarks} == {"unknown"}


def stated_keys(design: Design) -> Iterator[tuple[str, str]]:
    """Every figure of the single tables that the design states."""
    for table in ("rating", "load_chain", "load_sheave", "gear_train", "hand_drive", "load_brake"):
        value = getattr(design, table)
        for field in attrs.fields(type(value)):
            if getattr(value, field.name) is not None:
                yield table, field.name


SOUND = shipped("ardle-2000")
KEYS = sorted(stated_keys(SOUND))


def without(design: Design, gone: set[tuple[str, str]]) -> Design:
    tables: dict[str, Any] = {}
    for table, name in gone:
        value = tables.get(table, getattr(design, table))
        tables[table] = attrs.evolve(value, **{name: None})
    return attrs.evolve(design, **tables)


@settings(max_examples=150, deadline=None)
@given(st.sets(st.sampled_from(KEYS)))
def test_what_is_left_out_is_never_invented(gone: set[tuple[str, str]]) -> None:
    """Taking figures away takes results away; it never alters one or makes one wrong.

    Three figures have a stated fallback: no profile shift, square thread, one layshaft.
    """
    gone -= {("load_brake", "thread_flank_angle"), ("gear_train", "layshafts")}
    gone -= {("hand_drive", "wheel_pockets"), ("hand_drive", "chain_pitch")}  # measured instead
    gone -= {("load_chain", "gauge_links")}  # 330 mm of links instead
    whole = {figure.key: figure.value for figure in check_design(SOUND).figures}
    found = check_design(without(SOUND, gone))
    assert not found.cannot_be_right
    for figure in found.figures:
        assert figure.value == whole[figure.key]
    told = {figure.key for figure in found.figures} | {item.key for item in found.of("unknown")}
    assert set(whole) <= told


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(KEYS),
    st.one_of(st.floats(allow_nan=False, allow_infinity=False), st.integers(-(10**9), 10**9)),
)
def test_any_figure_at_all_gives_remarks_and_no_exception(
    key: tuple[str, str], value: float
) -> None:
    table, name = key
    kind = type(getattr(getattr(SOUND, table), name))
    if kind is str:
        return
    changed = attrs.evolve(getattr(SOUND, table), **{name: kind(value)})
    tables: dict[str, Any] = {table: changed}
    check_design(attrs.evolve(SOUND, **tables))


def test_every_missing_key_has_a_way_to_find_it() -> None:
    design = shipped("ardle-2000-ol")
    bare_entries: dict[str, Any] = {
        name: tuple(type(item)(**_needed(item)) for item in getattr(design, name))
        for name in ("hooks", "pins", "stay_bolts", "springs", "bearings")
    }
    bare_entries["overload_limiter"] = OverloadLimiter()
    empty = attrs.evolve(without(design, set(stated_keys(design))), **bare_entries)
    missing = {plain_key(key) for key in check_design(empty).missing}
    assert missing - set(ways()) == set()
    assert len(missing) > 40


def _needed(item: Any) -> dict[str, Any]:
    return {
        field.name: getattr(item, field.name)
        for field in attrs.fields(type(item))
        if field.default is attrs.NOTHING
    }


def test_ways_name_keys_that_a_design_has() -> None:
    lists = {
        "hooks": SOUND.hooks,
        "pins": SOUND.pins,
        "stay_bolts": SOUND.stay_bolts,
        "springs": SOUND.springs,
        "bearings": SOUND.bearings,
        "idle_sheaves": shipped("ardle-3000").idle_sheaves,
        "overload_limiter": (shipped("ardle-2000-ol").overload_limiter,),
    }
    for key in ways():
        table, _, name = key.partition(".")
        owner = lists[table][0] if table in lists else getattr(SOUND, table)
        assert not name or hasattr(owner, name), key
