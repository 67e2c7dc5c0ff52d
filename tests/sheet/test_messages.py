"""What a wrong cell says: where, what was read, what was expected, how to mend it."""

import datetime
import re
from typing import Any

import pytest

from hoistwright.faults import FaultsError
from hoistwright.job.shop import Shop
from hoistwright.sheet import read_sheet

GOOD = """\
format = 1
job = "KQ-0412"
design = "ardle-2000"

[hoist]
maker = "Ardle"
model = "2000"
manufactured = "2019-05"
rated_load = "2 t"

[work]
examined_on = 2026-11-25
examined_by = "mara"
received_on = 2026-11-23
bases = ["b30-hand-hoists"]

[sheet]
units = "mm"

[[reading]]
part = "load_chain"
feature = "gauge_length"
place = "section 1"
value = ["326,5", 326.6]
gauge = "C1"
links = 13

[[reading]]
part = "top hook"
feature = "throat"
value = "72.4"
gauge = "caliper 1"

[[look]]
part = "bottom_hook"
feature = "hook.cracks"
answer = "yes"
"""

TODAY = datetime.date(2026, 11, 26)


def test_the_good_sheet_is_good(save: Any, shop: Shop) -> None:
    sheet = read_sheet(save("sheet.toml", GOOD), shop=shop, today=TODAY)
    chain, throat = sheet.readings
    assert chain.values == (0.3265, 0.3266)
    assert (throat.part, throat.feature, throat.gauge) == ("top_hook", "hook.throat", "C1")
    assert (sheet.looks[0].feature, sheet.looks[0].answer) == ("hook.cracks", "in order")
    assert sheet.hoist.rated_load == 2000.0
    assert (chain.source.line, throat.source.line) == (20, 28)


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ("format = 1", "format = 2", 1, "the format this version reads"),
        ('job = "KQ-0412"', 'job = ""', 2, "the number of this job"),
        ('job = "KQ-0412"', 'jbo = "KQ-0412"', 2, "Did you mean 'job'?"),
        ('"ardle-2000"', '"ardel-2000"', 3, "Did you mean 'ardle-2000'?"),
        ('"ardle-2000"', '""', 3, "begin a design file"),
        ('"ardle-2000"', '"mine/none.toml"', None, "No such file"),
        ('"2019-05"', '"2031"', 8, "not after the examination on 2026-11-25"),
        ('"2 t"', '"2"', 9, "without a unit"),
        ('"2 t"', '"2 ton"', 9, "short ton"),
        ("examined_on = 2026-11-25", 'examined_on = "11/25/2026"', 12, "country to country"),
        ("examined_on = 2026-11-25", 'examined_on = "31.11.2026"', 12, "no such day"),
        ("examined_on = 2026-11-25", "examined_on = 2027-11-25", 12, "today, 2026-11-26"),
        ("received_on = 2026-11-23", "received_on = 2026-11-26", 14, "not after the examination"),
        ("received_on = 2026-11-23", "received_on = 1026-11-23", 14, "from 1950-01-01"),
        ('"mara"', '"marra"', 13, "Did you mean 'mara'?"),
        ('"mara"', '"ines"', 13, "whose role is counter"),
        ('["b30-hand-hoists"]', '["b30-hand-hoist"]', 15, "Did you mean 'b30-hand-hoists'?"),
        ('["b30-hand-hoists"]', "[]", 15, "keys of the bases"),
        ('units = "mm"', 'units = "furlong"', 18, "mm or in"),
        ('part = "load_chain"', 'part = "laod_chain"', 21, "Did you mean 'load_chain'?"),
        ('part = "load_chain"', 'part = "gear_case_nut"', 21, "leave the row out"),
        ('"gauge_length"', '"gauge_lenght"', 22, "Did you mean 'gauge_length'?"),
        ('"section 1"', '"middle"', 23, "one of: section 1, section 2, section 3, unworn"),
        ('"section 1"', '"section 0"', 23, "one of: section 1"),
        ('["326,5", 326.6]', '["326,5", "32,66"]', 24, "or 326.6 mm?"),
        ('["326,5", 326.6]', "12.858", 24, "Did you mean 12.858 in?"),
        ('["326,5", 326.6]', "-326.6", 24, "a figure of zero or more"),
        ('["326,5", 326.6]', "nan", 24, "a finite figure"),
        ('["326,5", 326.6]', "inf", 24, "a finite figure"),
        ('["326,5", 326.6]', '"326.5 kg"', 24, "a unit of mass"),
        ('["326,5", 326.6]', '"long"', 24, "read 'long'"),
        ('["326,5", 326.6]', '"3.265e2"', 24, "Write the figure out in full"),
        ('["326,5", 326.6]', "true", 24, "a length with its unit"),
        ('["326,5", 326.6]', "2026-01-04", 24, "the date 2026-01-04"),
        ('gauge = "C1"', 'gauge = "C9"', 25, "a gauge of the shop file: C1"),
        ("links = 13", "links = 2", 26, "3 or more"),
        ("links = 13", "links = 13.5", 26, "a whole number of links"),
        ('gauge = "caliper 1"', "links = 13", 32, "not measured over links"),
        ('answer = "yes"', 'answer = "perhaps"', 37, "in order, defect or not looked"),
        ('answer = "yes"', 'answer = ""\nremark = "dirty"', 37, "in order, defect or not looked"),
        ('"hook.cracks"', '"throat"', 37, "its figure goes under reading"),
        ('feature = "throat"', 'feature = "cracks"', 31, "cracks is a look"),
        ("[hoist]\n", "hoist = 3\n[customer]\n#", 5, "a table [hoist]"),
        ("[sheet]\n", "[sheet]\ncolour = 1\n", 18, "one of: confirmed, decimal, units"),
        ('units = "mm"', 'units = ["mm"]', 18, "one value"),
        ('["b30-hand-hoists"]', "[30]", 15, "a list of keys in quotes"),
        ('["b30-hand-hoists"]', '["b30-hand-hoists", "B30-hand-hoists"]', 15, "each basis once"),
        ('["b30-hand-hoists"]', '[";"]', 15, "at least one basis"),
        ('feature = "throat"', 'feature = ["throat"]', 30, "one value"),
        ('value = "72.4"', 'valeu = "72.4"', 31, "Did you mean 'value'?"),
        ('value = "72.4"', "value = [[72.4]]", 31, "a figure, or a list of figures"),
        ('value = "72.4"', f"value = {[72.4] * 101}", 31, "at most 100 repeats"),
        ('value = "72.4"', 'value = "72.4"\nunit = "kg"', 32, "a unit of mass"),
        ('value = "72.4"', 'value = "72.4"\nby = "zed"', 32, "a person of the shop file"),
        ('value = "72.4"', "value = 07:30:00", 31, "read a time of day"),
        ('rated_load = "2 t"', 'rated_load = "2000 t"', 9, "between 1 kg and 1000 t"),
        ('units = "mm"', 'units = "mm"\nconfirmed = "perhaps"', 19, "yes or no"),
        (
            '[[look]]\npart = "bottom_hook"',
            '[[reading]]\npart = "bottom_hook"',
            None,
            "unknown key",
        ),
        ('"caliper 1"', '"caliper 1\\u0007"', 32, "the control sign U+0007"),
        ('"caliper 1"', '"' + "x" * 2001 + '"', 32, "at most 2,000 characters"),
    ],
)
def test_each_slip_is_named(
    old: str, new: str, line: int | None, said: str, save: Any, shop: Shop
) -> None:
    assert GOOD.count(old) >= 1
    path = save("sheet.toml", GOOD.replace(old, new, 1))
    with pytest.raises(FaultsError) as caught:
        read_sheet(path, shop=shop, today=TODAY)
    fault = next(fault for fault in caught.value.faults if said in str(fault))
    if line is not None:
        assert (fault.place.file, fault.place.line) == (str(path), line)


def test_all_faults_come_at_once(save: Any, shop: Shop) -> None:
    wrong = GOOD.replace('"mara"', '"nobody"').replace('"72.4"', '"7.24"').replace('"yes"', '"?"')
    wrong = wrong.replace("links = 13", "lniks = 13")
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("sheet.toml", wrong), shop=shop)
    assert len(caught.value.faults) == 4


def test_after_five_hundred_faults_the_rest_is_left(save: Any) -> None:
    wrong = '\n[[look]]\npart = "crane"\nfeature = "cracks"\nanswer = "ok"\n'
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("sheet.toml", GOOD + wrong * 600))
    assert len(caught.value.faults) == 501
    assert "the rows from here on were not looked at" in str(caught.value.faults[-1])


def test_a_long_line_costs_no_time_to_find(save: Any) -> None:
    """A line of brackets and blanks once took minutes to be searched for a key."""
    remark = 'remark = """\n[' + " " * 100_000 + '\n"""\n'
    with pytest.raises(FaultsError, match="at most 2,000 characters"):
        read_sheet(save("sheet.toml", GOOD.replace("[sheet]", remark + "[sheet]")))


def test_a_point_that_stands_twice_is_named_with_its_first_place(save: Any) -> None:
    again = '\n[[reading]]\npart = "Top Hook"\nfeature = "throat opening"\nvalue = 72.5\n'
    with pytest.raises(FaultsError) as caught:
        read_sheet(save("sheet.toml", GOOD + again))
    text = str(caught.value)
    assert "top_hook, hook.throat a second time" in text
    assert "it stands at line 28" in text
    assert "Repeats of one reading go into one row" in text


def test_further_sections_may_be_added_and_further_pieces_may_not(save: Any) -> None:
    chain = GOOD.replace('"section 1"', '"Section 7"', 1)
    assert read_sheet(save("a.toml", chain)).readings[0].place == "section 7"
    pawl = '\n[[look]]\npart = "pawl"\nfeature = "tip"\nplace = "3"\nanswer = "ok"\n'
    sheet = read_sheet(save("b.toml", GOOD + pawl.replace('"3"', '"2"')))
    assert sheet.looks[-1].place == "2"
    with pytest.raises(FaultsError, match="one of: 1, 2"):
        read_sheet(save("c.toml", GOOD + pawl))


def test_an_odd_size_is_taken_once_it_is_confirmed(save: Any) -> None:
    odd = GOOD.replace('"72.4"', '"7.24 mm"')
    with pytest.raises(FaultsError, match=r"measure again and write '7\.24 mm!'"):
        read_sheet(save("a.toml", odd))
    sure = read_sheet(save("b.toml", odd.replace("7.24 mm", "7.24 mm!")))
    assert sure.readings[1].values == (0.00724,)


def test_confirming_does_not_make_a_sign_or_a_word_a_figure(save: Any) -> None:
    for typed in ('"-7 mm!"', '"!"', '"long!"'):
        with pytest.raises(FaultsError):
            read_sheet(save("a.toml", GOOD.replace('"72.4"', typed)))


def test_repeats_stand_in_one_cell_between_semicolons(save: Any) -> None:
    sheet = read_sheet(save("a.toml", GOOD.replace('"72.4"', '"72,4; 72.5;2 7/8 in"')))
    assert sheet.readings[1].values == (0.0724, 0.0725, 0.073025)


def test_a_remark_without_a_figure_is_kept(save: Any) -> None:
    told = GOOD.replace('value = "72.4"', 'remark = "no access"')
    reading = read_sheet(save("a.toml", told)).readings[1]
    assert (reading.values, reading.remark) == ((), "no access")


def test_an_unfilled_row_may_stand_beside_a_filled_one_only_once(save: Any) -> None:
    empty = '\n[[reading]]\npart = "top_hook"\nfeature = "throat"\n'
    sheet = read_sheet(save("a.toml", GOOD + empty))
    assert len(sheet.readings) == 2


@pytest.mark.parametrize(
    ("data", "name", "said"),
    [
        (b"PK\x03\x04 whatever", "sheet.csv", "an XLSX file"),
        (b"\xd0\xcf\x11\xe0 whatever", "sheet.toml", "an old .xls file"),
        (b"part,feature", "sheet.xlsx", "no XLSX file, whatever its name"),
        (b"\xd0\xcf\x11\xe0 whatever", "sheet.xlsx", "an old .xls file, or an XLSX file with a"),
        (b"PK\x03\x04 whatever", "sheet.xlsx", "a broken XLSX file"),
        (b"%PDF-1.7", "sheet.csv", "a PDF file"),
        (b"x", "sheet.ods", "the ending '.ods'"),
        (b"job = \xe9", "sheet.toml", "byte 0xE9, which is not UTF-8"),
        ("part,feature".encode("utf-16-le"), "sheet.csv", "UTF-16 without its byte order mark"),
        (b"", "sheet.csv", "no table with the columns part and feature"),
        (b"", "sheet.toml", "1, the format this version reads"),
        (b"a = ", "sheet.toml", "text that is not TOML"),
        (b" " * 5_000_001, "sheet.csv", "5,000,001 bytes"),
    ],
)
def test_a_file_that_is_no_sheet_says_so(data: bytes, name: str, said: str, save: Any) -> None:
    with pytest.raises(FaultsError) as caught:
        read_sheet(save(name, data))
    assert said in str(caught.value)


def test_a_missing_file_and_a_folder_are_named(tmp_path: Any) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(FaultsError, match=re.escape(str(path))):
            read_sheet(path)
