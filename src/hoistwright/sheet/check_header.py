"""The header of a sheet: whose hoist, of which design, in which units."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Literal

import attrs

from hoistwright.faults import Fault
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import find_design, shipped_keys
from hoistwright.job.job_sheet import Customer, HoistIdentity, Work
from hoistwright.language import LANGUAGES
from hoistwright.quantity import Dimension, QuantityError, parse
from hoistwright.sheet.check_work import check_work
from hoistwright.sheet.header import Header
from hoistwright.sheet.raw import RawSheet

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

FORMAT = 1

Units = Literal["mm", "in"]
_UNITS: dict[str, Units] = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "in": "in", "inch": "in", "inches": "in",
}  # fmt: skip
_MARKS = {".": ".", "point": ".", "dot": ".", ",": ",", "comma": ","}
_YES_NO = {"no": False, "false": False, "yes": True, "true": True}
_LANGUAGES = {code: code for code in LANGUAGES} | {
    name.casefold(): code for code, name in LANGUAGES.items()
}
_BEGIN = (
    "For a hoist of an unknown model begin a design file: the few figures that the plate and a "
    "caliper give are enough. Then name its path here."
)


@attrs.frozen(kw_only=True)
class Head:
    """The checked header. What could not be established is None, with a fault."""

    job: str
    design_name: str
    design: Design | None
    hoist: HoistIdentity
    customer: Customer
    work: Work | None
    units: Units = "mm"
    decimal: str | None = None
    confirmed: bool = False
    """True for a sheet whose magnitudes were asked back when it was first read."""


def check_header(
    raw: RawSheet, *, shop: Shop | None, today: datetime.date | None, faults: list[Fault]
) -> Head:
    """The header as values; everything wrong with it is added to `faults`."""
    header = Header(raw, faults)
    if header.text("format") != str(FORMAT):
        header.wrong("format", f"{FORMAT}, the format this version reads")
    name, design = _design(header)
    decimal = header.word("sheet.decimal", _MARKS, "point or comma; empty takes both")
    work = check_work(header, shop=shop, today=today)
    return Head(
        job=header.needed("job"),
        design_name=name,
        design=design,
        hoist=_hoist(header, decimal, work),
        customer=Customer(
            **header.texts("customer", ("name", "address", "premises")),
            language=header.word("customer.language", _LANGUAGES, "en or fr") or "",
        ),
        work=work,
        units=header.word("sheet.units", _UNITS, "mm or in") or "mm",
        decimal=decimal,
        confirmed=header.word("sheet.confirmed", _YES_NO, "yes or no") or False,
    )


def _design(header: Header) -> tuple[str, Design | None]:
    name = header.needed("design", _BEGIN)
    if not name:
        return "", None
    if name.casefold() in shipped_keys():
        name = name.casefold()
    design = header.found(
        "design",
        name,
        lambda wanted: find_design(wanted, beside=header.folder),
        shipped_keys(),
        "the key of a shipped design or the path of a design file",
    )
    return name, design


def _hoist(header: Header, decimal: str | None, work: Work | None) -> HoistIdentity:
    texts = header.texts("hoist", ("maker", "model", "serial", "manufactured", "tag"))
    year = texts["manufactured"][:4]
    if work and year.isascii() and year.isdigit() and int(year) > work.examined_on.year:
        expected = f"a year not after the examination on {work.examined_on}"
        header.wrong("hoist.manufactured", expected)
    return HoistIdentity(rated_load=_rated_load(header, decimal), **texts)


def _rated_load(header: Header, decimal: str | None) -> float | None:
    cell = header.cell("hoist.rated_load")
    if not cell.text:
        return None
    try:
        load = parse(cell.text, Dimension.MASS, decimal=decimal).si
    except QuantityError as error:
        header.faults.append(cell.fault(error.expected, error.mend, read=error.read))
        return None
    if not 1.0 <= load <= 1e6:
        header.wrong("hoist.rated_load", "a rated load between 1 kg and 1000 t")
    return load
