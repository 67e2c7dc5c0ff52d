"""Who is due when: the list that a foreman rings customers by."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Sequence

import attrs

from hoistwright.fleet.due import Due, all_due
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.visit_facts import VisitFacts


@attrs.frozen(kw_only=True)
class Returns:
    """`here`: hoists in the shop now, which are not called back. `without_day`: released hoists
    for which nothing gives a day. `not_at_work`: condemned or returned without a repair.
    """

    due: tuple[Due, ...]
    here: int
    without_day: tuple[VisitFacts, ...]
    not_at_work: int


def returns(fleet: Fleet) -> Returns:
    """Every hoist by what is to become of it, those due with the longest overdue first."""
    last = [visits[-1] for visits in fleet.visits.values()]
    due = all_due(fleet)
    dated = {item.hoist for item in due}
    return Returns(
        due=due,
        here=sum(not visit.gone for visit in last),
        without_day=tuple(v for v in last if v.in_use and v.hoist not in dated),
        not_at_work=sum(visit.gone and not visit.in_use for visit in last),
    )


@attrs.frozen(kw_only=True)
class Bundle:
    """Hoists under one heading: a customer, or a month as its first day."""

    head: str
    due: tuple[Due, ...]


def until(due: Iterable[Due], day: datetime.date) -> tuple[Due, ...]:
    """Those due by a day, the overdue ones among them."""
    return tuple(item for item in due if item.day <= day)


def by_customer(due: Iterable[Due]) -> tuple[Bundle, ...]:
    """One bundle for each customer; who has the soonest hoist comes first."""
    return _bundles(due, lambda item: item.last.customer.name)


def by_month(due: Iterable[Due], today: datetime.date) -> tuple[Bundle, ...]:
    """What is due already under an empty heading, then month after month."""
    return _bundles(
        due, lambda item: "" if item.day < today else item.day.replace(day=1).isoformat()
    )


def by_urgency(due: Iterable[Due], today: datetime.date) -> tuple[Bundle, ...]:
    """Overdue on paper, then called back by wear, then still in time."""

    def head(item: Due) -> str:
        if item.overdue(today):
            return "overdue"
        return "wear" if item.wear_now(today) else "in time"

    return _bundles(due, head)


def of_customer(due: Iterable[Due], name: str) -> tuple[Due, ...]:
    return tuple(item for item in due if item.last.customer.name == name)


def _bundles(due: Iterable[Due], head: Callable[[Due], str]) -> tuple[Bundle, ...]:
    found: dict[str, list[Due]] = {}
    for item in due:
        found.setdefault(head(item), []).append(item)
    return tuple(Bundle(head=key, due=tuple(many)) for key, many in found.items())


CSV_HEADS = (
    "due", "take in from", "overdue days", "reason", "why", "by interval", "by certificate",
    "by wear", "hoist", "serial", "tag", "rated load kg", "service", "customer", "address",
    "premises", "last job", "last examined", "certificate",
)  # fmt: skip


def csv_rows(due: Sequence[Due], today: datetime.date) -> list[list[object]]:
    """One row for each hoist; days in ISO writing."""
    return [_csv_row(item, today) for item in due]


def _days_over(item: Due, today: datetime.date) -> int:
    """Since the day on paper passed."""
    return (today - item.paper).days if item.paper and item.overdue(today) else 0


def _csv_row(item: Due, today: datetime.date) -> list[object]:
    last, one = item.last, item.last.identity
    return [
        item.day, item.earliest, _days_over(item, today), item.reason, item.why,
        item.by_interval, item.by_certificate, item.by_wear,
        f"{one.maker} {one.model}".strip(), one.serial, one.tag, one.rated_load, last.service,
        last.customer.name, last.customer.address, last.customer.premises, last.job, last.day,
        last.certificate,
    ]  # fmt: skip
