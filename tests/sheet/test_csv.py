"""CSV as spreadsheets write it: separators, quotes, encodings, and lines that faults name."""

from typing import Any

import pytest

from hoistwright.faults import FaultsError
from hoistwright.sheet import read_sheet

LINES = (
    ("format", "1"),
    ("job", "KQ-0412"),
    ("Design", "ardle-2000"),
    ("Serial number", "A-2210"),
    ("Customer", "Pelorus Boatyard"),
    ("examined on", "2026-11-25"),
    ("examined by", "mara"),
    ("bases", "b30-hand-hoists"),
    (),
    ("# A line that is not read",),
    ("Part", "Feature", "Place", "Reading", "Unit", "Answer", "Remark"),
    ("top_hook", "throat", "", "72.4", "mm", "", ""),
    ("load_chain", "link_pitch", "", "0.95", "in", "", "near the hook"),
    ("bottom_hook", "cracks", "", "", "", "ok", ""),
)


def text(separator: str = ",", ending: str = "\n", **changed: str) -> str:
    rows = [separator.join(line) for line in LINES]
    out = ending.join(rows) + ending
    for old, new in changed.items():
        assert old in out
        out = out.replace(old, new, 1)
    return out


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_separators_and_line_ends(separator: str, ending: str, save: Any) -> None:
    sheet = read_sheet(save("a.csv", text(separator, ending)))
    throat, pitch = sheet.readings
    assert throat.values == (0.0724,)
    assert (pitch.values, pitch.unit, pitch.place) == ((0.02413,), "in", "worst link")
    assert sheet.customer.name == "Pelorus Boatyard"
    assert throat.source.line == 12


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_encodings_with_a_mark(encoding: str, save: Any) -> None:
    named = text().replace("Pelorus", "Pélorus").encode(encoding)
    assert read_sheet(save("a.csv", named)).customer.name == "Pélorus Boatyard"


def test_a_code_page_is_not_guessed(save: Any) -> None:
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("a.csv", text().replace("Pelorus", "Pélorus").encode("cp1252")))
    (fault,) = caught.value.faults
    assert fault.place.line == 5
    assert "in Windows-1252: 'Customer,Pélorus B'" in fault.read
    assert "CSV UTF-8" in fault.mend


def test_a_comma_in_an_unquoted_value_is_no_second_value(save: Any) -> None:
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("a.csv", text(Boatyard="Boatyard, Quay Road")))
    assert "nothing after the value of a header line" in str(caught.value)
    assert caught.value.faults[0].place.line == 5


def test_quotes_hold_separators_and_line_ends_and_lines_still_count(save: Any) -> None:
    quoted = text(Boatyard='"Boatyard"').replace(
        'Pelorus "Boatyard"', '"Pelorus\nBoatyard, ""Quay"" Road"'
    )
    sheet = read_sheet(save("a.csv", quoted))
    assert sheet.customer.name == 'Pelorus Boatyard, "Quay" Road'
    assert sheet.readings[0].source.line == 13
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("b.csv", quoted.replace("72.4", "724")))
    assert (caught.value.faults[0].place.line, caught.value.faults[0].place.column) == (
        13,
        "4 (reading)",
    )


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"Serial number": "Seriall number"}, "Did you mean 'serial number'?"),
        ({"Serial number": "job"}, "'job' a second time"),
        ({"Answer": "Anwser"}, "Did you mean 'answer'?"),
        ({"Answer": "Place"}, "'Place' a second time"),
        ({"near the hook": "near the hook,more"}, "this column has no heading"),
        ({"72.4": '"72.4'}, "broken quotes"),
        ({"Feature": "What"}, "no table with the columns part and feature"),
        ({",ok,": ",ok,,,,,,"}, ""),
    ],
)
def test_slips_of_layout(changed: dict[str, str], said: str, save: Any) -> None:
    path = save("a.csv", text(**changed))
    if not said:
        assert len(read_sheet(path).looks) == 1
        return
    with pytest.raises(FaultsError) as caught:
        read_sheet(path)
    assert said in str(caught.value)


def test_semicolons_between_cells_leave_commas_to_the_figures(save: Any) -> None:
    sheet = read_sheet(save("a.csv", text(";").replace("72.4", '"72,4; 72,5"')))
    assert sheet.readings[0].values == (0.0724, 0.0725)


def test_a_spreadsheets_note_of_its_separator_is_not_read(save: Any) -> None:
    assert len(read_sheet(save("a.csv", "sep=;\n" + text(";"))).looks) == 1


def test_a_table_without_end_is_refused(save: Any) -> None:
    with pytest.raises(FaultsError, match="5,000 rows"):
        read_sheet(save("a.csv", text() + "top_hook,throat,,72.4\n" * 5001))
