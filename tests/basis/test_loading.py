"""Loading bases: what is refused, in which words, at which file, line and key."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from hoistwright.basis.limit_value import criterion_limit
from hoistwright.basis.loading import find_basis, load_basis, shipped_bases, shipped_basis
from hoistwright.basis.model import limit_on
from hoistwright.faults import Fault, FaultsError

Written = Callable[..., Path]

CRITERION = """id = "own-throat"
title = "Hook opened"
feature = "hook.throat"
comparison = "rise from as new"

[[limit]]
since = 2005-12-05
value = "5 %"
source = "asme-b30.10"
clause = "10"
edition = "2005"
known = "memory"
"""
HEAD = 'format = 1\nkey = "own"\ntitle = "Own basis"\n'


def _faults(folder: Path) -> tuple[Fault, ...]:
    with pytest.raises(FaultsError) as caught:
        load_basis(folder)
    return caught.value.faults


def test_a_sound_basis_loads(own: Written) -> None:
    basis = load_basis(own())
    (criterion,) = basis.criteria
    found = criterion_limit(criterion, datetime.date(2026, 1, 1))
    assert found is not None
    assert (basis.key, found.si, found.dated.source) == ("own", 0.05, "asme-b30.10")
    assert [source.key for source in basis.sources] == ["asme-b30.10"]


def test_no_limit_before_the_first_and_none_after_a_dropped_one() -> None:
    twist = next(c for c in shipped_basis("b30-hand-hoists").criteria if c.id == "b30-hook-twist")
    assert limit_on(twist, datetime.date(1974, 12, 31)) is None
    assert criterion_limit(twist, datetime.date(1974, 12, 31)) is None
    assert limit_on(twist, datetime.date(2005, 12, 4)) is twist.limit[0]
    assert limit_on(twist, datetime.date(2005, 12, 5)) is None


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "read", "expected"),
    [
        ('"asme-b30.10"', '"asme-b31"', 9, "limit[1].source", "'asme-b31'",
         "a key of SOURCES.toml"),
        ('"10"', '" "', 10, "limit[1].clause", "nothing", "a limit without its source"),
        ('"2005"', '""', 11, "limit[1].edition", "nothing", "a limit without its source"),
        ('edition = "2005"\n', "", 6, "limit[1].edition", "nothing", "this key: text in quotes"),
        ('known = "memory"\n', "", 6, "limit[1].known", "nothing", '"read", "memory", "practice"'),
        ('"memory"', '"rumour"', 12, "limit[1].known", "'rumour'", '"read", "memory", "practice"'),
        ('source = "asme-b30.10"\n', "", 6, "limit[1].source", "nothing", "this key"),
        ("hook.throat", "hook.mouth", 3, "feature", "'hook.mouth'", "hook.throat, hook.twist"),
        ("hook.throat", "hok.throat", 3, "feature", "'hok.throat'", "roles are: bearing"),
        ("hook.throat", "hook.latch", 4, "comparison", "on a look", '"in order"'),
        ("rise from as new", "in order", 4, "comparison", "on a measured", "with a limit"),
        ("rise from as new", "elongation", 4, "comparison", "a chain gauge", "counts links"),
        ("hook.throat", "hook.twist", 4, "comparison", "as new being zero", '"at most"'),
        ('"5 %"', '"5 mm"', 8, "limit[1].value", "'mm'", "unit of ratio"),
        ('"5 %"', '"5"', 8, "limit[1].value", "'5'", "a share below 100 %"),
        ('"5 %"', '"0 %"', 8, "limit[1].value", "'0 %'", "a limit above zero"),
        ('"5 %"', '""', 8, "limit[1].value", "nothing", "a ratio"),
        ("rise from as new", "rise by", 8, "limit[1].value", "'%'", "unit of length"),
        ('"own-throat"', '"Own Throat"', 1, "id", "'Own Throat'", "small letters"),
        ('"Hook opened"', '""', 2, "title", "nothing", "words"),
        ("2005-12-05", '"2005-12-05"', 7, "limit[1].since", "'2005-12-05'", "without quotes"),
        ("known", "until = 2004-01-01\nknown", 12, "limit[1].until",
         "before its since", "a day from"),
        ("comparison", 'of = "mean of directions"\ncomparison', 4, "of", "directions", '"each"'),
        ("comparison", 'gauge_from = "3 mm"\ngauge_to = "2 mm"\ncomparison', 4, "gauge_from",
         "a chain gauge", "counts links"),
        ("comparison", 'colour = "red"\ncomparison', 4, "colour", "an unknown key", "one of:"),
        ("[[limit]]", "[applies]\nfalls_at_least = 0\n[[limit]]", 7, "applies.falls_at_least", "0",
         "1 or more"),
        ("[[limit]]", '[[table]]\nsize = "1 in"\nvalue = "1 kg"\n[[limit]]', 8, "table[1].value",
         "'kg'", "unit of length"),
        ("[[limit]]", '[[table]]\nsize = "1 in"\nvalue = "1 in"\n[[limit]]', 6, "table[1]",
         "a table on a criterion that decides", "number check"),
    ],
)  # fmt: skip
def test_one_fault_is_named(
    own: Written, old: str, new: str, line: int, key: str, read: str, expected: str
) -> None:
    folder = own(throat=CRITERION.replace(old, new, 1))
    fault = next(f for f in _faults(folder) if f.place.key == key)
    assert fault.place.file == str(folder / "throat.toml")
    assert fault.place.line == line
    assert read in fault.read
    assert expected in fault.expected


def test_all_faults_of_all_files_come_at_once(own: Written) -> None:
    folder = own(
        head=HEAD.replace("own", "other").replace("format = 1", "format = 2"),
        throat=CRITERION.replace("asme-b30.10", "asme").replace('"10"', '""'),
        wear=CRITERION.replace("own-throat", "own-wear").replace("5 %", "5 kg"),
        torn="id = ",
    )
    found = {(Path(f.place.file).name, f.place.key) for f in _faults(folder)}
    assert found == {
        ("basis.toml", "format"),
        ("basis.toml", "key"),
        ("throat.toml", "limit[1].source"),
        ("throat.toml", "limit[1].clause"),
        ("wear.toml", "limit[1].value"),
        ("torn.toml", ""),
    }


def test_an_id_twice_is_named_in_both_files(own: Written) -> None:
    faults = _faults(own(again=CRITERION))
    assert [Path(f.place.file).name for f in faults] == ["again.toml", "throat.toml"]
    assert {f.read for f in faults} == {"'own-throat', which another file has too"}


def test_two_limits_from_one_day_are_refused(own: Written) -> None:
    twice = CRITERION + CRITERION[CRITERION.index("[[limit]]") :].replace("5 %", "4 %")
    (fault,) = _faults(own(throat=twice))
    assert (fault.place.line, fault.place.key) == (14, "limit[2].since")
    assert fault.read == "2005-12-05 a second time"


def test_an_end_past_the_next_limit_is_refused(own: Written) -> None:
    first = CRITERION.replace("known", "until = 2012-01-01\nknown")
    later = CRITERION[CRITERION.index("[[limit]]") :].replace("2005-12-05", "2010-01-01")
    (fault,) = _faults(own(throat=first + later))
    assert fault.expected == "a day before 2010-01-01"


@pytest.mark.parametrize(
    ("more", "key", "expected"),
    [
        ("[rule]\nguard_factor = -1.0\n", "rule.guard_factor", "above 0 and at most 10"),
        ("[rule]\nmost_probability = 0.9\n", "rule.most_probability", "above 0, at most 0.5"),
        ('[[interval]]\nname = "x"\nkind = "periodic"\nsource = "uk-loler"\nclause = "9"\n'
         'edition = "1998"\nknown = "read"\n', "interval[1].months", "months or days"),
        ('[[report_item]]\nnumber = "1"\nwhat = "x"\nsource = "loler"\nclause = "1"\n'
         'known = "read"\n', "report_item[1].source", "a key of SOURCES.toml"),
        ('[[load_test]]\nname = "x"\nwhen = "y"\nload_from = "125 %"\nload_to = "100 %"\n'
         'source = "asme-hst-3"\nclause = "1"\nedition = "2017"\nknown = "read"\n',
         "load_test[1].load_from", "load_from <= load_to"),
        ('[[load_test]]\nname = "x"\nwhen = "y"\nload_from = "125"\n'
         'source = "asme-hst-3"\nclause = "1"\nedition = "2017"\nknown = "read"\n',
         "load_test[1].load_from", "up to 300 %"),
        ('[[keeping]]\nwhat = ""\nuntil = "x"\nsource = "uk-loler"\nclause = "11"\n'
         'edition = "1998"\nknown = "read"\n', "keeping[1].what", "words"),
    ],
)  # fmt: skip
def test_a_fault_in_the_head_is_named(own: Written, more: str, key: str, expected: str) -> None:
    (fault,) = _faults(own(head=HEAD + more))
    assert fault.place.key == key
    assert expected in fault.expected


def test_a_folder_without_its_own_file_says_so(own: Written) -> None:
    folder = own()
    (folder / "basis.toml").unlink()
    (fault,) = _faults(folder)
    assert (fault.read, fault.expected) == ("no basis.toml", "basis.toml, the basis's own file")


@pytest.mark.parametrize("name", ["nowhere", "own/throat.toml", "a\0b"])
def test_no_folder_is_a_fault(own: Written, name: str) -> None:
    (fault,) = _faults(own().parent / name)
    assert fault.expected == "the folder of a basis"


def test_an_unknown_key_names_the_shipped_bases() -> None:
    with pytest.raises(FaultsError) as caught:
        shipped_basis("b40")
    assert caught.value.faults[0].expected == "one of: " + ", ".join(shipped_bases())


def test_a_shops_own_basis_is_found_beside_its_file_and_a_shipped_one_by_key(own: Written) -> None:
    assert find_basis("own", beside=own().parent).key == "own"
    assert find_basis("uk-loler", beside=own().parent) is shipped_basis("uk-loler")


def test_a_basis_may_bring_its_own_sources(own: Written) -> None:
    folder = own(throat=CRITERION.replace("asme-b30.10", "house"))
    sources = folder / "SOURCES.toml"
    sources.write_text('[[source]]\nkey = "house"\ntitle = "House rules"\n', encoding="utf-8")
    assert [s.title for s in load_basis(folder).sources] == ["House rules"]
    sources.write_text('[[source]]\nkey = "uk-loler"\ntitle = "Ours"\n', encoding="utf-8")
    assert any("a second time" in fault.read for fault in _faults(folder))


def test_litter_with_a_leading_dot_is_left_alone(own: Written) -> None:
    folder = own()
    (folder / "._throat.toml").write_bytes(b"\x00\xff")
    (folder / "notes.txt").write_text("anything", encoding="utf-8")
    assert len(load_basis(folder).criteria) == 1


CHAIN = CRITERION.replace("hook.throat", "load_chain.gauge_length")


@pytest.mark.parametrize(
    ("gauge", "key", "expected"),
    [
        ('gauge_from = "3 mm"\ngauge_to = "2 mm"', "gauge_from", "gauge_from <= gauge_to"),
        ('gauge_to = "2 mm"', "gauge_from", "gauge_from <= gauge_to"),
        ("gauge_links = 0", "gauge_links", "1 or more"),
    ],
)
def test_a_gauge_that_cannot_be_is_named(own: Written, gauge: str, key: str, expected: str) -> None:
    (fault,) = _faults(own(throat=CHAIN.replace("comparison", f"{gauge}\ncomparison", 1)))
    assert (fault.place.key, fault.expected) == (key, expected)


def test_a_look_with_a_figure_is_refused(own: Written) -> None:
    look = CRITERION.replace("hook.throat", "hook.latch").replace("rise from as new", "in order")
    (fault,) = _faults(own(throat=look))
    assert (fault.place.line, fault.expected) == (8, "no value: a look has no limit")


def test_a_criterion_without_any_limit_is_refused(own: Written) -> None:
    (fault,) = _faults(own(throat=CRITERION.split("[[limit]]", maxsplit=1)[0] + "limit = []\n"))
    assert (fault.place.key, fault.read) == ("limit", "no dated limit")


def test_faults_of_its_sources_come_with_the_others(own: Written) -> None:
    folder = own(throat=CRITERION.replace("5 %", "5 kg"))
    (folder / "SOURCES.toml").write_text("[[source]]\nkey = 1\n", encoding="utf-8")
    assert {Path(f.place.file).name for f in _faults(folder)} == {"SOURCES.toml", "throat.toml"}
