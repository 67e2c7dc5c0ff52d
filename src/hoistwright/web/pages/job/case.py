"""A job as its pages need it: state, design, bases, shop, and what follows from them."""

from __future__ import annotations

import datetime
import threading
from collections import OrderedDict
from collections.abc import Mapping
from functools import cached_property

import attrs
from sqlalchemy import Connection

from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import Point, points
from hoistwright.hoist.design import Design
from hoistwright.job.shop import Shop
from hoistwright.job.stages import Facts, stands_at
from hoistwright.job.state import JobState
from hoistwright.store.model import JobRow
from hoistwright.web.bases import bases_named
from hoistwright.web.designs import design_named
from hoistwright.web.records.accounts import Account, all_accounts
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

_MOST = 64
_KEPT: OrderedDict[tuple[object, ...], Facts] = OrderedDict()
_LOCK = threading.Lock()


@attrs.frozen(kw_only=True, eq=False)
class Case:
    """One job, looked at by one visit."""

    visit: Visit
    job: str
    facts: Facts
    people: Mapping[str, Account]
    trouble: str = ""
    """Why the design or a basis cannot be used, where one cannot."""

    @cached_property
    def line(self) -> JobRow:
        """The job's line in the list of jobs. Raises Refused where there is no such job."""
        found = self.visit.bench.store.job(self.job)
        if found is None:
            raise _no_such_job(self.visit, self.job)
        return found

    @property
    def state(self) -> JobState:
        return self.facts.state

    @property
    def design(self) -> Design | None:
        return self.facts.design

    @property
    def shop(self) -> Shop:
        return self.facts.shop

    @property
    def points(self) -> tuple[Point, ...]:
        """All points of the design, with the limits of the day of the examination."""
        day = self.day
        key = (id(self.design), tuple(basis.digest for basis in self.facts.bases), day)
        return _points(key, self.facts, day)

    @cached_property
    def day(self) -> datetime.date:
        """The day the examination is held against; today where nothing was entered yet."""
        return self.facts.day or self.visit.bench.today

    @property
    def stage(self) -> str:
        """Where the job stands."""
        return stands_at(self.facts)

    def name(self, key: str) -> str:
        """The name of a person."""
        found = self.people.get(key)
        return found.name if found else key

    def needed_design(self) -> Design:
        """The design; a page without one leads to the booking."""
        if self.design is None:
            say = self.visit.say
            raise Refused(
                409,
                say("No design is chosen for this hoist yet."),
                say("Choose one under Book in, then come back."),
            )
        return self.design


def case_of(visit: Visit) -> Case:
    """The job named in the address. Raises Refused where there is none."""
    job = visit.part("job")
    state = visit.bench.store.state(job) if 0 < len(job) <= 80 else JobState(job=job)
    if not state.seq:
        raise _no_such_job(visit, job)
    return case_at(visit, state)


def case_to_enter(visit: Visit) -> Case:
    """The same without asking the record: the job as this bench knows it from the last time.

    Enough to enter something after, for the record holds that against where the job stands.
    """
    held = visit.bench.store.held(visit.part("job"))
    return case_at(visit, held) if held and held.seq else case_of(visit)


def case_at(visit: Visit, state: JobState) -> Case:
    """A job in one state."""
    shop, people = visit.bench.kept.get(visit.bench.engine, "shop and people", _shop_and_people)
    design, trouble = _design(visit, state.design)
    bases, wrong = _bases(visit, state.bases)
    return Case(
        visit=visit,
        job=state.job,
        facts=_facts(state, design, bases, shop),
        people=people,
        trouble=trouble or wrong,
    )


def _no_such_job(visit: Visit, job: str) -> Refused:
    return Refused(
        404,
        visit.say("There is no job %(job)s.", job=job[:80]),
        visit.say("Look for it among the hoists in the shop."),
    )


def _shop_and_people(conn: Connection) -> tuple[Shop, Mapping[str, Account]]:
    return shop_of(conn), {account.key: account for account in all_accounts(conn)}


_POINTS: OrderedDict[tuple[object, ...], tuple[Design | None, tuple[Point, ...]]] = OrderedDict()
"""With the design, so that no other one can take its place in memory and its key."""


def _points(key: tuple[object, ...], facts: Facts, day: datetime.date) -> tuple[Point, ...]:
    """They follow from design, bases and day alone: worked out once for all jobs of a day."""
    with _LOCK:
        design, found = _POINTS.pop(key, (None, ()))
        if design is None and facts.design is not None:
            design = facts.design
            found = points(design, rulings(design, facts.bases, day))
        _POINTS[key] = design, found
        while len(_POINTS) > _MOST:
            _POINTS.popitem(last=False)
    return found


def again(case: Case) -> Case:
    """The same case after something was entered."""
    return case_of(case.visit)


def _facts(state: JobState, design: Design | None, bases: tuple[Basis, ...], shop: Shop) -> Facts:
    """The facts; those worked out for the same state, shop, design and bases serve again."""
    key = (state.job, state.hash, id(design), tuple(basis.digest for basis in bases), id(shop))
    with _LOCK:  # the facts hold design and shop, so that none other can take their place
        facts = _KEPT.pop(key, None) or Facts(state=state, design=design, bases=bases, shop=shop)
        _KEPT[key] = facts
        while len(_KEPT) > _MOST:
            _KEPT.popitem(last=False)
    return facts


def _design(visit: Visit, name: str) -> tuple[Design | None, str]:
    design = design_named(visit.bench, name) if name else None
    if name and design is None:
        return None, visit.say("The design %(name)s cannot be found or used.", name=name)
    return design, ""


def _bases(visit: Visit, keys: tuple[str, ...]) -> tuple[tuple[Basis, ...], str]:
    found = bases_named(visit.bench, keys)
    strange = [key for key in keys if key not in {basis.key for basis in found}]
    trouble = f"{', '.join(strange)}: no such basis." if strange else ""
    return found, trouble
