"""From visits to wear series: renewals reset, unfinished examinations do not count."""

from __future__ import annotations

import datetime

import attrs
import pytest
from fleet_scene import Visit, bodies, facts_of, known_on, state_of
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.demo.shop_files import demo_folder
from hoistwright.fleet.histories import AS_OLD_AS_THE_HOIST, History, histories, made_on, year_of
from hoistwright.fleet.scales import scales, worn
from hoistwright.fleet.visit_facts import Read, Taking, lasting, visit_facts
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import Draft, seal
from hoistwright.job.events import ReadingEntered, StageFinished
from hoistwright.job.fold import further
from hoistwright.job.shop_file import load_shop

TODAY = datetime.date(2026, 11, 25)
FIRST = datetime.date(2025, 3, 3)
CHAIN = "load_chain"


def visit(number: int, months: int, chain: float, **more: object) -> Visit:
    day = FIRST + datetime.timedelta(days=round(30.4 * months))
    made = Visit(job=f"J-{number}", serial="H-1", day=day, chain=chain)
    return attrs.evolve(made, **more)  # type: ignore[arg-type]


def chain_of(*visits: Visit) -> History:
    found = histories(facts_of(visits), known_on(TODAY))
    return next(h for h in found if h.scale.part == CHAIN)


def test_readings_are_shares_of_the_way_to_the_limit() -> None:
    history = chain_of(visit(1, 0, 0.2), visit(2, 12, 0.5))
    assert [round(mark.share, 6) for mark in history.readings] == [0.2, 0.5]
    # ASME B30.16: 2.5 % longer than unworn, here 13 links of 24 mm and twice the wire of 8 mm
    assert history.scale.limit - history.scale.new == pytest.approx(0.025 * 0.328)


def test_a_renewal_begins_a_new_life_after_the_reading_as_found() -> None:
    history = chain_of(visit(1, 0, 0.6), visit(2, 12, 0.98, new_chain=True), visit(3, 24, 0.2))
    starts = history.series.starts
    assert [start.value for start in starts] == [None, 0.0]
    assert starts[1].time == history.series.readings[1].time
    assert history.renewals == ((visit(2, 12, 0.0).day, "J-2"),)


def test_a_part_chosen_but_not_fitted_is_no_renewal() -> None:
    stopped = visit(2, 12, 0.98, new_chain=True, stop="rebuild")
    assert chain_of(visit(1, 0, 0.6), stopped).renewals == ()


def test_an_unfinished_examination_does_not_count() -> None:
    history = chain_of(visit(1, 0, 0.2), visit(2, 12, 0.5, stop="strip"))
    assert [mark.job for mark in history.readings] == ["J-1"]


def test_what_is_read_on_the_new_part_is_its_start() -> None:
    """Somebody measures the new chain before the hoist leaves: that is no reading as found."""
    scene = visit(1, 0, 0.98, new_chain=True)
    state = state_of(attrs.evolve(scene, stop="rebuild"))
    read = next(b for b in bodies(scene) if isinstance(b, ReadingEntered))
    new = attrs.evolve(read, values=(0.3282,))
    for body in (new, StageFinished(stage="rebuild"), StageFinished(stage="prove")):
        noon = datetime.datetime(2025, 3, 4, 12, tzinfo=datetime.UTC)
        draft = Draft(body=body, by="odile")
        state = further(
            state, [seal(draft, job=state.job, seq=state.seq + 1, at=noon, before=state.hash)]
        )
    taking = Taking(lasting(load_shop(demo_folder() / "shop.toml").all_gauges()))
    facts = visit_facts(state, "ardle/h1", taking)
    assert facts is not None
    history = next(h for h in histories([facts], known_on(TODAY)) if h.scale.part == CHAIN)
    assert round(history.readings[0].share, 4) == 0.98
    assert history.series.starts[-1].value == pytest.approx(0.0002 / (0.025 * 0.328))


def test_an_old_hoist_has_an_unknown_start_a_young_one_starts_as_new() -> None:
    old = chain_of(visit(1, 0, 0.4, manufactured="2015"))
    young = chain_of(visit(1, 0, 0.1, manufactured="06/2024"))
    assert old.series.starts[0].value is None
    assert young.series.starts[0].value == 0.0
    age = year_of(FIRST) - young.series.starts[0].time
    assert 0 < age < AS_OLD_AS_THE_HOIST


@given(st.permutations(range(4)))
def test_the_order_in_which_visits_are_told_makes_no_odds(order: list[int]) -> None:
    many = facts_of([visit(n, 6 * n, 0.2 + 0.1 * n) for n in range(4)])
    told = histories([many[n] for n in order], known_on(TODAY))
    assert told == histories(many, known_on(TODAY))


@given(st.floats(0.0, 1.2), st.floats(0.0, 1.2))
def test_the_worst_place_counts(one: float, other: float) -> None:
    design = shipped("ardle-2000")
    key = (CHAIN, "load_chain.gauge_length")
    scale = scales(design, tuple(known_on(TODAY).bases.values()), TODAY)[key]
    reads = [
        Read(part=key[0], feature=key[1], place=f"section {n}", value=scale.reading(share), u=1e-4,
             links=13)
        for n, share in enumerate((one, other), start=1)
    ]  # fmt: skip
    found = worn(design, scale, reads)
    assert found is not None
    assert found.share == pytest.approx(max(one, other), abs=1e-9)


def test_a_chain_read_over_other_links_is_held_against_its_own_length() -> None:
    """Ten links worn by half of the limit are half of the way, as thirteen are."""
    design = shipped("ardle-2000")
    key = (CHAIN, "load_chain.gauge_length")
    scale = scales(design, tuple(known_on(TODAY).bases.values()), TODAY)[key]
    length = (10 * 0.024 + 2 * 0.008) * (1 + 0.0125)
    read = Read(part=key[0], feature=key[1], place="section 1", value=length, u=1e-4, links=10)
    found = worn(design, scale, [read])
    assert found is not None
    assert found.share == pytest.approx(0.5)


@pytest.mark.parametrize(("text", "day"), [("unknown", None), ("13/2024", None), ("", None)])
def test_a_plate_that_tells_no_date(text: str, day: None) -> None:
    assert made_on(text) is day


def test_a_reading_with_a_gauge_out_of_date_does_not_count() -> None:
    """The demo shop's second caliper was due on 14 September 2026."""
    day = datetime.date(2026, 9, 14)
    kept = [attrs.evolve(visit(1, 0, 0.4), day=day + datetime.timedelta(days=n), gauge="mic-1")
            for n in (0, 1)]  # fmt: skip
    shop = load_shop(demo_folder() / "shop.toml")
    gauges = [g for g in shop.all_gauges() if g.key == "cal-2"]
    taking = Taking(lasting(gauges))
    for made, count in zip(kept, (1, 0), strict=True):
        read = next(
            b for b in bodies(made) if isinstance(b, ReadingEntered) and b.part == "bottom_hook"
        )
        body = {("a", "b", ""): attrs.evolve(read, gauge="cal-2")}
        assert len(list(taking.reads(body, made.day))) == count


def test_a_gauge_that_the_shop_does_not_have_does_not_count() -> None:
    facts = facts_of([visit(1, 0, 0.4, gauge="borrowed")])
    assert "load_chain" not in {read.part for read in facts[0].found}
    assert "bottom_hook" in {read.part for read in facts[0].found}


def test_a_gauge_calibrated_again_since_serves_as_well() -> None:
    """The long caliper was calibrated on 2 March 2026; readings of a year before count."""
    facts = facts_of([visit(1, 0, 0.4)])
    assert facts[0].day < datetime.date(2026, 3, 2)
    assert "load_chain" in {read.part for read in facts[0].found}
