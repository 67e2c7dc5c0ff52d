"""The release order: what a competent person decided, as a TOML file beside the job sheet."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

import attrs

from hoistwright.certificate.release.record import signatory_of
from hoistwright.certificate.release.values import (
    Certificate,
    Decision,
    Defect,
    NextDue,
    Occasion,
    Supersedes,
    TestFigure,
    TestMade,
    WorkDone,
)
from hoistwright.datafile import load_file
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.shop import Shop
from hoistwright.quantity import Duration, Mass

FORMAT = 1


@attrs.frozen(kw_only=True)
class TestLine:
    __test__ = False

    name: str
    passed: bool
    particulars: str
    load: Mass | None = None
    load_uncertainty: Mass | None = None
    hold: Duration | None = None
    source: str = ""
    clause: str = ""
    edition: str = ""
    by: str = ""
    figures: tuple[TestFigure, ...] = ()


@attrs.frozen(kw_only=True)
class SupersedesLine:
    revision: int
    file_sha256: str
    issued_on: datetime.date
    reason: str


@attrs.frozen(kw_only=True)
class ReleaseOrder:
    """As it stands in the file. Loads and times are texts with their unit."""

    format: int
    number: str
    decision: Decision
    issued_on: datetime.date
    occasion: Occasion
    safe_to_operate: bool
    rated_load: Mass
    revision: int = 0
    reported_by: str = ""
    """Key of a person of the shop file; empty: who signs."""
    performed_at: str = ""
    tested_on: datetime.date | None = None
    installed_correctly: bool | None = None
    configuration: str = ""
    rated_load_before: Mass | None = None
    plate_changed: bool = False
    made_unusable: str = ""
    next_due_on: datetime.date | None = None
    next_due_why: str = ""
    deviations: str = ""
    from_others: str = ""
    remarks: str = ""
    defects: tuple[Defect, ...] = ()
    work: tuple[WorkDone, ...] = ()
    tests: tuple[TestLine, ...] = ()
    supersedes: SupersedesLine | None = None


def load_order(path: Path) -> ReleaseOrder:
    """Read a release order. Raises FaultsError with every fault found."""
    order = load_file(path, ReleaseOrder)
    if order.format != FORMAT:
        read = f"{order.format} (made for another version of Hoistwright)"
        raise FaultsError([Fault(Place(file=str(path), key="format"), read, str(FORMAT))])
    return order


def certificate_of(order: ReleaseOrder, shop: Shop, signer: str) -> Certificate:
    """The certificate that an order asks for, to be signed by the person with key `signer`."""
    old = order.supersedes
    plain = {
        name: getattr(order, name)
        for name in (
            "number", "decision", "issued_on", "occasion", "safe_to_operate", "revision",
            "performed_at", "tested_on", "installed_correctly", "configuration", "plate_changed",
            "made_unusable", "deviations", "from_others", "remarks",
        )
    }  # fmt: skip
    return Certificate(
        **plain,
        rated_load=float(order.rated_load),
        rated_load_before=_float(order.rated_load_before),
        reported_by=signatory_of(shop, order.reported_by or signer),
        authenticated_by=signatory_of(shop, signer),
        next_due=NextDue(day=order.next_due_on, why=order.next_due_why or "as ordered")
        if order.next_due_on
        else None,
        defects=order.defects,
        work=order.work,
        tests=tuple(_test(line) for line in order.tests),
        supersedes=None if old is None else Supersedes(number=order.number, **_fields(old)),
    )


def _test(line: TestLine) -> TestMade:
    return TestMade(
        **{
            **_fields(line),
            "load": _float(line.load),
            "load_uncertainty": _float(line.load_uncertainty),
            "hold": _float(line.hold),
        }
    )


def _fields(line: Any) -> dict[str, Any]:
    return {item.name: getattr(line, item.name) for item in attrs.fields(type(line))}


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)
