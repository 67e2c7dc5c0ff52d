"""Who, what, where and when: the identity block of a report."""

from __future__ import annotations

from typing import Any

from hoistwright.certificate.writer import Writer
from hoistwright.examine.result import Examination
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.quantity import Dimension


def head(examination: Examination, sheet: JobSheet, shop: Shop | None, w: Writer) -> dict[str, Any]:
    """Shop, and three groups of label and value: hoist, customer, work."""
    return {
        "shop": _shop(shop, w),
        "groups": [
            {"title": w.say("Hoist"), "lines": _hoist(examination, sheet, w)},
            {"title": w.say("Customer"), "lines": _customer(sheet, w)},
            {"title": w.say("Examination"), "lines": _work(sheet, shop, w)},
        ],
        "remarks": [
            f"{label}{w.colon}{text}"
            for label, text in (
                (w.say("Complaint"), sheet.work.complaint),
                (w.say("Remark"), sheet.work.remark),
            )
            if text
        ],
        "design": _design(examination, w),
    }


def people(sheet: JobSheet, shop: Shop | None, w: Writer) -> list[dict[str, str]]:
    """Who is to sign. The names are printed, the signatures are left to them."""
    name, qualification = _examiner(sheet, shop, w)
    return [
        {"role": w.say("Examiner"), "name": name, "qualification": qualification},
        {"role": w.say("Competent person, who decides"), "name": "", "qualification": ""},
    ]


def _shop(shop: Shop | None, w: Writer) -> dict[str, Any]:
    if shop is None:
        return {"name": w.say("Shop not stated"), "address": "", "demo": False}
    return {"name": shop.name, "address": shop.address, "demo": shop.demo}


def _hoist(examination: Examination, sheet: JobSheet, w: Writer) -> list[list[str]]:
    hoist = sheet.hoist
    rating = examination.design.rating
    return [
        [w.say("Maker"), w.stated(hoist.maker)],
        [w.say("Model"), w.stated(hoist.model)],
        [w.say("Serial number"), w.stated(hoist.serial)],
        [w.say("Customer's tag"), w.stated(hoist.tag)],
        [w.say("Made"), w.stated(hoist.manufactured)],
        [w.say("Rated load on plate"), _mass(hoist.rated_load, w)],
        [w.say("Rated load of design"), _mass(rating.rated_load, w)],
        [w.say("Falls"), w.stated("" if rating.falls is None else str(rating.falls))],
    ]


def _customer(sheet: JobSheet, w: Writer) -> list[list[str]]:
    customer = sheet.customer
    return [
        [w.say("Name"), w.stated(customer.name)],
        [w.say("Address"), w.stated(customer.address)],
        [w.say("Premises"), w.stated(customer.premises)],
    ]


def _work(sheet: JobSheet, shop: Shop | None, w: Writer) -> list[list[str]]:
    name, qualification = _examiner(sheet, shop, w)
    return [
        [w.say("Job"), sheet.job],
        [w.say("Received"), w.long_day(sheet.work.received_on)],
        [w.say("Examined"), w.long_day(sheet.work.examined_on)],
        [w.say("Last examined"), w.long_day(sheet.work.last_examined_on)],
        [w.say("Service class"), w.say(sheet.work.service)],
        [w.say("Examiner"), name],
        [w.say("Qualification"), qualification],
    ]


def _examiner(sheet: JobSheet, shop: Shop | None, w: Writer) -> tuple[str, str]:
    person = shop.person(sheet.work.examined_by) if shop else None
    if person is None:
        named = sheet.work.examined_by
        unknown = w.say("%(name)s (not in the shop file)", name=named) if named else w.stated("")
        return unknown, w.stated("")
    return person.name, w.stated(person.qualification)


def _design(examination: Examination, w: Writer) -> dict[str, Any]:
    design = examination.design
    identity = design.identity
    text = w.say(
        "%(maker)s %(model)s, %(kind)s; design file %(key)s.",
        maker=w.named(identity.maker),
        model=w.named(identity.model),
        kind=w.say(identity.kind),
        key=design.key,
    )
    return {"text": text, "invented": identity.invented, "note": w.sentence(identity.note)}


def _mass(value: float | None, w: Writer) -> str:
    return w.stated("") if value is None else w.figure(value, Dimension.MASS)
