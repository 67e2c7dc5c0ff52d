"""Which hoists a batch, a part number or a gauge touches, once it is known to be bad."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence

import attrs

from hoistwright.fleet.histories import by_hoist
from hoistwright.fleet.visit_facts import VisitFacts
from hoistwright.job.hoist_key import tokens


@attrs.frozen(kw_only=True)
class Fitted:
    """A part that was fitted new with a trace that was asked for.

    `still_in`: no later visit renewed it. `last`: the hoist's latest visit, which says where it
    is now.
    """

    part: str
    trace: str
    visit: VisitFacts
    last: VisitFacts
    still_in: bool
    replaced_in: str = ""
    """The job that renewed it again."""


def fitted_with(visits: Iterable[VisitFacts], text: str, part: str = "") -> tuple[Fitted, ...]:
    """Parts whose trace (number, batch, heat, certificate) contains all that was typed.

    Case, accents and marks do not count: "heat 26-118" finds "Heat 26118/B" and not "26-1180".

    Args:
        visits: all of the shop.
        text: what was typed; empty finds nothing.
        part: key of a part, where only it is meant.

    Returns:
        Those still in a hoist first, then by the day they were fitted.

    References:
        none; plain search.

    >>> fitted_with([], "26-118")
    ()
    """
    wanted = tokens(text)
    if not wanted:
        return ()
    found = [
        item
        for many in by_hoist(visits).values()
        for item in _of_hoist(many)
        if (not part or item.part == part) and _fits(wanted, item.trace)
    ]
    return tuple(sorted(found, key=lambda item: (not item.still_in, item.visit.day, item.part)))


def _of_hoist(visits: Sequence[VisitFacts]) -> Iterator[Fitted]:
    for at, visit in enumerate(visits):
        for new in visit.new:
            if new.trace:
                later = (v.job for v in visits[at + 1 :] if any(n.part == new.part for n in v.new))
                job = next(later, "")
                yield Fitted(part=new.part, trace=new.trace, visit=visit, last=visits[-1],
                             still_in=not job, replaced_in=job)  # fmt: skip


def _fits(wanted: Sequence[str], trace: str) -> bool:
    """Every word typed is one of the trace, or together they are a run of its words."""
    words = tokens(trace)
    if all(word in words for word in wanted):
        return True
    whole, count = "".join(wanted), len(words)
    return any(
        whole == "".join(words[first:last])
        for first in range(count)
        for last in range(first + 1, count + 1)
    )


FITTED_HEADS = (
    "part", "trace", "fitted in job", "on", "still in", "replaced in", "hoist", "serial", "tag",
    "customer", "address", "premises", "last job", "certificate",
)  # fmt: skip


def fitted_row(item: Fitted) -> list[object]:
    """One line of a table of parts to recall."""
    last, one = item.last, item.last.identity
    return [
        item.part, item.trace, item.visit.job, item.visit.day, "yes" if item.still_in else "no",
        item.replaced_in, f"{one.maker} {one.model}".strip(), one.serial, one.tag,
        last.customer.name, last.customer.address, last.customer.premises, last.job,
        last.certificate,
    ]  # fmt: skip


@attrs.frozen(kw_only=True)
class Doubted:
    """A gauge found wrong: how much it read too much (minus: too little), and how surely so.

    SI of what it measures. `u`: standard uncertainty of the gauge as found, for readings after
    `since`; None: as stated before.
    """

    gauge: str
    since: datetime.date
    until: datetime.date
    error: float = 0.0
    u: float | None = None

    def covers(self, visit: VisitFacts) -> bool:
        """A visit on whose day the gauge was in doubt."""
        return self.since <= visit.day <= self.until


def used_by(visits: Iterable[VisitFacts], doubted: Doubted) -> tuple[VisitFacts, ...]:
    """The visits that have a reading with the gauge while it was in doubt."""
    return tuple(
        visit
        for visit in visits
        if doubted.covers(visit)
        and any(read.gauge == doubted.gauge for read in (*visit.found, *visit.left))
    )
