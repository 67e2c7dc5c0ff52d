"""The demo's history: covers what it should, follows the rules, and wears as hoists do."""

from __future__ import annotations

import datetime
import functools
from collections import Counter, defaultdict
from itertools import pairwise

import numpy as np
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.cards import TAKEN_OVER
from hoistwright.demo.customers import demo_customers
from hoistwright.demo.history import LAST_TODAY, TODAY, YEAR, History, PastJob, plan, told
from hoistwright.demo.in_shop import in_shop
from hoistwright.demo.planned import Planned
from hoistwright.demo.shop_files import demo_folder
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.job.events import PartChosen, ReadingEntered, Remarked
from hoistwright.job.fold import fold
from hoistwright.job.shop_file import load_shop
from hoistwright.job.stages import Facts, missing, stands_at
from hoistwright.job.state import LEFT, STAGES, JobState
from hoistwright.metrology import Outcome

SHOP = load_shop(demo_folder() / "shop.toml")
SECTION = ("load_chain", "load_chain.gauge_length", "section 1")


@functools.cache
def whole() -> History:
    return plan()


@functools.cache
def word_for_word(hoist: int) -> tuple[PastJob, ...]:
    """All visits of one hoist, the earliest first."""
    return tuple(told(p, SHOP) for p in whole().planned if p.visit.hoist.number == hoist)


def state_of(job: PastJob) -> JobState:
    return fold(job.job, job.events())


def facts_of(job: PastJob) -> Facts:
    state = state_of(job)
    bases = tuple(shipped_basis(key) for key in state.bases)
    return Facts(state=state, design=shipped(state.design), bases=bases, shop=SHOP)


def at_the_bench() -> list[Planned]:
    return [p for p in whole().planned if not p.on_card]


def chosen_visits() -> list[Planned]:
    """The first of each design, and those that ended or began in another way than most."""
    first = {p.visit.hoist.design: p for p in reversed(at_the_bench())}
    ways = {p.visit.leaves: p for p in at_the_bench()}
    defect = next(p for p in at_the_bench() if p.visit.defects)
    chain = next(p for p in at_the_bench() if "load_chain" in p.visit.renewed)
    return [*first.values(), *ways.values(), defect, chain]


def chain_reading(job: PastJob) -> float:
    body = state_of(job).readings[SECTION].body
    assert isinstance(body, ReadingEntered)
    return sum(body.values) / len(body.values)


def test_the_same_seed_gives_the_same_words_and_another_seed_others() -> None:
    few = plan(hoists=8)
    assert few == plan(hoists=8)
    one = few.planned[-1]
    assert [e.hash for e in told(one, SHOP).events()] == [e.hash for e in told(one, SHOP).events()]
    assert few.planned != plan(hoists=8, seed=7).planned


def test_three_hundred_hoists_of_all_designs_and_all_kinds_of_customers() -> None:
    hoists = [life.hoist for life in whole().lives]
    assert len({h.serial for h in hoists}) == len({h.tag for h in hoists}) == 300
    assert {h.design for h in hoists} == set(shipped_keys())
    trades = Counter(h.customer.trade for h in hoists)
    assert set(trades) == {"boatyard", "theatre", "quarry", "wind-turbine crew"}
    assert min(trades.values()) >= 30
    assert {h.service for h in hoists if h.customer.trade == "quarry"} == {"heavy", "severe"}


def test_every_hoist_was_here_within_the_twelve_months_and_most_before() -> None:
    days: dict[int, list[datetime.date]] = {life.hoist.number: [] for life in whole().lives}
    for one in whole().planned:
        if one.visit.hoist.number in days:  # the others are in the shop now, for the first time
            days[one.visit.hoist.number].append(one.visit.day)
    assert all(any(TODAY - YEAR < day <= TODAY for day in found) for found in days.values())
    assert sum(2 <= len(found) <= 6 for found in days.values()) > 0.75 * len(days)
    assert min(day for found in days.values() for day in found) < TODAY - 3 * YEAR


def test_all_names_say_that_they_are_invented() -> None:
    assert all(c.name.endswith("(invented)") for c in demo_customers())
    assert {shipped(life.hoist.design).identity.maker for life in whole().lives} == {"Ardle"}


def test_numbers_are_given_once_and_end_where_the_job_sheets_begin() -> None:
    numbers = [p.visit.job for p in whole().planned]
    certificates = [p.visit.certificate for p in whole().planned]
    assert len(set(numbers)) == len(set(certificates)) == len(numbers)
    before = [p.visit.job for p in at_the_bench() if p.visit.day < datetime.date(2026, 10, 5)]
    assert max(before) == "KQ-0400"
    sheets = {f"KQ-{number:04d}" for number in range(401, 413)}
    assert not sheets & {*numbers, *(job.job for job in in_shop(whole(), SHOP))}


@pytest.mark.parametrize("planned", chosen_visits(), ids=lambda p: p.visit.job)
def test_a_visit_of_the_twelve_months_misses_nothing_of_any_stage(planned: Planned) -> None:
    facts = facts_of(told(planned, SHOP))
    state = facts.state
    assert missing(state, facts.design, facts.bases, SHOP, state.asked) == ()
    assert (state.stage, stands_at(facts)) == (LEFT, LEFT)
    assert state.lost == ()
    assert not state.conflicts


@pytest.mark.parametrize("today", [datetime.date(2026, 12, 24), LAST_TODAY])
def test_the_last_visits_of_a_later_history_keep_the_rules_too(today: datetime.date) -> None:
    for planned in plan(hoists=40, today=today).planned[-3:]:
        facts = facts_of(told(planned, SHOP))
        assert planned.visit.day > TODAY
        assert missing(facts.state, facts.design, facts.bases, SHOP, facts.state.asked) == ()


def test_a_hoist_of_the_job_sheets_has_cards_with_less_wear() -> None:
    cards = [p for p in whole().planned if p.visit.hoist.serial == "A2-11873"]
    assert [p.on_card for p in cards] == [True, True]
    earlier, later = (chain_reading(told(p, SHOP)) for p in cards)
    today = 0.3299  # of its job sheet, KQ-0401
    assert 0.328 <= earlier < later < today


def test_hoists_leave_released_unrepaired_and_condemned() -> None:
    ways = Counter(p.visit.leaves for p in at_the_bench())
    assert set(ways) == {"released", "returned unrepaired", "condemned"}
    assert ways["released"] > 0.95 * len(at_the_bench())
    last = {p.visit.hoist.number: p for p in whole().planned}
    gone = [p for p in at_the_bench() if p.visit.leaves != "released"]
    assert all(last[p.visit.hoist.number] is p for p in gone)


def test_a_certificate_on_paper_has_no_file_and_the_interval_of_its_service_class() -> None:
    months = {"normal": 12, "heavy": 6, "severe": 3}
    for service, count in months.items():
        one = next(p for p in at_the_bench()
                   if p.visit.hoist.service == service and p.visit.leaves == "released"
                   and p.visit.day.day <= 28)  # fmt: skip
        issued = state_of(told(one, SHOP)).certificate
        assert issued is not None
        assert issued.content == ""
        assert issued.next_due is not None
        since = (issued.next_due.year - one.visit.day.year) * 12
        assert since + issued.next_due.month - one.visit.day.month == count
        assert issued.next_due.day == one.visit.day.day


def test_a_card_tells_little_says_so_and_has_left() -> None:
    card = next(p for p in whole().planned if p.on_card)
    job = told(card, SHOP)
    facts = facts_of(job)
    assert Remarked(text=TAKEN_OVER) in [word.body for word in job.told]
    assert facts.state.looks == {}
    assert SECTION in facts.state.readings
    assert (facts.state.stage, stands_at(facts)) == (LEFT, LEFT)


def test_chains_lengthen_between_visits_and_are_short_again_once_renewed() -> None:
    """Wear does not go back: 0.6 mm is four times what gauge and hand are off together.

    A new chain that is overloaded, or runs dry, may be longer than the old one by the next visit.
    """
    shorter: list[bool] = []
    for number in range(0, 300, 6):
        jobs = word_for_word(number)
        for before, after in pairwise(jobs):
            grown = chain_reading(after) - chain_reading(before)
            if "load_chain" in before.visit.renewed:
                shorter.append(grown < 0)
            else:
                assert grown > -0.6e-3
    assert sum(shorter) > 0.8 * len(shorter) > 0


def test_a_chain_batch_went_into_several_hoists() -> None:
    batches: dict[str, set[str]] = defaultdict(set)
    for one in at_the_bench():
        if "load_chain" in one.visit.renewed and one.visit.leaves == "released":
            chosen = state_of(told(one, SHOP)).choices["load_chain"].body
            assert isinstance(chosen, PartChosen)
            batches[chosen.trace].add(one.visit.hoist.serial)
    assert "" not in batches
    assert max(len(found) for found in batches.values()) >= 3


def test_the_caliper_that_was_found_wrong_was_used_much() -> None:
    used = sum(
        isinstance(word.body, ReadingEntered) and word.body.gauge == "cal-2"
        for one in at_the_bench()[::20]
        for word in told(one, SHOP).told
    )
    assert used > 100


def test_a_hoist_rests_at_each_stage_and_none_that_was_condemned_comes_again() -> None:
    here = list(in_shop(whole(), SHOP))
    gone = {p.visit.hoist.number for p in at_the_bench() if p.visit.leaves != "released"}
    assert not gone & {job.visit.hoist.number for job in here}
    stages = [state_of(job).stage for job in here]
    assert set(STAGES) - {"examine"} == set(stages)
    assert all(stands_at(facts_of(job)) == stage for job, stage in zip(here, stages, strict=True))


def test_one_chain_is_fit_today_and_will_not_last_until_the_next_visit() -> None:
    """By a straight line through its readings, drawn by a general library."""
    *_, today = in_shop(whole(), SHOP)
    facts = facts_of(today)
    assert facts.state.stage == "renew"
    assert facts.examination is not None
    verdict = next(v for v in facts.examination.verdicts if (v.part, v.feature, v.place) == SECTION)
    assert verdict.outcome is Outcome.FIT
    visits = [*word_for_word(today.visit.hoist.number), today]
    when = [(job.visit.day - TODAY).days for job in visits]
    slope, start = np.polyfit(when, [chain_reading(job) for job in visits], 1)
    as_new, most = 0.328, 0.328 * 1.025  # 13 links of 24 mm and two wires; limit 2.5 %
    assert as_new < chain_reading(today) < most
    half_a_year = 182
    assert start + slope * half_a_year > most
