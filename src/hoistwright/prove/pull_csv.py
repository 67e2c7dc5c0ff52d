"""Pull over time from the text of a CSV file: all faults at once, and bounded."""

from __future__ import annotations

import csv
import math

import attrs
import numpy as np

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.metrology import Gauge
from hoistwright.prove.record import Direction, Floats, PullSeries
from hoistwright.quantity import Dimension, QuantityError, Unit, find_unit

MOST_CHARACTERS = 5_000_000
MOST_ROWS = 200_000
LEAST_ROWS = 10
MOST_FAULTS = 50
COLUMNS = {"time": Dimension.TIME, "pull": Dimension.FORCE, "travel": Dimension.LENGTH}
_HEAD = 'a first row like "time [s],pull [N]" (and "travel [m]" where the hand path is known)'


@attrs.frozen
class _Column:
    name: str
    at: int
    unit: Unit


def read_pull_series(
    text: str,
    *,
    load: float,
    direction: Direction = "raising",
    gauge: Gauge | None = None,
    file: str = "",
) -> PullSeries:
    r"""Read a pull over time from CSV text.

    The first row names the columns with their units in square brackets. A semicolon or a tab
    between the cells allows a decimal comma.

    Args:
        text: the file's text.
        load: load on the hook, kg.
        direction: raising or lowering.
        gauge: the load cell.
        file: named in the faults.

    Returns:
        The series in SI. Rows without any figure are passed over.

    Raises:
        FaultsError: every fault found, with its row and column; nothing is taken over.

    >>> series = read_pull_series(
    ...     "time [s];pull [kN]\n" + "\n".join(f"{t};0,36" for t in range(10)), load=2000)
    >>> series.pull[:2].tolist()
    [360.0, 360.0]

    References:
        RFC 4180 (comma-separated values); the units in brackets are our own.
    """
    _bounded(text, file)
    lines = text.lstrip("\ufeff").splitlines()
    head = lines[0] if lines else ""
    mark = next((each for each in ";\t" if each in head), ",")
    columns = _columns(head, mark, file)
    values, faults = _rows(lines[1:], mark, columns, file)
    faults = faults or _sense(values, file)
    if faults:
        raise FaultsError(_some(faults, file))
    return PullSeries(
        time=values["time"],
        pull=values["pull"],
        travel=values.get("travel"),
        load=load,
        direction=direction,
        gauge=gauge,
        source=file,
    )


def _bounded(text: str, file: str) -> None:
    rows = text.count("\n")
    if len(text) > MOST_CHARACTERS or rows > MOST_ROWS:
        read = f"{len(text):,} characters in {rows:,} rows"
        expected = f"at most {MOST_CHARACTERS:,} characters and {MOST_ROWS:,} rows"
        mend = "Record with fewer readings a second, or cut the file to the lift."
        raise FaultsError([Fault(Place(file=file), read, expected, mend)])


def _columns(head: str, mark: str, file: str) -> list[_Column]:
    found: dict[str, _Column] = {}
    faults: list[Fault] = []
    cells = _cells([head], mark, file)[0] if head else []
    for at, cell in enumerate(cells):
        name, _, _ = cell.strip().lower().partition("[")
        name = name.strip()
        place = Place(file=file, row=1, column=cell.strip())
        if name in COLUMNS and name in found:
            faults.append(Fault(place, f"the column {name} a second time", "each column once"))
        elif name in COLUMNS:
            _take_column(found, name, at, cell.partition("[")[2].strip(" ]"), place, faults)
    missing = [name for name in ("time", "pull") if name not in found]
    if missing and not faults:
        read = f"no column {' and no column '.join(missing)}"
        faults.append(Fault(Place(file=file, row=1), read, _HEAD))
    if faults:
        raise FaultsError(faults)
    return list(found.values())


def _take_column(
    found: dict[str, _Column], name: str, at: int, unit: str, place: Place, faults: list[Fault]
) -> None:
    try:
        found[name] = _Column(name, at, find_unit(unit, COLUMNS[name]))
    except QuantityError as error:
        mend = error.mend or "Write the unit in square brackets after the name."
        faults.append(Fault(place, error.read, error.expected, mend))


def _rows(
    lines: list[str], mark: str, columns: list[_Column], file: str
) -> tuple[dict[str, Floats], list[Fault]]:
    values: dict[str, list[float]] = {column.name: [] for column in columns}
    faults: list[Fault] = []
    values["row"] = []
    for at, cells in enumerate(_cells(lines, mark, file), start=2):
        if not any(cell.strip() for cell in cells):
            continue
        values["row"].append(at)
        for column in columns:
            cell = cells[column.at].strip() if column.at < len(cells) else ""
            figure = _figure(cell, mark)
            if figure is None and len(faults) < MOST_FAULTS:
                place = Place(file=file, row=at, column=column.name)
                faults.append(Fault(place, repr(cell[:40]) if cell else "nothing", "a figure"))
            values[column.name].append(math.nan if figure is None else _si(figure, column.unit))
    return {name: np.asarray(found, dtype=np.float64) for name, found in values.items()}, faults


def _cells(lines: list[str], mark: str, file: str) -> list[list[str]]:
    try:
        return list(csv.reader(lines, delimiter=mark))
    except csv.Error as error:
        raise FaultsError(
            [Fault(Place(file=file), f"text that is not CSV ({error})", _HEAD)]
        ) from None


def _figure(cell: str, mark: str) -> float | None:
    if mark != ",":
        cell = cell.replace(",", ".")
    try:
        value = float(cell)
    except ValueError:
        return None
    return value if math.isfinite(value) and "_" not in cell else None


def _si(figure: float, unit: Unit) -> float:
    return figure * float(unit.factor)


def _sense(values: dict[str, Floats], file: str) -> list[Fault]:
    """What no cell alone shows: too few rows, time that does not run on, a hand that goes back."""
    time = values["time"]
    if time.size < LEAST_ROWS:
        return [Fault(Place(file=file), f"{time.size} rows", f"at least {LEAST_ROWS} rows")]
    faults = []
    back = np.flatnonzero(np.diff(time) <= 0)
    if back.size:
        place = Place(file=file, row=int(values["row"][back[0] + 1]), column="time")
        faults.append(Fault(place, "a time not after the one before", "times that run on"))
    if "travel" in values and np.any(np.diff(values["travel"]) < 0):
        at = int(values["row"][np.flatnonzero(np.diff(values["travel"]) < 0)[0] + 1])
        place = Place(file=file, row=at, column="travel")
        faults.append(Fault(place, "a path that goes back", "the path of the hand, running on"))
    return faults


def _some(faults: list[Fault], file: str) -> list[Fault]:
    if len(faults) < MOST_FAULTS:
        return faults
    return [*faults, Fault(Place(file=file), f"{MOST_FAULTS} faults or more", "a file of figures")]
