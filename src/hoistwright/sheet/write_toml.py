"""A read job sheet as TOML text that reads back equal."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from hoistwright.examine.entries import LookAnswer, Reading
from hoistwright.hoist.feature import measure
from hoistwright.job.job_sheet import JobSheet, Work
from hoistwright.quantity import Dimension, find_unit, parse
from hoistwright.sheet.toml_text import listed, quoted

_MOST_DIGITS = 40


def sheet_toml(sheet: JobSheet) -> str:
    """The sheet as TOML. Figures keep their unit, with as many digits as give the same SI value.

    `confirmed` says that odd magnitudes were asked back when the sheet was first read.
    """
    return "\n".join([*_header(sheet), *_rows(sheet)]) + "\n"


def exact_text(si: float, dimension: Dimension, unit: str) -> str:
    """The shortest figure in `unit` that is read as exactly `si`.

    >>> exact_text(0.2498, Dimension.LENGTH, "mm"), exact_text(0.00635, Dimension.LENGTH, "in")
    ('249.8 mm', '0.25 in')
    """
    figure = find_unit(unit, dimension).from_si(Fraction(repr(float(si))))
    for digits in range(1, _MOST_DIGITS):
        text = f"{_decimal(figure, digits)} {unit}".strip()
        if parse(text, dimension, decimal=".").si == si:
            return text
    raise ValueError(f"{si!r} has no finite figure in {unit}")


def _decimal(figure: Fraction, digits: int) -> str:
    """`figure` with this many significant digits, written out without an exponent."""
    if figure == 0:
        return "0"
    power = 0
    while abs(figure) * 10**power < 10 ** (digits - 1):
        power += 1
    while power > 0 and abs(figure) * 10**power >= 10**digits:
        power -= 1
    whole = str(round(abs(figure) * 10**power)).rjust(power + 1, "0")
    text = f"{whole[:-power]}.{whole[-power:]}" if power else whole
    return ("-" if figure < 0 else "") + text


def _header(sheet: JobSheet) -> Iterator[str]:
    yield "format = 1"
    yield f"job = {quoted(sheet.job)}"
    yield f"design = {quoted(sheet.design)}"
    hoist, customer = sheet.hoist, sheet.customer
    texts = {key: getattr(hoist, key) for key in ("maker", "model", "serial", "manufactured")}
    yield from _table("hoist", texts | {"tag": hoist.tag})
    if hoist.rated_load is not None:
        yield f"rated_load = {quoted(exact_text(hoist.rated_load, Dimension.MASS, 'kg'))}"
    texts = {key: getattr(customer, key) for key in ("name", "address", "premises", "language")}
    yield from _table("customer", texts)
    yield from _work(sheet.work)
    yield from _table("sheet", {"units": sheet.units, "decimal": "."})
    yield "confirmed = true"


def _table(name: str, texts: dict[str, str]) -> Iterator[str]:
    yield ""
    yield f"[{name}]"
    for key, text in texts.items():
        if text:
            yield f"{key} = {quoted(text)}"


def _work(work: Work) -> Iterator[str]:
    texts = {"examined_by": work.examined_by, "service": work.service}
    yield from _table("work", texts | {"complaint": work.complaint, "remark": work.remark})
    yield f"bases = {listed(work.bases)}"
    for key in ("examined_on", "received_on", "last_examined_on"):
        day = getattr(work, key)
        if day is not None:
            yield f"{key} = {day.isoformat()}"


def _rows(sheet: JobSheet) -> Iterator[str]:
    for reading in sheet.readings:
        yield from _array_table("reading", reading)
        yield from _figures(reading)
    for look in sheet.looks:
        yield from _array_table("look", look)
        yield f"answer = {quoted(look.answer)}"
        if look.photo:
            yield f"photo = {quoted(look.photo)}"


def _array_table(name: str, row: Reading | LookAnswer) -> Iterator[str]:
    yield ""
    yield f"[[{name}]]"
    for key in ("part", "feature", "place", "remark", "by"):
        text = getattr(row, key)
        if text:
            yield f"{key} = {quoted(text)}"


def _figures(reading: Reading) -> Iterator[str]:
    dimension = Dimension(measure(reading.feature).dimension)
    texts = [exact_text(value, dimension, reading.unit) for value in reading.values]
    if len(texts) == 1:
        yield f"value = {quoted(texts[0])}"
    elif texts:
        yield f"value = {listed(texts)}"
    if reading.unit and not texts:
        yield f"unit = {quoted(reading.unit)}"
    if reading.gauge:
        yield f"gauge = {quoted(reading.gauge)}"
    if reading.links is not None:
        yield f"links = {reading.links}"
