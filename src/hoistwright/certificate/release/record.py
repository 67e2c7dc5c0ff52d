"""The record of a certificate: everything it states, as JSON, and the bytes that are hashed."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright import __version__
from hoistwright.basis.model import Basis
from hoistwright.certificate.release.figures import figures, gauges, looks
from hoistwright.certificate.release.values import Certificate, Signatory, Withdrawal
from hoistwright.examine.result import Examination
from hoistwright.examine.rules import decision_rule
from hoistwright.job.job_sheet import Customer, JobSheet
from hoistwright.job.shop import Shop

FORMAT = 1
_APART = ("missing",)
"""Fields of a certificate that are no part of what it states."""


def certificate_record(
    certificate: Certificate, examination: Examination, sheet: JobSheet, shop: Shop
) -> dict[str, Any]:
    """Everything that a certificate states, as plain JSON values, figures in SI.

    Its schema is `docs/schemas/certificate-record.schema.json`. Pure: same input, same record.
    """
    rows = figures(certificate, examination, sheet)
    return {
        "format": FORMAT,
        "kind": "certificate",
        "software": f"Hoistwright {__version__}",
        "shop": _shop(shop),
        "job": sheet.job,
        "units": sheet.units,
        "hoist": {**_plain(sheet.hoist), **_design(examination)},
        "customer": _customer(sheet.customer),
        "dates": {
            "received_on": _day(sheet.work.received_on),
            "examined_on": sheet.work.examined_on.isoformat(),
            "tested_on": _day(certificate.tested_on),
            "issued_on": certificate.issued_on.isoformat(),
            "last_examined_on": _day(sheet.work.last_examined_on),
        },
        "examined_by": _examiner(sheet, shop),
        "service": sheet.work.service,
        "complaint": sheet.work.complaint,
        "bases": [_basis(basis, examination) for basis in examination.bases],
        "maker_rule": examination.rule.words,
        "outcome_as_found": examination.outcome.words,
        "findings": [
            {"title": f.title, "sentence": f.sentence, "next_step": f.next_step}
            for f in examination.findings
        ],
        "figures": rows,
        "looks": looks(certificate, examination),
        "gauges": gauges(certificate, sheet, shop),
        **_stated(certificate),
    }


def withdrawal_record(withdrawal: Withdrawal, shop: Shop) -> dict[str, Any]:
    """Everything that a withdrawal states."""
    said = _plain(withdrawal)
    return {
        "format": FORMAT,
        "kind": "withdrawal",
        "software": f"Hoistwright {__version__}",
        "shop": _shop(shop),
        "authenticated_by": said.pop("by"),
        **said,
    }


def record_bytes(record: Mapping[str, Any]) -> bytes:
    r"""The one form in which a record is written: UTF-8, keys in order, a line for each of them.

    >>> record_bytes({"b": [1, 2.0], "a": "é"}).decode()
    '{\n"a":"é",\n"b":[1,2.0]\n}\n'
    """
    told = (f"{_written(key)}:{_written(value)}" for key, value in sorted(record.items()))
    lines = ",\n".join(told)
    return f"{{\n{lines}\n}}\n".encode()


def _written(value: Any) -> str:
    return json.dumps(
        value, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def sha256(data: bytes) -> str:
    """SHA-256 as 64 hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(data).hexdigest()


def signatory_of(shop: Shop, key: str) -> Signatory:
    """A person of the shop file as one who answers for a certificate.

    Somebody whom the shop file does not know has no name and no role, so cannot sign.
    """
    person = shop.person(key)
    if person is None:
        return Signatory(key=key, name="", address="", qualification="", employer="")
    return Signatory(
        key=key,
        name=person.name,
        address=shop.address,
        qualification=person.qualification,
        employer=f"{shop.name}, {shop.address}",
        roles=person.roles,
    )


def _stated(certificate: Certificate) -> dict[str, Any]:
    apart = {*_APART, "issued_on", "tested_on"}
    return {key: value for key, value in _plain(certificate).items() if key not in apart}


def _customer(customer: Customer) -> dict[str, Any]:
    """The customer; the language of their papers is no matter of the record."""
    told: dict[str, Any] = _plain(customer)
    return {key: value for key, value in told.items() if key != "language"}


def _plain(value: Any) -> Any:
    """A value as JSON knows it: days as text, tuples as lists, figures as plain floats."""
    if attrs.has(type(value)):
        return {item.name: _plain(getattr(value, item.name)) for item in attrs.fields(type(value))}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, datetime.date):
        return value.isoformat()
    return float(value) if isinstance(value, float) else value


def _shop(shop: Shop) -> dict[str, Any]:
    return {"name": shop.name, "address": shop.address, "demo": shop.demo}


def _design(examination: Examination) -> dict[str, Any]:
    identity, rating = examination.design.identity, examination.design.rating
    return {
        "design": examination.design.key,
        "design_title": f"{identity.maker} {identity.model}",
        "design_kind": identity.kind,
        "design_invented": identity.invented,
        "design_rated_load": None if rating.rated_load is None else float(rating.rated_load),
        "falls": rating.falls,
    }


def _examiner(sheet: JobSheet, shop: Shop) -> dict[str, str]:
    person = shop.person(sheet.work.examined_by)
    return {
        "key": sheet.work.examined_by,
        "name": person.name if person else "",
        "qualification": person.qualification if person else "",
    }


def _basis(basis: Basis, examination: Examination) -> dict[str, Any]:
    state = next((item for item in examination.adoptions if item.basis == basis.key), None)
    return {
        "key": basis.key,
        "title": basis.head.title,
        "jurisdiction": basis.head.jurisdiction,
        "digest": basis.digest,
        "adopted": state is not None and state.holds,
        "adoption": state.sentence if state else "",
        "rule": decision_rule(basis.head.rule).words,
    }


def _day(day: object) -> str | None:
    return None if day is None else str(day)
