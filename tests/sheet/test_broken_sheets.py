"""Thousands of broken sheets: each gives faults with a place, or a sheet that makes sense.

Seeded, so that a sheet that fails can be made again from its number.
"""

import io
import math
import random
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hoistwright.examine.points import points, same_pattern
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.job.job_sheet import JobSheet
from hoistwright.sheet import BlankSheet, read_sheet, sheet_toml
from hoistwright.sheet.blank_xlsx import blank_xlsx

CHUNK = 200
TOML_CHUNKS, CSV_CHUNKS, XLSX_CHUNKS = 10, 10, 5  # 5,000 sheets

JUNK = (
    "nan", "NaN", "inf", "-inf", "1e999", "-1", "-326.5", "0", "9" * 400, "1" * 20, "0x1F", "1_000",
    "1e5",
    "12 kg", "3 ton", "12 N", "400 °", "12.345.678", "1,2,3", "1.234", "1/0", "1/4", "5 3/2",
    "½", "１２,５", "1 ¼ in", "−5", "=1+1", "@SUM(A1)", "#DIV/0!", "true", "false", "[]", "{}",
    "[[1, 2], 3]", "{ a = 1 }", "2026-11-25", "2026-13-45", "07:30:00", "1979-05-27T07:32:00Z",
    "\x00", "\x07", "\u202e", "\ufeff", "\U0001f600",
    "'", '"', '"""', "\\", "\\u0000", ";", ",", "\t", "\n", "\r\n", "#", "é", "x" * 3000, "a.b.c",
    "12; 13; 14", ";;;", "12!", "!", "section 99999999999", "../../etc/none.toml", "/", ".", "..",
    "top hook", "load_chain", "in order", "not looked", "mm", "in", "comma", "unworn", "ardle-500",
)  # fmt: skip

POINTS = {point.address for point in points(shipped("ardle-2000"), ())}


def outcome(path: Path) -> JobSheet | None:
    """The sheet, or None where it was refused with faults that say where. Nothing else passes."""
    try:
        sheet = read_sheet(path)
    except FaultsError as error:
        for fault in error.faults:
            assert fault.place.file
            assert fault.read
            assert fault.expected
            assert len(str(fault)) < 4000
        return None
    makes_sense(sheet)
    return sheet


def makes_sense(sheet: JobSheet) -> None:
    assert sheet.job
    assert sheet.work.bases
    for reading in sheet.readings:
        assert all(math.isfinite(value) and 0 <= value <= 1e6 for value in reading.values)
        assert reading.links is None or reading.links >= 3
    rows = [(row.part, row.feature, row.place) for row in sheet.readings]
    rows += [(row.part, row.feature, row.place) for row in sheet.looks]
    assert len(set(rows)) == len(rows)
    known = POINTS if sheet.design == "ardle-2000" else set()
    for part, feature, place in rows if known else ():
        assert any((p, f) == (part, feature) and same_pattern(place, w) for p, f, w in known)


# What may happen to a file of text


def truncated(data: bytes, dice: random.Random) -> bytes:
    return data[: dice.randrange(len(data))]


def flipped(data: bytes, dice: random.Random) -> bytes:
    out = bytearray(data)
    for _ in range(dice.choice((1, 1, 2, 5, 50))):
        out[dice.randrange(len(out))] = dice.randrange(256)
    return bytes(out)


def inserted(data: bytes, dice: random.Random) -> bytes:
    at = dice.randrange(len(data))
    return data[:at] + dice.choice(JUNK).encode() + data[at:]


def replaced(data: bytes, dice: random.Random) -> bytes:
    """One value or word of the text is another."""
    words = list(re.finditer(rb"[\w.\-]+", data))
    if not words:
        return noise(data, dice)
    found = dice.choice(words)
    return data[: found.start()] + dice.choice(JUNK).encode() + data[found.end() :]


def valued(data: bytes, dice: random.Random) -> bytes:
    """One typed value (in quotes in TOML, a cell in CSV) is another."""
    cells = list(re.finditer(rb'(?<==\s)"[^"\n]*"|(?<=,)[^",\n]+(?=,)', data))
    if not cells:
        return noise(data, dice)
    found = dice.choice(cells)
    junk = dice.choice(JUNK).encode()
    if found[0].startswith(b'"') and dice.random() < 0.5:
        junk = b'"' + junk + b'"'
    return data[: found.start()] + junk + data[found.end() :]


def reordered(data: bytes, dice: random.Random) -> bytes:
    lines = data.splitlines(keepends=True)
    at = dice.randrange(len(lines))
    how = dice.randrange(4)
    if how == 0:
        del lines[at]
    elif how == 1:
        lines.insert(at, lines[dice.randrange(len(lines))])
    elif how == 2:
        lines.append(lines.pop(at))
    else:
        dice.shuffle(lines)
    return b"".join(lines)


def encoded(data: bytes, dice: random.Random) -> bytes:
    text = data.decode(errors="replace").replace("a", "é", 3)
    codec = dice.choice(("cp1252", "utf-16", "utf-16-le", "utf-32", "utf-7", "cp037"))
    return text.encode(codec, errors="replace")


def noise(_: bytes, dice: random.Random) -> bytes:
    return dice.randbytes(dice.choice((0, 1, 10, 1000)))


TEXT = (truncated, flipped, inserted, replaced, replaced, valued, valued, valued, reordered,
        encoded, noise)  # fmt: skip


# What may happen to a workbook


def entries_of(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(entries: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return out.getvalue()


def in_entry(change: Callable[[bytes, random.Random], bytes], *names: str) -> Any:
    def changed(data: bytes, dice: random.Random) -> bytes:
        entries = entries_of(data)
        name = dice.choice(names or tuple(entries))
        entries[name] = change(entries[name] or b" ", dice)
        return zipped(entries)

    return changed


def escaped(text: str) -> bytes:
    return text.replace("&", "&amp;").replace("<", "&lt;").encode()


def cell_changed(xml: bytes, dice: random.Random) -> bytes:
    """One cell holds something else: another type, a formula, another address, nothing."""
    cells = list(re.finditer(rb'<c r="(\w+)"[^>]*?(?:/>|>.*?</c>)', xml))
    found = dice.choice(cells)
    address = found[1]
    junk = escaped(dice.choice(JUNK))
    fresh = dice.choice((
        b'<c r="%b"><v>%b</v></c>' % (address, junk),
        b'<c r="%b" t="inlineStr"><is><t>%b</t></is></c>' % (address, junk),
        b'<c r="%b" t="str"><v>%b</v></c>' % (address, junk),
        b'<c r="%b" t="s"><v>%b</v></c>' % (address, junk),
        b'<c r="%b" t="b"><v>%b</v></c>' % (address, junk),
        b'<c r="%b" t="d"><v>%b</v></c>' % (address, junk),
        b'<c r="%b" t="e"><v>#REF!</v></c>' % address,
        b'<c r="%b"><f>1+1</f><v>2</v></c>' % address,
        b'<c r="%b"><f>1+1</f></c>' % address,
        b'<c r="XFD1048576"><v>1</v></c>',
        b'<c r="A0"><v>1</v></c>',
        b"<c><v>1</v></c>",
        b"",
    ))  # fmt: skip
    return xml[: found.start()] + fresh + xml[found.end() :]


def merged(xml: bytes, dice: random.Random) -> bytes:
    top = dice.randrange(1, 120)
    ref = dice.choice((f"A{top}:H{top}", f"H{top}:H{top + 2}", "A1:XFD1048576", "A1", "?", ""))
    extra = b'<mergeCells count="1"><mergeCell ref="%b"/></mergeCells>' % ref.encode()
    return xml.replace(b"</sheetData>", b"</sheetData>" + extra)


def counted(xml: bytes, dice: random.Random) -> bytes:
    """A part states another count than it has."""
    count = dice.choice((b"0", b"-1", b"4294967295", b"18446744073709551615", b"many", b"7"))
    return re.sub(rb'ount="[^"]*"', b'ount="%b"' % count, xml, count=dice.choice((0, 1)))


def laughing(xml: bytes, dice: random.Random) -> bytes:
    """An entity that grows tenfold nine times."""
    names = [f"e{n}" for n in range(10)]
    inner = "".join(
        f'<!ENTITY {a} "{f"&{b};" * 10}">' for a, b in zip(names[1:], names, strict=False)
    )
    doctype = f'<!DOCTYPE x [<!ENTITY e0 "ha">{inner}]>'.encode()
    at = xml.find(b"?>") + 2 if b"?>" in xml else 0
    body = re.sub(rb"<v>[^<]*</v>", b"<v>&e9;</v>", xml[at:], count=1)
    return xml[:at] + doctype + body


def entry_lost(data: bytes, dice: random.Random) -> bytes:
    entries = entries_of(data)
    del entries[dice.choice(tuple(entries))]
    return zipped(entries)


def bomb(data: bytes, dice: random.Random) -> bytes:
    entries = entries_of(data)
    filler = dice.choice((b" ", b"<row/>", b"<c/>"))
    name = dice.choice(tuple(entries))
    entries[name] += filler * (dice.choice((3_000_000, 21_000_000)) // len(filler))
    return zipped(entries)


def with_password(data: bytes, dice: random.Random) -> bytes:
    out = bytearray(data)
    at = out.index(b"PK\x01\x02")
    out[at + 8] |= 1
    return bytes(out)


SHEETS = ("xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml")
WORKBOOK = (
    truncated, flipped, flipped, noise, entry_lost, with_password,
    *[in_entry(cell_changed, *SHEETS)] * 5, in_entry(merged, *SHEETS),
    in_entry(laughing, *SHEETS, "xl/workbook.xml"), in_entry(truncated), in_entry(flipped),
    in_entry(counted),
    in_entry(flipped, *SHEETS), in_entry(inserted, *SHEETS), in_entry(replaced, *SHEETS),
)  # fmt: skip


@pytest.fixture(scope="module")
def bases(blank: BlankSheet, make_blank: Any, as_new_values: Any, fill: Any) -> dict[str, bytes]:
    import attrs

    short = attrs.evolve(blank, sections=blank.sections[:2] + blank.sections[3:7])
    found = {
        suffix: fill(suffix, short, as_new_values, {"customer": "Pelorus Boatyard"})
        for suffix in (".toml", ".csv", ".xlsx")
    }
    known = {"work__examined_on": "2026-11-25", "work__examined_by": "mara"}
    return {**found, "shared": blank_xlsx(make_blank(**known))}


def run(
    suffix: str, chunk: int, base: bytes, changes: tuple[Any, ...], tmp_path: Path
) -> list[JobSheet | None]:
    found = []
    for number in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        dice = random.Random(f"{suffix} {number}")
        data = base
        for _ in range(dice.choice((1, 1, 1, 2)) if changes is TEXT else 1):
            data = dice.choice(changes)(data or b" ", dice)
        path = tmp_path / f"{number}{suffix}"
        path.write_bytes(data)
        found.append(outcome(path))
    return found


def both_ways(found: list[JobSheet | None]) -> None:
    """Some are refused and some are read: the changes neither miss nor wreck everything."""
    refused = found.count(None)
    assert 0.2 * len(found) < refused < len(found)


def test_the_unbroken_sheets_are_read(bases: dict[str, bytes], tmp_path: Path) -> None:
    for name, data in bases.items():
        path = tmp_path / f"good{name if name[0] == '.' else '.xlsx'}"
        path.write_bytes(data)
        sheet = outcome(path)
        assert sheet is not None
        assert len(sheet.readings) > 10 or name == "shared"


@pytest.mark.parametrize("chunk", range(TOML_CHUNKS))
def test_broken_toml(chunk: int, bases: dict[str, bytes], tmp_path: Path) -> None:
    both_ways(run(".toml", chunk, bases[".toml"], TEXT, tmp_path))


@pytest.mark.parametrize("chunk", range(CSV_CHUNKS))
def test_broken_csv(chunk: int, bases: dict[str, bytes], tmp_path: Path) -> None:
    both_ways(run(".csv", chunk, bases[".csv"], TEXT, tmp_path))


@pytest.mark.parametrize("chunk", range(XLSX_CHUNKS))
def test_broken_xlsx(chunk: int, bases: dict[str, bytes], tmp_path: Path) -> None:
    """Every other one has its texts in the cells, the rest in the shared list of texts."""
    base = bases[".xlsx"] if chunk % 2 else bases["shared"]
    both_ways(run(".xlsx", chunk, base, WORKBOOK, tmp_path))


def test_bombs(bases: dict[str, bytes], tmp_path: Path) -> None:
    for number in range(6):
        path = tmp_path / f"{number}.xlsx"
        path.write_bytes(bomb(bases[".xlsx"], random.Random(number)))
        outcome(path)


def test_what_is_read_from_a_broken_sheet_can_be_kept(
    bases: dict[str, bytes], tmp_path: Path
) -> None:
    kept = [sheet for sheet in run(".csv", 0, bases[".csv"], TEXT, tmp_path) if sheet]
    for sheet in kept:
        path = tmp_path / "kept.toml"
        path.write_text(sheet_toml(sheet), encoding="utf-8")
        assert read_sheet(path) == sheet
