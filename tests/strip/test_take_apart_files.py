"""Take-apart files that stand beside a design file, and those that several families share."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoistwright.faults import FaultsError
from hoistwright.hoist.library import load_design, shipped, shipped_keys

OWN = """
format = 1
key = "own"
[identity]
maker = "Ardle"
model = "own"
kind = "hand chain hoist"
[[parts]]
key = "cover"
name = "cover"
"""

BESIDE = """
[[parts]]
key = "cover"
outside = true
[[take_apart]]
key = "cover_off"
name = "Take off the cover."
frees = ["cover"]
minutes = "2 min"
"""


def written(folder: Path, beside: str, own: str = OWN) -> Path:
    design = folder / "own.toml"
    design.write_text(own, encoding="utf-8")
    (folder / "own.take-apart.toml").write_text(beside, encoding="utf-8")
    return design


def test_steps_beside_a_design_are_taken_in(tmp_path: Path) -> None:
    design = load_design(written(tmp_path, BESIDE))
    assert [step.key for step in design.take_apart] == ["cover_off"]
    assert float(design.take_apart[0].minutes) == 120
    assert design.part("cover").outside


def test_a_file_beside_a_design_is_no_design() -> None:
    assert not [key for key in shipped_keys() if "take-apart" in key]


def test_a_fault_beside_is_named(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="take_apart"):
        load_design(written(tmp_path, BESIDE.replace("2 min", "2 kg")))
    with pytest.raises(FaultsError, match="the part 'lid'"):
        load_design(written(tmp_path, BESIDE.replace('frees = ["cover"]', 'frees = ["lid"]')))


def test_an_unknown_shared_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="'commn'; expected one of: common"):
        load_design(written(tmp_path, 'like = "commn"\n' + BESIDE))


def test_a_design_may_change_one_step_of_its_family() -> None:
    light, heavy = shipped("ardle-3000"), shipped("ardle-10000")
    first = {design.key: design.take_apart[0] for design in (light, heavy)}
    assert first["ardle-10000"].minutes > first["ardle-3000"].minutes
    assert first["ardle-10000"].name == first["ardle-3000"].name
