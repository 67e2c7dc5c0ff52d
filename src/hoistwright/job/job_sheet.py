"""A job sheet: one hoist's visit with everything read and looked at, as plain values."""

from __future__ import annotations

import datetime
from typing import Literal

import attrs

from hoistwright.examine.entries import LookAnswer, Reading

ServiceClass = Literal["normal", "heavy", "severe"]


@attrs.frozen(kw_only=True)
class HoistIdentity:
    """What the data plate says (or what could be made out). Empty where it is illegible."""

    maker: str = ""
    model: str = ""
    serial: str = ""
    manufactured: str = ""
    rated_load: float | None = None
    """kg, as the plate says; held against the design's."""
    tag: str = ""
    """The customer's own number for it."""


@attrs.frozen(kw_only=True)
class Customer:
    name: str = ""
    address: str = ""
    premises: str = ""
    """Where the hoist is used, if elsewhere."""
    language: str = ""
    """Of the papers they get: a code of `hoistwright.language`; empty: the shop's."""


@attrs.frozen(kw_only=True)
class Work:
    """When, by whom, on which bases, and why."""

    examined_on: datetime.date
    examined_by: str
    """Key of a person of the shop file."""
    bases: tuple[str, ...]
    received_on: datetime.date | None = None
    last_examined_on: datetime.date | None = None
    complaint: str = ""
    service: ServiceClass = "normal"
    remark: str = ""


@attrs.frozen(kw_only=True)
class JobSheet:
    """`design` is the key of a shipped design or the path of a design file; empty: unknown."""

    job: str
    design: str
    hoist: HoistIdentity
    customer: Customer
    work: Work
    units: Literal["mm", "in"] = "mm"
    readings: tuple[Reading, ...] = ()
    looks: tuple[LookAnswer, ...] = ()
    file: str = attrs.field(default="", eq=False)
