"""A fault names the entry, its line in the design's own file, and what may stand there."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoistwright.faults import Fault, FaultsError
from hoistwright.hoist.library import load_design, shipped_folder

SOUND = (shipped_folder() / "ardle-2000.toml").read_text(encoding="utf-8")


def faults_after(tmp_path: Path, old: str, new: str) -> tuple[Fault, ...]:
    assert old in SOUND
    file = tmp_path / "own.toml"
    file.write_text(SOUND.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        load_design(file)
    return caught.value.faults


def line_of(text: str) -> int:
    return SOUND[: SOUND.index(text)].count("\n") + 1


def test_an_entry_is_named_by_its_part(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, 'depth = "36 mm"', 'depth = "36 kg"')
    assert fault.place.key == "hooks[top_hook].depth"
    assert fault.place.line == line_of('depth = "36 mm"')
    assert "'kg' is a unit of mass" in str(fault)


def test_a_plain_key_has_its_line(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, "pockets = 4", 'pockets = "four"')
    assert fault.place.key == "load_sheave.pockets"
    assert fault.place.line == line_of("pockets = 4")
    assert fault.expected == "a whole number"


def test_a_limit_is_named_by_its_feature(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, 'limit = "6 mm"', "limit = 6")
    assert fault.place.key == "maker_limits[pawl.tip_height].limit"
    assert fault.place.line == line_of('limit = "6 mm"')


@pytest.mark.parametrize("limit", ["6 kg", "6", "six", "-6 mm", ""])
def test_a_limit_needs_a_figure_of_its_feature(tmp_path: Path, limit: str) -> None:
    [fault] = faults_after(tmp_path, 'limit = "6 mm"', f'limit = "{limit}"')
    assert fault.place.key == "maker_limits[pawl.tip_height].limit"


@pytest.mark.parametrize("new", ["7 kg", "7", "-7 mm", "5.9 mm", "6 mm"])
def test_an_as_new_value_is_a_size_on_the_good_side_of_its_limit(tmp_path: Path, new: str) -> None:
    """A tip that wears down to 6 mm cannot have begun at 6 mm or less."""
    [fault] = faults_after(tmp_path, 'as_new = "7 mm"', f'as_new = "{new}"')
    assert fault.place.key == "maker_limits[pawl.tip_height].as_new"
    assert fault.place.line == line_of('feature = "pawl.tip_height"')


def test_a_share_of_one_and_more_is_a_forgotten_per_cent_sign(tmp_path: Path) -> None:
    old = 'comparison = "at most"\nlimit = "0.4 mm"'
    [fault] = faults_after(tmp_path, old, 'comparison = "loss from as new"\nlimit = "5"')
    assert "2.5 %" in fault.expected


def test_a_part_that_is_not_listed(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, 'part = "stay_bolt"', 'part = "stay_blt"')
    assert fault.place.key == "stay_bolts[stay_blt].part"
    assert fault.place.line == line_of('part = "stay_bolt"')
    assert fault.expected == "the key of a part in [[parts]]"


def test_an_unknown_feature_and_a_comparison_that_does_not_fit(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, '"pawl.tip_height"', '"pawl.tip_hight"')
    assert "catalogue" in fault.expected
    faults = faults_after(tmp_path, '"pawl.tip_height"', '"pawl.free"')
    assert any("a look" in fault.read for fault in faults)


def test_an_unknown_role_names_the_known_ones(tmp_path: Path) -> None:
    extra = '[[parts]]\nkey = "new"\nname = "new"\nrole = "hock"\n\n[rating]'
    [fault] = faults_after(tmp_path, "[rating]", extra)
    assert fault.place.key == "parts[new].role"
    assert "hook" in fault.expected


def test_a_key_that_stands_twice(tmp_path: Path) -> None:
    extra = '[[parts]]\nkey = "new"\nname = "a"\n\n' * 2 + "[rating]"
    faults = faults_after(tmp_path, "[rating]", extra)
    assert [fault.expected for fault in faults] == ["each key once"]


def test_an_unknown_family(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, '"hand-chain-single-fall"', '"hand-chain"')
    assert "hand-chain-multi-fall" in fault.expected


def test_without_a_part_the_family_does_not_have(tmp_path: Path) -> None:
    faults = faults_after(tmp_path, "\n[identity]", 'without = ["hook_oil", "x"]\n\n[identity]')
    assert [fault.read for fault in faults] == ["'hook_oil'", "'x'"]


def test_a_format_of_another_time(tmp_path: Path) -> None:
    [fault] = faults_after(tmp_path, "format = 1", "format = 7")
    assert fault.place.key == "format"


def test_all_faults_come_at_once(tmp_path: Path) -> None:
    old = 'wire = "8 mm"\npitch = "24 mm"'
    faults = faults_after(tmp_path, old, 'wire = "8 kg"\npitch = 24\nfoo = 1')
    assert {fault.place.key for fault in faults} == {
        "load_chain.wire",
        "load_chain.pitch",
        "load_chain.foo",
    }
