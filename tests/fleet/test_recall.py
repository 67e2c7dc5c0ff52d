"""Recalls: the hoists of a batch, and verdicts that change with a gauge's true error."""

from __future__ import annotations

import datetime

import attrs
import pytest
from fleet_scene import Visit, facts_of, state_of

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.shop_files import demo_folder
from hoistwright.fleet.gauge_recall import Leaned, chance_after, examined_again
from hoistwright.fleet.recall import Doubted, fitted_with, used_by
from hoistwright.hoist.library import shipped
from hoistwright.job.shop_file import load_shop
from hoistwright.metrology import Outcome

FIRST = datetime.date(2026, 3, 9)
SPAN = 0.025 * 0.328
"""Way of a chain from as new to its limit, m."""


def visit(number: int, serial: str, months: int, **more: object) -> Visit:
    day = FIRST + datetime.timedelta(days=round(30.4 * months))
    made = Visit(job=f"R-{number}", serial=serial, day=day, chain=0.5)
    return attrs.evolve(made, **more)  # type: ignore[arg-type]


def again(made: Visit, doubted: Doubted) -> tuple[Leaned, ...]:
    shop = load_shop(demo_folder() / "shop.toml")
    bases = [shipped_basis(key) for key in ("b30-hand-hoists", "workshop-practice")]
    return examined_again(state_of(made), shipped("ardle-2000"), bases, shop, doubted)


def doubted(error: float, u: float | None = None, gauge: str = "long-1") -> Doubted:
    return Doubted(gauge=gauge, since=FIRST, until=FIRST + datetime.timedelta(days=400),
                   error=error, u=u)  # fmt: skip


@pytest.fixture(scope="module")
def batch() -> tuple[Visit, ...]:
    return (
        visit(1, "A", 0, new_chain=True, trace="Heat 26-118"),
        visit(2, "B", 0, new_chain=True, trace="heat 26118/B"),
        visit(3, "C", 0, new_chain=True, trace="26-1180"),
        visit(4, "D", 0, new_chain=True, trace=""),
        visit(5, "B", 6, new_chain=True, trace="heat 27-001"),
    )


def test_a_batch_finds_the_hoists_that_carry_it(batch: tuple[Visit, ...]) -> None:
    found = fitted_with(facts_of(batch), "heat 26-118")
    assert [(i.visit.identity.serial, i.still_in, i.replaced_in) for i in found] == [
        ("A", True, ""),
        ("B", False, "R-5"),
    ]


@pytest.mark.parametrize(
    ("typed", "serials"),
    [("26118", ["A", "B"]), ("HEAT", ["A", "B", "B"]), ("1180", ["C"]), ("", []), ("99", [])],
)
def test_what_is_typed_need_not_be_written_alike(
    batch: tuple[Visit, ...], typed: str, serials: list[str]
) -> None:
    found = fitted_with(facts_of(batch), typed)
    assert sorted(item.visit.identity.serial for item in found) == serials


def test_a_part_that_is_not_asked_for_is_left_out(batch: tuple[Visit, ...]) -> None:
    assert fitted_with(facts_of(batch), "heat", "bottom_hook") == ()


def test_only_readings_in_the_doubtful_time_count() -> None:
    many = facts_of([visit(1, "A", 0), visit(2, "A", 14), visit(3, "B", 1, gauge="cal-1")])
    assert [v.job for v in used_by(many, doubted(0.0))] == ["R-1"]


def test_a_gauge_that_read_too_little_makes_a_fit_chain_one_to_renew() -> None:
    """Read at 80 % of the way; the caliper read 2 mm too little, which is 24 % of it."""
    pairs = again(visit(1, "A", 0, chain=0.8), doubted(-0.002))
    assert len(pairs) == 3
    assert {pair.before.outcome for pair in pairs} == {Outcome.FIT}
    assert {pair.after.outcome for pair in pairs} == {Outcome.RENEW}
    assert all(pair.worse for pair in pairs)
    after = pairs[0].after.judgement
    assert after is not None
    assert after.reading == pytest.approx(0.328 * 1.02 + 0.002)


def test_a_gauge_that_read_too_much_renewed_a_sound_chain() -> None:
    pairs = again(visit(1, "A", 0, chain=1.05), doubted(0.002))
    assert {p.before.outcome for p in pairs} == {Outcome.RENEW}
    assert {p.after.outcome for p in pairs} == {Outcome.FIT}
    assert not any(pair.worse for pair in pairs)


def test_a_larger_uncertainty_alone_widens_the_guard_band() -> None:
    """With u = 1.5 mm the guard band 2 u is 37 % of the way of 8.2 mm: 75 % is inside it."""
    pairs = again(visit(1, "A", 0, chain=0.75), doubted(0.0, 0.0015))
    assert {p.after.outcome for p in pairs} == {Outcome.BORDERLINE}
    assert all(p.worse for p in pairs)
    assert all(chance_after(p) > 0.02 for p in pairs)


def test_without_an_error_nothing_changes() -> None:
    assert not any(p.changes for p in again(visit(1, "A", 0, chain=0.9), doubted(0.0)))


def test_a_gauge_that_was_not_used_touches_nothing() -> None:
    assert again(visit(1, "A", 0), doubted(0.002, gauge="depth-1")) == ()


def test_a_part_read_with_another_gauge_is_left_alone() -> None:
    pairs = again(visit(1, "A", 0), doubted(0.002))
    assert {pair.before.part for pair in pairs} == {"load_chain"}
