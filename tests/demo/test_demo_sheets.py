"""The demo shop: each scenario comes out as it is meant to, and the files are the tool's own."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from hoistwright.demo.shop_files import demo_folder, demo_sheets
from hoistwright.examine.chain_split import SplitKind
from hoistwright.examine.result import Examination
from hoistwright.faults import FaultsError
from hoistwright.job.shop_file import load_shop
from hoistwright.sheet import read_sheet
from hoistwright.sheet.examine_sheet import examine_sheet

ROOT = Path(__file__).parents[2]
SHOP = load_shop(demo_folder() / "shop.toml")
SHEETS = {path.stem: path for path in demo_sheets()}


def examined(name: str) -> Examination:
    return examine_sheet(read_sheet(SHEETS[name], shop=SHOP), SHOP)


def bad(name: str) -> set[str]:
    return {v.feature for v in examined(name).verdicts if v.outcome.words != "fit"}


def test_there_are_at_least_ten_sheets_in_all_three_formats() -> None:
    assert len(SHEETS) >= 10
    assert {path.suffix for path in SHEETS.values()} == {".toml", ".csv", ".xlsx"}


@pytest.mark.parametrize("name", ["01-sound", "11-sound-inches"])
def test_sound_hoists_are_fit(name: str) -> None:
    found = examined(name)
    assert found.outcome.words == "fit"
    assert found.adopted


def test_the_worn_chain_is_worn_and_the_overstrained_one_overstrained() -> None:
    worn, strained = examined("02-worn-chain"), examined("03-overstrained-chain")
    assert {item.kind for item in worn.splits} == {SplitKind.WORN}
    assert SplitKind.OVERSTRAINED in {item.kind for item in strained.splits}
    assert worn.outcome.words == strained.outcome.words == "renew"
    assert not any("overstrained" in f.title for f in worn.findings)
    assert any("overstrained" in f.title for f in strained.findings)
    assert any("hook has opened" in f.title for f in strained.findings)


@pytest.mark.parametrize(
    ("name", "outcome", "features"),
    [
        ("04-oil-on-discs", "renew", {"friction_disc.clean_dry", "ratchet_disc.faces"}),
        ("05-seized-pawl", "renew", {"pawl.free", "pawl.heard", "pawl_spring.condition"}),
        ("06-borderline-throat", "borderline", {"hook.throat"}),
        ("09-illegible-plate", "renew", {"data_plate.legible"}),
        ("12-limiter-seal", "renew", {"overload_limiter.seal"}),
    ],
)
def test_what_is_wrong_is_named_and_nothing_else(
    name: str, outcome: str, features: set[str]
) -> None:
    assert examined(name).outcome.words == outcome
    assert bad(name) == features


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("07-gauge-out-of-date", "due for calibration on 2026-09-14"),
        ("08-missing-baseline", "no as-new value"),
    ],
)
def test_what_is_missing_is_not_established(name: str, said: str) -> None:
    found = examined(name)
    assert found.outcome.words == "not established"
    assert any(said in verdict.why for verdict in found.not_established)


def test_typing_mistakes_are_all_named_and_nothing_is_taken_over() -> None:
    with pytest.raises(FaultsError) as error:
        read_sheet(SHEETS["10-typing-mistakes"], shop=SHOP)
    text = str(error.value)
    for read in ("7O.2", "2.74", "33.65", "24.1 kg", "-15.98", "maybe", "defekt", "mic-9"):
        assert read in text
    assert "1.409" not in text  # an inch reading on a metric sheet is fine
    assert all(fault.place.line and fault.place.column for fault in error.value.faults)


def test_the_basis_that_is_not_adopted_says_so() -> None:
    found = examined("12-limiter-seal")
    assert not found.adopted
    assert any("not adopted" in state.sentence for state in found.adoptions)


def test_the_files_are_what_the_tool_writes(tmp_path: Path) -> None:
    """Otherwise a demo sheet and its scenario would drift apart."""
    tool = ROOT / "tools" / "make_demo.py"
    subprocess.run([sys.executable, str(tool), str(tmp_path)], check=True, capture_output=True)
    for name, path in SHEETS.items():
        made = tmp_path / path.name
        if path.suffix != ".xlsx":
            assert made.read_bytes() == path.read_bytes(), name
        else:
            assert read_sheet(made, shop=SHOP) == read_sheet(path, shop=SHOP)
