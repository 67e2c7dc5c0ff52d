"""What a certificate of release states, as plain values in SI. Nothing here decides."""

from __future__ import annotations

import datetime
from typing import Literal, get_args

import attrs

from hoistwright.job.events_release import Occasion
from hoistwright.prove.release import Exit as Decision

__all__ = [
    "DECISIONS", "ONCE", "RELEASES", "Certificate", "Danger", "Decision", "Defect", "NextDue",
    "Occasion", "Signatory", "Supersedes", "TestFigure", "TestMade", "Unit", "Withdrawal", "Work",
    "WorkDone",
]  # fmt: skip

DECISIONS: tuple[Decision, ...] = get_args(Decision)
RELEASES = DECISIONS[:2]

ONCE = "used once"
"""Stands for the one-use parts of a rebuild, which stand in one line of the work done."""

Danger = Literal["is a danger", "could become a danger"]
Work = Literal["renewed", "repaired", "altered", "adjusted"]
Unit = Literal["mm", "in"]


@attrs.frozen(kw_only=True)
class Signatory:
    """Somebody who answers for the certificate. `key` is that of the shop file."""

    key: str
    name: str
    address: str
    qualification: str
    employer: str
    """Name and address of the employer, or "self-employed"."""
    roles: tuple[str, ...] = ()


@attrs.frozen(kw_only=True)
class Defect:
    """A part with a defect, and what is or was needed.

    `done` says what was done about it; empty: nothing yet. `by` is the day by which a defect
    that could become a danger must be put right.
    """

    part: str
    defect: str
    danger: Danger
    remedy: str
    done: str = ""
    by: datetime.date | None = None


@attrs.frozen(kw_only=True)
class WorkDone:
    """What was done to a part. `trace` is the new part's batch, heat or certificate number."""

    part: str
    name: str = ""
    work: Work = "renewed"
    trace: str = ""
    remark: str = ""


@attrs.frozen(kw_only=True)
class TestFigure:
    """One figure of a test, so that it can be traced. `value` and `uncertainty` (U, k = 2) as
    printed with their unit; `formula` says how the value follows from the readings.
    """

    __test__ = False  # not a test, whatever its name

    what: str
    value: str
    uncertainty: str = ""
    gauge: str = ""
    formula: str = ""
    limit: str = ""
    source: str = ""


@attrs.frozen(kw_only=True)
class TestMade:
    """A test and its particulars. `load` on the hook in kg with its U (k = 2), `hold` in s."""

    __test__ = False

    name: str
    passed: bool
    particulars: str
    load: float | None = None
    load_uncertainty: float | None = None
    hold: float | None = None
    source: str = ""
    clause: str = ""
    edition: str = ""
    figures: tuple[TestFigure, ...] = ()
    by: str = ""


@attrs.frozen(kw_only=True)
class NextDue:
    """The latest day of the next thorough examination, and what it follows from."""

    day: datetime.date
    why: str


@attrs.frozen(kw_only=True)
class Supersedes:
    """The issue that a revision takes the place of. `file_sha256` is that of the signed file."""

    number: str
    revision: int
    file_sha256: str
    issued_on: datetime.date
    reason: str


@attrs.frozen(kw_only=True)
class Certificate:
    """One certificate. `examination` facts (readings, verdicts, bases) come beside it.

    `issued_on` is the date of the report. `rated_load` in kg is what the hoist may lift from
    now on; for a hoist that may lift nothing it is 0. `missing` is what the release rule still
    asks for: while it holds anything, no release can be made.
    """

    number: str
    decision: Decision
    issued_on: datetime.date
    occasion: Occasion
    safe_to_operate: bool
    rated_load: float
    reported_by: Signatory
    authenticated_by: Signatory
    revision: int = 0
    performed_at: str = ""
    """Address at which the work was done; empty: that of the shop."""
    tested_on: datetime.date | None = None
    installed_correctly: bool | None = None
    configuration: str = ""
    rated_load_before: float | None = None
    plate_changed: bool = False
    made_unusable: str = ""
    defects: tuple[Defect, ...] = ()
    work: tuple[WorkDone, ...] = ()
    tests: tuple[TestMade, ...] = ()
    next_due: NextDue | None = None
    supersedes: Supersedes | None = None
    deviations: str = ""
    """Departures from the usual way of examining or testing; empty: none."""
    from_others: str = ""
    """Results that somebody outside the shop provided; empty: none."""
    remarks: str = ""
    missing: tuple[str, ...] = ()


@attrs.frozen(kw_only=True)
class Withdrawal:
    """A statement that a certificate no longer stands."""

    number: str
    revision: int
    file_sha256: str
    issued_on: datetime.date
    """Date of the certificate that is withdrawn."""
    withdrawn_on: datetime.date
    reason: str
    by: Signatory
    serial: str = ""
