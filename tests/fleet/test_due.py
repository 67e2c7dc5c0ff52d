"""Days a foreman acts on: never later than paper says, sooner where wear asks for it."""

from __future__ import annotations

import datetime
import re

import attrs
from fleet_scene import Visit, facts_of, known_on, made_fleet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hoistwright.fleet.due import LEAST_DAYS, all_due, due_of, wear_date
from hoistwright.fleet.forecasts import RISK, Fleet, fleet
from hoistwright.fleet.histories import year_of
from hoistwright.fleet.returns import by_customer, by_month, csv_rows, returns, until
from hoistwright.fleet.risks import risks_for
from hoistwright.fleet.visit_facts import VisitFacts

TODAY = datetime.date(2026, 11, 25)
LAST = datetime.date(2026, 6, 1)
MINE = "ardle/MINE"


def with_mine(visits: tuple[VisitFacts, ...], *mine: Visit) -> Fleet:
    return fleet([*visits, *facts_of(mine)], known_on(TODAY))


def mine(number: int, day: datetime.date, chain: float, **more: object) -> Visit:
    made = Visit(job=f"M-{number}", serial="MINE", day=day, chain=chain,
                 due=datetime.date(2027, 6, 1))  # fmt: skip
    return attrs.evolve(made, **more)  # type: ignore[arg-type]


def test_no_day_is_later_than_certificate_and_interval(whole: Fleet) -> None:
    found = all_due(whole)
    assert len(found) == 60
    for due in found:
        paper = due.by_certificate or due.by_interval
        assert paper is not None
        assert due.day <= paper
        assert due.earliest <= due.day
        if due.reason == "wear":
            assert due.by_wear == due.day
            assert due.worst is not None
            # by then the chance is about what is allowed; one week on it is above
            later = due.day + datetime.timedelta(days=8)
            assert due.worst.chance_by(later) > RISK or (due.day - due.last.day).days == LEAST_DAYS


def test_days_by_wear_fall_on_mondays(whole: Fleet) -> None:
    by_wear = [due.by_wear for due in all_due(whole) if due.by_wear is not None]
    assert by_wear
    assert {day.weekday() for day in by_wear} == {0}


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.floats(0.05, 0.9), st.floats(30, 700))
def test_an_older_reading_moves_no_day_beyond_paper(
    visits: tuple[VisitFacts, ...], share: float, before: float
) -> None:
    older = mine(1, LAST - datetime.timedelta(days=before), share)
    due = due_of(with_mine(visits, older, mine(2, LAST, 0.9)), MINE)
    assert due is not None
    assert due.day <= datetime.date(2027, 6, 1)
    assert due.day >= LAST + datetime.timedelta(days=LEAST_DAYS)


def test_a_chain_nearer_its_limit_comes_back_no_later(visits: tuple[VisitFacts, ...]) -> None:
    begun = LAST - datetime.timedelta(days=365)
    days = []
    for share in (0.5, 0.7, 0.9, 0.98):
        found = due_of(with_mine(visits, mine(1, begun, 0.4), mine(2, LAST, share)), MINE)
        assert found is not None
        days.append(found.day)
    assert days == sorted(days, reverse=True)
    assert days[0] == datetime.date(2027, 6, 1)
    assert days[-1] < datetime.date(2026, 8, 1)


def test_a_renewal_takes_the_risk_away(visits: tuple[VisitFacts, ...]) -> None:
    begun = LAST - datetime.timedelta(days=365)
    worn = [mine(1, begun, 0.7), mine(2, LAST, 0.97)]
    renewed = [worn[0], attrs.evolve(worn[1], new_chain=True)]
    kept, fresh = with_mine(visits, *worn), with_mine(visits, *renewed)
    risk = {r.part: r.probability for r in risks_for(kept, MINE)}["load_chain"]
    after = {r.part: r.probability for r in risks_for(fresh, MINE)}["load_chain"]
    assert risk > 0.9
    assert after < 0.02
    assert wear_date(kept, MINE, LAST) is not None
    due = due_of(fresh, MINE)
    assert due is not None
    assert due.reason == "certificate"


def test_risks_tell_the_part_and_its_chance_in_words(visits: tuple[VisitFacts, ...]) -> None:
    begun = LAST - datetime.timedelta(days=365)
    found = risks_for(with_mine(visits, mine(1, begun, 0.6), mine(2, LAST, 0.9)), MINE)
    first = found[0]
    assert first.part == "load_chain"
    assert re.match(r"gauge length is (8[5-9]|9[0-5]) % of the way to its limit; ", first.why)
    assert "before the next visit" in first.why


def test_who_does_not_come_back(visits: tuple[VisitFacts, ...]) -> None:
    scrapped = mine(1, LAST, 0.9, exit="condemned")
    found = returns(with_mine(visits, scrapped))
    assert MINE not in {due.hoist for due in found.due}
    assert found.not_at_work == 1
    here = returns(with_mine(visits, mine(1, LAST, 0.9, stop="renew")))
    assert here.here == 1
    assert MINE not in {due.hoist for due in here.due}


def test_without_an_interval_and_a_certificate_there_is_no_day() -> None:
    """A basis without intervals alone, and a single reading: nobody can say when."""
    facts = facts_of([mine(1, LAST, 0.3, due=None)])
    bare = [attrs.evolve(facts[0], bases=("workshop-practice",))]
    found = returns(fleet(bare, known_on(TODAY)))
    assert found.due == ()
    assert [visit.hoist for visit in found.without_day] == [MINE]


def test_without_a_certificate_the_interval_of_the_service_class_counts() -> None:
    facts = facts_of([mine(1, LAST, 0.3, due=None, service="heavy")])
    due = due_of(fleet(facts, known_on(TODAY)), MINE)
    assert due is not None
    # ASME B30.16: heavy service, semi-annual periodic inspection
    assert (due.reason, due.day) == ("interval", datetime.date(2026, 12, 1))


def test_bundles_hold_every_hoist_once(whole: Fleet) -> None:
    due = all_due(whole)
    for bundles in (by_customer(due), by_month(due, TODAY)):
        assert sorted(d.hoist for b in bundles for d in b.due) == sorted(d.hoist for d in due)
    soon = until(due, TODAY + datetime.timedelta(weeks=4))
    assert all(item.day <= TODAY + datetime.timedelta(weeks=4) for item in soon)
    assert len(csv_rows(due, TODAY)) == len(due)


def test_stated_chances_hold_for_the_next_reading() -> None:
    """Each hoist's last visit is held out: its chain must lie in the 90 % band as often as said.

    180 hoists: 84 to 96 % is four standard deviations of a share of 0.9, rounded in.
    """
    every = facts_of(made_fleet(180, TODAY, seed=11))
    last: dict[str, VisitFacts] = {visit.hoist: visit for visit in every}
    earlier = [visit for visit in every if last[visit.hoist] is not visit]
    found = fleet(earlier, known_on(TODAY))
    inside = count = 0
    for hoist, outlooks in found.outlooks.items():
        chain = next((o for o in outlooks if o.part == "load_chain" and o.prognosis), None)
        if chain is None or chain.prognosis is None:
            continue
        truth = next(r.value for r in last[hoist].found if r.part == "load_chain")
        share = chain.history.scale.share(truth)
        ahead = year_of(last[hoist].day) - chain.history.series.last_time
        mean, sd = chain.prognosis.state.after(ahead)
        u = chain.history.readings[-1].u if chain.history.readings else 0.02
        inside += abs(share - float(mean)) <= 1.645 * (float(sd) ** 2 + u**2) ** 0.5
        count += 1
    assert count > 120
    assert 0.84 <= inside / count <= 0.97


def test_a_hoist_nobody_knows_is_not_due(whole: Fleet) -> None:
    assert due_of(whole, "ardle/nobody") is None
    assert risks_for(whole, "ardle/nobody") == ()
    assert wear_date(whole, "ardle/nobody", TODAY) is None


def test_overdue_come_first_then_what_wear_asks_for(whole: Fleet) -> None:
    found = all_due(whole)
    ranks = [0 if d.overdue(TODAY) else 1 if d.wear_now(TODAY) else 2 for d in found]
    assert ranks == sorted(ranks)
    chances = [d.chance_now(TODAY) for d in found if d.wear_now(TODAY)]
    assert chances == sorted(chances, reverse=True)
    days = [d.day for d in found if not d.overdue(TODAY) and not d.wear_now(TODAY)]
    assert days == sorted(days)


def test_a_few_new_readings_are_forecast_by_the_fit_that_is_there(
    visits: tuple[VisitFacts, ...], whole: Fleet
) -> None:
    """Near what a new fit would say; and everybody else's outlook stays as it was."""
    more = [*visits, *facts_of([mine(1, LAST, 0.5), mine(2, LAST, 0.9)])]
    quick = fleet(more, known_on(TODAY), before=whole)
    anew = fleet(more, known_on(TODAY))
    key = ("load_chain.gauge_length", True)
    assert quick.bundles[key].fitted is whole.bundles[key].fitted
    assert quick.bundles[key].drift == 1
    other = visits[0].hoist
    assert all(a is b for a, b in zip(quick.outlooks[other], whole.outlooks[other], strict=True))
    one, two = due_of(quick, MINE), due_of(anew, MINE)
    assert one is not None
    assert two is not None
    assert abs((one.day - two.day).days) <= 21


def test_many_new_readings_make_a_new_fit(visits: tuple[VisitFacts, ...], whole: Fleet) -> None:
    many = [attrs.evolve(mine(n, LAST, 0.5), serial=f"MINE{n}") for n in range(5)]
    found = fleet([*visits, *facts_of(many)], known_on(TODAY), before=whole)
    key = ("load_chain.gauge_length", True)
    assert found.bundles[key].fitted is not whole.bundles[key].fitted
    assert found.bundles[key].drift == 0
