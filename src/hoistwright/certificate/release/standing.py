"""What a genuine paper means for whoever wants to lift today: remarks, next to the outcome.

That a paper is signed and unchanged does not say that the hoist may be used.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Any

from hoistwright.certificate.release.values import RELEASES
from hoistwright.certificate.signing.code import Essentials
from hoistwright.certificate.signing.findings import Found

_NO_RELEASE = Found("remark", "It is no release: do not lift with this hoist.")
CODE_RELEASES = ("released", "lower load")
"""Decisions of a code that let the hoist lift."""


def standing(record: Mapping[str, Any], today: datetime.date) -> Iterator[Found]:
    """Remarks on a record: no release, examination overdue, defects with a day of their own."""
    if record["kind"] == "withdrawal":
        yield Found(
            "remark",
            f"It withdraws {record['number']}, revision {record['revision']}: that certificate no "
            "longer stands. Do not use the hoist on the strength of it.",
        )
        return
    if record["decision"] not in RELEASES:
        yield _NO_RELEASE
    due = record["next_due"]
    if due:
        yield from _overdue(datetime.date.fromisoformat(due["day"]), today)
    for defect in open_defects(record):
        yield _to_mend(defect, today)


def open_defects(record: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Defects that the hoist is released with, to be put right by a day: the soonest first.

    Of a hoist that must not lift at all there is no day until which it might.
    """
    if record["decision"] not in RELEASES:
        return []
    waiting = [item for item in record["defects"] if item["by"] and not item["done"]]
    return sorted(waiting, key=lambda item: str(item["by"]))


def code_standing(essentials: Essentials, today: datetime.date) -> Iterator[Found]:
    """The same of a code, as far as it tells."""
    if essentials.decision not in CODE_RELEASES:
        yield _NO_RELEASE
    if essentials.next_due:
        yield from _overdue(essentials.next_due, today)


def _overdue(due: datetime.date, today: datetime.date) -> Iterator[Found]:
    if due < today:
        yield Found(
            "remark",
            f"The next thorough examination was due by {due}: it is overdue. Do not lift before "
            "it is made.",
        )


def _to_mend(defect: Mapping[str, Any], today: datetime.date) -> Found:
    by = defect["by"]
    late = " That day is past." if datetime.date.fromisoformat(by) < today else ""
    return Found("remark", f"To be put right by {by}: {defect['part']}: {defect['remedy']}.{late}")
