"""Who, what, where and when: the identity block of a report."""

from __future__ import annotations

import datetime
from typing import Any

from hoistwright.examine.result import Examination
from hoistwright.examine.words import shown
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.quantity import Dimension

NOT_STATED = "not stated"


def head(examination: Examination, sheet: JobSheet, shop: Shop | None) -> dict[str, Any]:
    """Shop, and three groups of label and value: hoist, customer, work."""
    return {
        "shop": _shop(shop),
        "groups": [
            {"title": "Hoist", "lines": _hoist(examination, sheet)},
            {"title": "Customer", "lines": _customer(sheet)},
            {"title": "Examination", "lines": _work(sheet, shop)},
        ],
        "remarks": [text for text in (_said("Complaint", sheet.work.complaint),
                                      _said("Remark", sheet.work.remark)) if text],
        "design": _design(examination),
    }  # fmt: skip


def people(sheet: JobSheet, shop: Shop | None) -> list[dict[str, str]]:
    """Who is to sign. The names are printed, the signatures are left to them."""
    name, qualification = _examiner(sheet, shop)
    return [
        {"role": "Examined by", "name": name, "qualification": qualification},
        {"role": "Competent person, who decides", "name": "", "qualification": ""},
    ]


def _shop(shop: Shop | None) -> dict[str, Any]:
    if shop is None:
        return {"name": "Shop not stated", "address": "", "demo": False}
    return {"name": shop.name, "address": shop.address, "demo": shop.demo}


def _hoist(examination: Examination, sheet: JobSheet) -> list[list[str]]:
    hoist, units = sheet.hoist, sheet.units
    rating = examination.design.rating
    return [
        ["Maker", hoist.maker or NOT_STATED],
        ["Model", hoist.model or NOT_STATED],
        ["Serial number", hoist.serial or NOT_STATED],
        ["Customer's tag", hoist.tag or NOT_STATED],
        ["Made", hoist.manufactured or NOT_STATED],
        ["Rated load on plate", _mass(hoist.rated_load, units)],
        ["Rated load of design", _mass(rating.rated_load, units)],
        ["Falls", NOT_STATED if rating.falls is None else str(rating.falls)],
    ]


def _customer(sheet: JobSheet) -> list[list[str]]:
    customer = sheet.customer
    return [
        ["Name", customer.name or NOT_STATED],
        ["Address", customer.address or NOT_STATED],
        ["Premises", customer.premises or NOT_STATED],
    ]


def _work(sheet: JobSheet, shop: Shop | None) -> list[list[str]]:
    name, qualification = _examiner(sheet, shop)
    return [
        ["Job", sheet.job],
        ["Received", _day(sheet.work.received_on)],
        ["Examined", _day(sheet.work.examined_on)],
        ["Last examined", _day(sheet.work.last_examined_on)],
        ["Service class", sheet.work.service],
        ["Examined by", name],
        ["Qualification", qualification],
    ]


def _examiner(sheet: JobSheet, shop: Shop | None) -> tuple[str, str]:
    person = shop.person(sheet.work.examined_by) if shop else None
    if person is None:
        named = sheet.work.examined_by
        return (f"{named} (not in the shop file)" if named else NOT_STATED), NOT_STATED
    return person.name, person.qualification or NOT_STATED


def _design(examination: Examination) -> dict[str, Any]:
    design = examination.design
    identity = design.identity
    text = f"{identity.maker} {identity.model}, {identity.kind}; design file {design.key}."
    return {"text": text, "invented": identity.invented, "note": identity.note}


def _said(label: str, text: str) -> str:
    return f"{label}: {text}" if text else ""


def _day(day: datetime.date | None) -> str:
    """The day with its month in letters, so that nobody mistakes it for the other order.

    >>> _day(datetime.date(2026, 3, 9))
    '9 March 2026'
    """
    if day is None:
        return NOT_STATED
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def _mass(value: float | None, units: str) -> str:
    return NOT_STATED if value is None else shown(value, Dimension.MASS, units)
