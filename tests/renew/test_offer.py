"""Offers: every sum worked out again another way, over random needs, risks and prices."""

from __future__ import annotations

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.renew.offer import Offer, offer
from hoistwright.renew.policy import Need, PartRisk, Policy
from hoistwright.renew.prices import PriceLine, PriceList
from hoistwright.strip.plan import full_strip, with_companions

DESIGNS = {key: shipped(key) for key in ("ardle-500", "ardle-2000", "ardle-l750")}
FULL = {key: tuple(s.key for s in full_strip(d).steps) for key, d in DESIGNS.items()}
POLICY = Policy(labour_per_hour=4400, call_back=24_000)
BRAKE = ("pawl", "pawl_spring", "friction_disc_outer", "disc_hub", "ratchet_disc", "load_chain",
         "bottom_hook", "load_sheave", "gear_case", "stripper")  # fmt: skip


def prices(design: Design, of: dict[str, int | None] | None = None, stock: int = 1) -> PriceList:
    wanted = of or {}
    lines = {
        part.key: PriceLine(
            number=part.key, price=wanted.get(part.key, 700), stock=stock, lead_days=9
        )
        for part in design.parts
    }
    return PriceList(currency="GBP", lines=lines, numbers={})


def need(part: str) -> Need:
    return Need(part=part, why="worn")


def risk(part: str, chance: float) -> PartRisk:
    return PartRisk(part=part, probability=chance, why="")


def sums_by_hand(
    design: Design, parts: set[str], steps: set[str], list_: PriceList
) -> tuple[int, int, int]:
    """Parts, one-use pieces and labour of a fully stripped hoist, straight from the design."""
    spent: dict[str, int] = {}
    seconds = 0.0
    for step in design.take_apart:
        if step.key not in steps:
            continue
        back = step.minutes if step.refit.minutes is None else step.refit.minutes
        seconds += step.minutes + back
        frees = [k for k in step.frees if design.part(k).renewal == "always"]
        for key in {*step.consumes, *frees}:
            spent[key] = max(spent.get(key, 0), design.part(key).quantity)
    own = sum(
        (list_.lines[key].price or 0) * design.part(key).quantity for key in parts - set(spent)
    )
    one_use = sum((list_.lines[key].price or 0) * count for key, count in spent.items())
    return own, one_use, round(4400 * seconds / 3600)


cases = st.tuples(
    st.sampled_from(sorted(DESIGNS)),
    st.sets(st.sampled_from(BRAKE), max_size=3),
    st.dictionaries(st.sampled_from(BRAKE), st.floats(0, 1), max_size=5),
    st.dictionaries(st.sampled_from(BRAKE), st.integers(0, 30_000), max_size=6),
)


@settings(max_examples=60, deadline=None)
@given(cases)
def test_sums_of_a_stripped_hoist_are_those_of_its_parts_steps_and_time(
    case: tuple[str, set[str], dict[str, float], dict[str, int]],
) -> None:
    key, must, chances, prices_of = case
    design, list_ = DESIGNS[key], prices(DESIGNS[key], dict(prices_of))
    risks = [risk(part, chance) for part, chance in chances.items() if part not in must]
    found = offer(
        design, [need(part) for part in sorted(must)], risks, list_, POLICY, already=FULL[key]
    )
    steps = set(FULL[key])
    forced = set(with_companions(design, sorted(must)))
    assert (found.least.parts, found.least.one_use, found.least.labour) == sums_by_hand(
        design, forced, steps, list_
    )
    taken = {line.part for line in found.lines if line.standing != "can wait"}
    whole = set(with_companions(design, sorted(taken | forced)))
    assert (found.best.parts, found.best.one_use, found.best.labour) == sums_by_hand(
        design, whole, steps, list_
    )
    assert found.best.total >= found.least.total
    assert found.best.total == found.best.parts + found.best.one_use + found.best.labour


@settings(max_examples=60, deadline=None)
@given(cases)
def test_on_a_stripped_hoist_a_part_is_advised_exactly_where_leaving_costs_more(
    case: tuple[str, set[str], dict[str, float], dict[str, int]],
) -> None:
    """All steps are done, so parts without companions do not share anything: each stands alone."""
    key, must, chances, prices_of = case
    design, list_ = DESIGNS[key], prices(DESIGNS[key], dict(prices_of))
    single = [p for p in BRAKE if with_companions(design, [p]) == (p,) and p not in must]
    risks = [risk(part, chances[part]) for part in single if part in chances]
    found = offer(
        design, [need(part) for part in sorted(must)], risks, list_, POLICY, already=FULL[key]
    )
    forced = set(with_companions(design, sorted(must)))
    for line in found.lines:
        if line.part in forced or line.part not in chances:
            continue
        pays = line.leaving > (line.price or 0) + line.opening
        assert (line.standing == "advised") == pays, line


@settings(max_examples=40, deadline=None)
@given(cases, st.sets(st.sampled_from(BRAKE), max_size=3))
def test_what_the_shop_wants_never_becomes_a_must(
    case: tuple[str, set[str], dict[str, float], dict[str, int]], wanted: set[str]
) -> None:
    key, must, _, _ = case
    design = DESIGNS[key]
    found = offer(
        design, [need(p) for p in sorted(must)], (), prices(design), POLICY,
        wanted=[need(p) for p in sorted(wanted)], taken=sorted(must | wanted), already=FULL[key],
    )  # fmt: skip
    forced = set(with_companions(design, sorted(must)))
    assert {line.part for line in found.of("must")} <= forced
    assert {line.part for line in found.of("advised")} & forced == set()
    assert found.taken == found.best  # nothing else is advised
    alone = offer(design, [need(p) for p in sorted(must)], (), prices(design), POLICY,
                  already=FULL[key])  # fmt: skip
    assert alone.least == found.least


def test_opened_only_for_a_part_costs_its_steps_twice_over() -> None:
    """Nothing is open: labour is off and back on, of the strip to the chain alone."""
    design = DESIGNS["ardle-2000"]
    found = offer(design, [need("load_chain")], (), prices(design), POLICY)
    assert found.labour_seconds > 0
    shut = offer(design, (), (), prices(design), POLICY)
    assert shut.best.total == 0


def test_the_kit_of_what_was_chosen_is_not_that_of_the_best() -> None:
    design = DESIGNS["ardle-2000"]
    found = offer(
        design, [need("load_chain"), need("bottom_hook")], (), prices(design), POLICY,
        taken=["load_chain"], already=FULL["ardle-2000"],
    )  # fmt: skip
    assert "bottom_hook" in {line.part for line in found.kit}
    assert "bottom_hook" not in {line.part for line in found.taken_kit}
    assert found.taken is not None
    assert found.best.total - found.taken.total == 700


def test_a_companion_whose_own_risk_does_not_pay_says_whom_it_goes_with() -> None:
    design = DESIGNS["ardle-2000"]
    risks = [risk("friction_disc_outer", 0.5), risk("friction_disc_inner", 0.0002)]
    found = offer(design, (), risks, prices(design), POLICY, already=FULL["ardle-2000"])
    goes = {line.part: line.goes_with for line in found.of("advised")}
    assert goes == {"friction_disc_outer": "", "friction_disc_inner": "friction_disc_outer"}


def test_next_to_no_risk_is_not_named() -> None:
    design = DESIGNS["ardle-2000"]
    risks = [risk("disc_hub", 0.012), risk("stripper", 0.0002)]
    dear = prices(design, {"disc_hub": 90_000, "stripper": 90_000})
    found = offer(design, (), risks, dear, POLICY, already=FULL["ardle-2000"])
    assert [line.part for line in found.named] == ["disc_hub"]
    assert [line.part for line in found.unnamed] == ["stripper"]


def shared(found: Offer) -> float:
    assert found.repair is not None
    return found.repair.share


def test_repair_or_scrap_is_held_against_new_less_scrap() -> None:
    design = DESIGNS["ardle-500"]
    found = offer(
        design, [need("load_chain")], (), prices(design), POLICY, already=FULL["ardle-500"],
        new_price=50_000, scrap_value=10_000,
    )  # fmt: skip
    assert shared(found) == pytest.approx(found.best.total / 40_000)
    assert found.repair is not None
    assert found.repair.repair_pays == (shared(found) < POLICY.scrap_from)
    assert offer(design, (), (), prices(design), POLICY).repair is None


def test_a_number_without_stock_is_ordered_and_its_time_known() -> None:
    design = DESIGNS["ardle-2000"]
    found = offer(design, [need("load_chain")], (), prices(design, stock=0), POLICY,
                  already=FULL["ardle-2000"])  # fmt: skip
    assert found.days_to_wait == 9
    assert all(line.to_order == line.pieces for line in found.kit)
    unknown = attrs.evolve(
        prices(design, stock=0),
        lines={p.key: PriceLine(number=p.key, price=1) for p in design.parts},
    )
    late = offer(design, [need("load_chain")], (), unknown, POLICY, already=FULL["ardle-2000"])
    assert late.days_to_wait is None


def test_the_same_input_gives_the_same_offer() -> None:
    design = DESIGNS["ardle-l750"]
    made = [
        offer(design, [need("pawl")], [risk("load_chain", 0.2)], prices(design), POLICY,
              already=FULL["ardle-l750"])
        for _ in range(2)
    ]  # fmt: skip
    assert made[0] == made[1]
