"""Writes the demo shop's job sheets: python tools/make_demo.py

Each sheet is a sound hoist with a little honest wear (seeded, so that it comes out the same),
and on top what its scenario says. Everything is invented.
"""

from __future__ import annotations

import datetime
import io
import random
import sys
from pathlib import Path

import attrs
import openpyxl
from demo_scenarios import SCENARIOS, Scenario

from hoistwright.basis.adoption import Adoption
from hoistwright.basis.adoption_text import adoption_toml
from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import Point, points
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import find_design
from hoistwright.quantity import Dimension
from hoistwright.sheet.blank import BlankSheet, blank_rows
from hoistwright.sheet.blank_csv import blank_csv
from hoistwright.sheet.blank_grid import GRID, grid_line
from hoistwright.sheet.blank_xlsx import blank_xlsx
from hoistwright.sheet.columns import HEADER

DATA = Path(__file__).parents[1] / "src" / "hoistwright" / "demo" / "data"

GAUGES = {
    "long caliper": ("long-1", 0.05),
    "caliper": ("cal-1", 0.01),
    "micrometer": ("mic-1", 0.01),
    "depth gauge": ("depth-1", 0.02),
    "feeler gauge": ("feeler-1", 0.05),
    "gear-tooth micrometer": ("cal-1", 0.01),
    "protractor": ("angle-1", 0.5),
}
"""The demo shop's gauge for each instrument, and its step in mm or degrees."""

Cells = dict[str, str]


@attrs.frozen
class Filled:
    """A filled sheet: header lines by key, and the cells of each row by its address."""

    blank: BlankSheet
    header: dict[str, str]
    rows: dict[tuple[str, str, str], Cells]


def fill(scenario: Scenario) -> Filled:
    """Fill in one scenario's sheet."""
    day = datetime.date.fromisoformat(scenario.header["work.examined_on"])
    design = find_design(scenario.design, beside=DATA / "sheets")
    bases = [shipped_basis(key) for key in scenario.bases]
    wanted = points(design, rulings(design, bases, day))
    dice = random.Random(scenario.name)
    rows = {point.address: _cells(point, design, scenario, dice) for point in wanted}
    header = {"design": scenario.design, "sheet.units": scenario.units, **scenario.header}
    filled = {
        k.replace(".", "__"): v for k, v in header.items() if k not in ("design", "sheet.units")
    }
    blank = blank_rows(design, bases, day, units=scenario.units, **filled)
    return Filled(blank, header, {key: cells for key, cells in rows.items() if cells})


def _cells(point: Point, design: Design, scenario: Scenario, dice: random.Random) -> Cells:
    feature = point.feature
    change = scenario.change(point)
    if change == "left out":
        return {}
    if not point.measured:
        answer, remark = change if isinstance(change, tuple) else ("in order", "")
        return {"answer": answer, "remark": remark}
    value = _as_used(point, design, dice) if change is None else None
    if isinstance(change, float):
        assert point.baseline is not None, f"{scenario.name}: {feature} has no as-new value"
        value = point.baseline.value * (1.0 + change)
    if isinstance(change, str):
        typed, gauge = change, _gauge(point)[0]
    else:
        assert value is not None
        gauge, step = _gauge(point)
        typed = _typed(value, step, point.dimension, scenario)
    return {
        "reading": typed,
        "gauge": scenario.gauges.get(gauge, gauge),
        "links": "" if point.links is None else str(point.links),
    }


def _gauge(point: Point) -> tuple[str, float]:
    key, step = next(GAUGES[name] for name in point.instruments if name in GAUGES)
    big = point.baseline is not None and point.baseline.value > 0.15
    if key == "mic-1" and point.baseline is not None and point.baseline.value > 0.024:
        key = "cal-1"
    return ("long-1", 0.05) if big else (key, step)


def _as_used(point: Point, design: Design, dice: random.Random) -> float:
    """A reading of an honestly used part, well on the good side of its limit."""
    part_worn = dice.uniform(0.1, 0.3)
    if point.dimension is Dimension.ANGLE:
        return dice.choice((0.0, 0.0, 0.5)) * 0.017453292519943295
    ruling = next((r for r in point.rulings if r.limit_si is not None), None)
    new = point.baseline.value if point.baseline else None
    if ruling is None or point.reference:
        assert new is not None
        return new
    limit = ruling.limit_si
    assert limit is not None
    if new is None:
        return limit * (1.22 if ruling.side == "lower" else 0.5)
    if ruling.comparison in ("at least", "at most"):
        return new + part_worn * (limit - new)
    if point.feature.startswith("load_chain."):
        return _chain(point, design, new, part_worn)
    sign = -1.0 if ruling.comparison.startswith("loss") else 1.0
    absolute = ruling.comparison.endswith("by")
    return new + sign * part_worn * (limit if absolute else limit * new)


def _chain(point: Point, design: Design, new: float, part_worn: float) -> float:
    """A chain worn a little at its crowns: the gauge length must agree with the crowns."""
    pitch, wire = design.load_chain.pitch, design.load_chain.wire
    assert pitch is not None
    assert wire is not None
    wear = 0.01 * wire
    if point.feature.endswith("gauge_length"):
        return new + ((point.links or 1) - 1) * 2.0 * wear
    if point.feature.endswith("link_pitch"):
        return new + 2.0 * wear
    return new - wear if point.place.endswith("along") else new - 0.02 * wear * part_worn


def _typed(value: float, step: float, dimension: Dimension, scenario: Scenario) -> str:
    """As a technician types it: in steps of the gauge, in the sheet's unit and decimal mark."""
    if dimension is Dimension.ANGLE:
        text = f"{round(value / 0.017453292519943295 / step) * step:.1f}"
    elif scenario.units == "in":
        text = f"{round(value / 0.0254 / 0.0005) * 0.0005:.4f}"
    else:
        text = f"{round(value * 1e3 / step) * step:.2f}"
    return text.replace(".", ",") if scenario.header.get("sheet.decimal") == "comma" else text


# the three formats


def as_csv(filled: Filled) -> bytes:
    """The blank CSV with its cells filled in."""
    import csv

    separator = ";" if filled.header.get("sheet.decimal") == "comma" else ","
    lines = list(
        csv.reader(io.StringIO(blank_csv(filled.blank, separator=separator)), delimiter=separator)
    )
    labels = {line.label: line.key for line in HEADER}
    out = io.StringIO()
    write = csv.writer(out, delimiter=separator, lineterminator="\r\n").writerow
    for line in lines:
        over: list[str] | None = line
        if line and line[0] in labels:
            over = [line[0], filled.header.get(labels[line[0]], line[1] if len(line) > 1 else "")]
        elif len(line) == len(GRID) and line[0] != "part":
            over = _over(line, filled)
        if over is not None:
            write(over)
    return out.getvalue().encode("utf-8-sig")


def as_xlsx(filled: Filled) -> bytes:
    """The blank workbook with its cells filled in, as a spreadsheet program would save it."""
    book = openpyxl.load_workbook(io.BytesIO(blank_xlsx(filled.blank)))
    labels = {line.label: line.key for line in HEADER}
    for row in book["Job"].iter_rows():
        key = labels.get(str(row[0].value))
        if key and filled.header.get(key):
            row[1].value = filled.header[key]
    gone: list[int] = []
    for row in book["Readings"].iter_rows():
        line = ["" if cell.value is None else str(cell.value) for cell in row[: len(GRID)]]
        if line[0] and not line[0].startswith("#") and line[0] != "part":
            over = _over(line, filled)
            if over is None:
                gone.append(row[0].row or 0)
                continue
            for name in ("reading", "gauge", "answer", "remark"):
                place = GRID.index(name)
                row[place].value = over[place] or None
    for number in reversed(gone):
        book["Readings"].delete_rows(number)
    stamp = datetime.datetime.combine(filled.blank.day, datetime.time())
    book.properties.created = book.properties.modified = stamp
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _over(line: list[str], filled: Filled) -> list[str] | None:
    cells = filled.rows.get(_address(line, filled))
    if cells is None:
        return None
    return [
        cells.get(name, old) if name in cells else old for name, old in zip(GRID, line, strict=True)
    ]


def _address(line: list[str], filled: Filled) -> tuple[str, str, str]:
    role = next(part.role for part in filled.blank.design.parts if part.key == line[0])
    return line[0], f"{role}.{line[1]}", line[2]


def as_toml(filled: Filled) -> bytes:
    """A sheet as somebody types it in an editor."""
    top = [f'{key} = "{filled.header[key]}"' for key in ("job", "design")]
    out = ["# Invented, for demonstration.", "format = 1", *top]
    for table in ("hoist", "customer", "work", "sheet"):
        out += ["", f"[{table}]"]
        for key, value in filled.header.items():
            if key.startswith(f"{table}."):
                name = key.removeprefix(f"{table}.")
                out.append(f"{name} = {value}" if name.endswith("_on") else f'{name} = "{value}"')
        if table == "work":
            listed = ", ".join(f'"{basis.key}"' for basis in filled.blank.bases)
            out.append(f"bases = [{listed}]")
    for row in filled.blank.rows:
        line = _over(list(grid_line(row, filled.blank.language)), filled)
        if line is not None:
            out += _toml_row(dict(zip(GRID, line, strict=True)), measured=row.measured)
    return ("\n".join(out) + "\n").encode()


def _toml_row(cells: Cells, *, measured: bool) -> list[str]:
    names = ("part", "feature", "place", "gauge", "answer", "remark")
    out = ["", "[[reading]]" if measured else "[[look]]"]
    out += [f'{name} = "{cells[name]}"' for name in names if cells[name]]
    if measured:
        parts = [part.strip() for part in cells["reading"].split(";")]
        value = (
            f'"{parts[0]}"' if len(parts) == 1 else "[" + ", ".join(f'"{p}"' for p in parts) + "]"
        )
        out.append(f"value = {value}")
        if cells["links"]:
            out.append(f"links = {cells['links']}")
    return out


WRITERS = {"toml": as_toml, "csv": as_csv, "xlsx": as_xlsx}


MARK = "# Adoptions, written by tools/make_demo.py: invented, like everything here."

ADOPTED = {
    "b30-hand-hoists": "the shop's own copies (invented) of the B30 volumes",
    "workshop-practice": "the shop's own work instructions (invented)",
    "us-federal": "the regulations as published (invented comparison)",
}
"""The bases that the demo shop has adopted; the European one it has not, to show that."""


def adopt_bases(shop: Path) -> None:
    """Write the demo shop's adoptions of the bases as they now stand."""
    text = shop.read_text(encoding="utf-8").partition(MARK)[0].rstrip() + f"\n\n{MARK}\n"
    for key, compared in ADOPTED.items():
        adoption = Adoption(
            basis=key,
            digest=shipped_basis(key).digest,
            by="odile",
            on=datetime.date(2026, 9, 1),
            compared_with=compared,
        )
        text += f"\n{adoption_toml(adoption)}"
    shop.write_text(text, encoding="utf-8")


def main(folder: Path) -> None:
    """Write every scenario's sheet into `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    for scenario in SCENARIOS:
        data = WRITERS[scenario.ending](fill(scenario))
        (folder / f"{scenario.name}.{scenario.ending}").write_bytes(data)
        print(f"{scenario.name}.{scenario.ending}")


if __name__ == "__main__":
    adopt_bases(DATA / "shop.toml")
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else DATA / "sheets")
