"""A sheet with a design file of its own, and one whose data plate cannot be read."""

from pathlib import Path
from typing import Any

import pytest

from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped_folder
from hoistwright.sheet import read_sheet, sheet_toml

SHEET = """\
format = 1
job = "KQ-0413"
design = "own/unknown.toml"

[work]
examined_on = 2026-11-25
examined_by = "mara"
bases = ["b30-hand-hoists"]

[[look]]
part = "data_plate"
feature = "legible"
answer = "defect"
remark = "painted over"
"""


@pytest.fixture
def own_design(tmp_path: Path) -> Path:
    """The 2 t design under another name, in a folder beside the sheet."""
    folder = tmp_path / "own"
    folder.mkdir()
    for name in ("ardle-2000.toml", "ardle-2000.take-apart.toml"):
        source = shipped_folder() / name
        if source.exists():
            text = source.read_text(encoding="utf-8").replace('"ardle-2000"', '"unknown"')
            (folder / name.replace("ardle-2000", "unknown")).write_text(text, encoding="utf-8")
    return folder / "unknown.toml"


def test_an_illegible_plate_is_a_finding_and_no_fault(own_design: Path, save: Any) -> None:
    sheet = read_sheet(save("sheet.toml", SHEET))
    assert sheet.design == "own/unknown.toml"
    assert (sheet.hoist.serial, sheet.hoist.rated_load) == ("", None)
    assert sheet.looks[0].answer == "defect"
    assert read_sheet(save("again.toml", sheet_toml(sheet))) == sheet


def test_a_design_file_is_looked_for_beside_the_sheet(own_design: Path, save: Any) -> None:
    own_design.unlink()
    with pytest.raises(FaultsError, match=r"own/unknown\.toml: read No such file"):
        read_sheet(save("sheet.toml", SHEET))


def test_faults_of_the_design_file_keep_their_place(own_design: Path, save: Any) -> None:
    own_design.write_text("format = 1\nkey = 7\n", encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("sheet.toml", SHEET))
    assert all(fault.place.file == str(own_design) for fault in caught.value.faults)
    assert any(fault.place.line == 2 for fault in caught.value.faults)
