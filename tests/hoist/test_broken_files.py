"""Whatever is wrong with a design file, it ends in faults that name it, never in a traceback."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from hoistwright.check import check_design
from hoistwright.faults import Fault, FaultsError
from hoistwright.hoist.library import find_design, load_design, shipped_folder, shipped_keys

SOURCES = {
    key: (shipped_folder() / f"{key}.toml").read_text(encoding="utf-8") for key in shipped_keys()
}
WRONG = (
    "nan", "inf", "-inf", "-1", "0", "1e400", "1e30", "true", "[]", "{}", '""', '"8"', '"8 kg"',
    '"nan mm"', '"-5 mm"', '"1e99 km"', "1979-05-27", "[[1]]", '"\\u0000"', "99999999999999999999",
    '"8 mm 8"', "'''x'''", '"½ in"', '"8 mm"', "[1, 2]", '["a"]', '{ a = 1 }', '"T"',
)  # fmt: skip


def truncated(text: str, rng: random.Random) -> str:
    return text[: rng.randrange(1, len(text))]


def line_gone(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    del lines[rng.randrange(len(lines))]
    return "\n".join(lines)


def line_twice(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    at = rng.randrange(len(lines))
    return "\n".join([*lines[:at], lines[at], *lines[at:]])


def value_wrong(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    at = rng.choice([n for n, line in enumerate(lines) if " = " in line])
    key, _, _ = lines[at].partition(" = ")
    lines[at] = f"{key} = {rng.choice(WRONG)}"
    return "\n".join(lines)


def key_unknown(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    at = rng.choice([n for n, line in enumerate(lines) if " = " in line])
    lines[at] = "x" + lines[at]
    return "\n".join(lines)


def character_changed(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text))
    return text[:at] + rng.choice('"[]={}\n\t\x00é9a.-') + text[at + 1 :]


def headers_swapped(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    heads = [n for n, line in enumerate(lines) if line.startswith("[")]
    one, other = rng.sample(heads, 2)
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


HARMS: tuple[Callable[[str, random.Random], str], ...] = (
    truncated, line_gone, line_twice, value_wrong, value_wrong, key_unknown, character_changed,
    headers_swapped,
)  # fmt: skip


def faults_of(path: Path) -> tuple[Fault, ...]:
    """The faults of a file; () where it is still a design, which then must also be checkable."""
    try:
        design = load_design(path)
    except FaultsError as error:
        return error.faults
    check_design(design)
    return ()


@pytest.mark.parametrize("harm", range(len(HARMS)), ids=lambda at: HARMS[at].__name__)
def test_broken_files_give_faults_or_a_design(tmp_path: Path, harm: int) -> None:
    """84 files for each harm, 672 in all, the same ones at every run."""
    rng = random.Random(harm)
    file, refused = tmp_path / "own.toml", 0
    for number in range(84):
        key = sorted(SOURCES)[number % len(SOURCES)]
        file.write_text(HARMS[harm](SOURCES[key], rng), encoding="utf-8")
        faults = faults_of(file)
        refused += bool(faults)
        for fault in faults:
            assert fault.place.file == str(file)
            assert fault.read
            assert fault.expected
    assert refused > 0


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32", "latin-1", "cp1252"])
def test_another_encoding_is_named(tmp_path: Path, encoding: str) -> None:
    file = tmp_path / "own.toml"
    file.write_bytes(SOURCES["ardle-500"].replace("Invented", "Erfündén").encode(encoding))
    [fault] = faults_of(file)
    assert "UTF-8" in fault.expected


@pytest.mark.parametrize(
    "data", [b"", b"\x00" * 100, b"\xff\xfe\xff", b"[" * 100_000, b"a=1\n" * 9]
)
def test_what_is_no_design_at_all(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "own.toml"
    file.write_bytes(data)
    assert faults_of(file)


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "own.toml"
    file.write_bytes(b"#" * 6_000_000)
    [fault] = faults_of(file)
    assert "bytes" in fault.read


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    assert faults_of(tmp_path / "none.toml")
    assert faults_of(tmp_path)


def test_an_unknown_design_names_those_there_are() -> None:
    with pytest.raises(FaultsError, match="ardle-2000") as caught:
        find_design("ardle-9")
    assert "path of a design file" in caught.value.faults[0].mend
