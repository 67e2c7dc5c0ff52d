"""Renewals on a shipped design: money adds up, pairs and one-use parts, quote and kit."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import pytest

from hoistwright.hoist.library import shipped
from hoistwright.renew.optimum import Renewal, renewals
from hoistwright.renew.policy import Need, PartRisk, Policy
from hoistwright.renew.prices import PriceLine, PriceList, money
from hoistwright.renew.quote import kit, quote, repair_or_scrap
from hoistwright.strip.plan import strip_to

DESIGN = shipped("ardle-2000")
POLICY = Policy(labour_per_hour=6000, call_back=20_000)
DISCS = ("friction_disc_inner", "friction_disc_outer")


def price_list(**changes: PriceLine) -> PriceList:
    lines = {
        part.key: PriceLine(number=part.key, price=500, stock=2, lead_days=5)
        for part in DESIGN.parts
    }
    return PriceList(currency="GBP", lines=lines | changes, numbers={})


PRICES = price_list()


def risk(part: str, probability: float) -> PartRisk:
    return PartRisk(part=part, probability=probability, why="readings")


def weigh(
    must: Sequence[str] = (),
    risks: Sequence[PartRisk] = (),
    prices: PriceList = PRICES,
    policy: Policy = POLICY,
    already: Sequence[str] = (),
) -> Renewal:
    needs = [Need(part=part, why="worn beyond its limit") for part in must]
    return renewals(DESIGN, needs, risks, prices, policy, already=already)


def test_nothing_to_do_costs_nothing() -> None:
    found = weigh()
    assert (found.lines, found.steps, found.saved) == ((), (), 0)


def test_discs_are_renewed_as_a_pair() -> None:
    found = weigh(["friction_disc_outer"])
    assert set(found.renewed) == set(DISCS)
    other = next(line for line in found.lines if line.part == "friction_disc_inner")
    assert other.standing == "must"
    assert "together" in other.why


def test_the_steps_of_the_must_are_those_of_the_strip_planner() -> None:
    """The planner's own optimum (another algorithm) for the same parts; equal in minutes."""
    found = weigh(["friction_disc_outer"])
    plan = strip_to(DESIGN, DISCS)
    seconds = {step.key: float(step.minutes) for step in DESIGN.take_apart}
    assert sum(seconds[key] for key in found.steps) <= plan.seconds + 60
    assert set(DISCS) <= {part for step in DESIGN.take_apart if step.key in found.steps
                          for part in step.frees}  # fmt: skip


def test_a_part_in_reach_pays_sooner_than_one_behind() -> None:
    """The hub behind the discs: with the brake open only its own step is added."""
    share = 0.08
    alone = weigh([], [risk("disc_hub", share)])
    opened = [step.key for step in strip_to(DESIGN, ["disc_hub"]).steps]
    beside = weigh([], [risk("disc_hub", share)], already=opened)
    assert alone.of("advised") == ()
    assert [line.part for line in beside.of("advised")] == ["disc_hub"]
    assert beside.extra_steps == ()


def test_saved_is_what_leaving_costs_less_what_renewing_costs() -> None:
    """Every part of the sum recomputed from the lines."""
    found = weigh([], [risk("pawl", 0.6), risk("load_chain", 0.5), risk("disc_hub", 0.001)])
    advised = found.of("advised")
    assert {line.part for line in advised} >= {"pawl", "load_chain"}
    worth = sum(line.leaving - (line.price or 0) for line in advised)
    assert found.saved == worth - found.advised_opening
    assert found.saved > 0
    assert found.exact
    assert found.saved_at_most == found.saved
    assert "disc_hub" not in found.renewed or found.of("can wait") == ()


def test_dearer_call_backs_never_shrink_what_is_advised() -> None:
    many = [risk(part.key, 0.03) for part in DESIGN.parts if part.role not in ("", "hoist")]
    counts = [
        len(weigh([], many, policy=attrs.evolve(POLICY, call_back=cost)).renewed)
        for cost in (0, 20_000, 100_000, 1_000_000)
    ]
    assert counts == sorted(counts)
    assert counts[0] < counts[-1]


def test_without_a_price_a_part_is_not_weighed_and_that_is_said() -> None:
    prices = price_list(load_chain=PriceLine(number="load_chain"))
    found = weigh([], [risk("load_chain", 0.9)], prices)
    (line,) = found.of("can wait")
    assert line.price is None
    assert "No price is known" in line.why


def test_a_must_without_price_stays_a_must_and_is_open_in_the_quote() -> None:
    prices = price_list(load_chain=PriceLine(number="load_chain"))
    found = weigh(["load_chain"], (), prices)
    paper = quote(DESIGN, found, prices, POLICY)
    assert "load_chain" in found.renewed
    assert paper.open_prices == ("load_chain",)
    assert not repair_or_scrap(paper, 10**7, POLICY).repair_pays


def test_why_says_chance_cost_of_leaving_and_price() -> None:
    found = weigh([], [risk("load_chain", 0.5)])
    why = found.of("advised")[0].why
    assert why.startswith("50 % likely to reach its limit before the next visit (readings).")
    assert "Left in, that costs GBP" in why
    must = weigh(["load_chain"])
    assert must.of("must")[0].why == "worn beyond its limit"


def test_unknown_parts_and_steps_are_told() -> None:
    with pytest.raises(ValueError, match="flux_capacitor"):
        weigh(["flux_capacitor"])
    with pytest.raises(ValueError, match="no_step"):
        weigh([], [], already=["no_step"])
    with pytest.raises(ValueError, match="expected 0 to 1"):
        risk("pawl", 1.2)


def test_the_kit_holds_renewed_parts_and_one_use_parts_of_the_steps() -> None:
    found = weigh(["pawl"])
    lines = {line.part: line for line in kit(DESIGN, found, PRICES)}
    for step in DESIGN.take_apart:
        if step.key in found.steps:
            assert set(step.consumes) <= set(lines)
    assert lines["pawl"].pieces == DESIGN.part("pawl").quantity
    assert not lines["pawl"].one_use
    assert any(line.one_use for line in lines.values())
    assert all(line.from_stock + line.to_order == line.pieces for line in lines.values())


def test_the_quote_adds_up() -> None:
    found = weigh(["friction_disc_outer"], [risk("load_chain", 0.5)])
    paper = quote(DESIGN, found, PRICES, POLICY)
    assert paper.total == paper.parts_total + paper.labour_total
    assert paper.parts_total == sum(line.price or 0 for line in paper.kit)
    alone = quote(DESIGN, weigh(["friction_disc_outer"]), PRICES, POLICY)
    # labour is rounded to the penny once in the total and step by step in the difference
    assert paper.must_total == pytest.approx(alone.total, abs=len(found.steps))
    assert paper.days_to_wait == 5  # three of a line with two in stock


def test_superseded_numbers_are_followed_and_circles_told() -> None:
    lines = {
        "A": PriceLine(number="A", price=100, replaced_by="B"),
        "B": PriceLine(number="B", price=200, replaced_by="C"),
        "C": PriceLine(number="C", price=300),
    }
    found = PriceList(currency="GBP", lines=lines, numbers={"pawl": "A"}).of("pawl")
    assert found is not None
    assert (found.line.price, found.through) == (300, ("B", "C"))
    circle = lines | {"C": PriceLine(number="C", replaced_by="A")}
    with pytest.raises(ValueError, match="in a circle"):
        PriceList(currency="GBP", lines=circle, numbers={}).of("A")
    lost = {"A": PriceLine(number="A", replaced_by="Z")}
    with pytest.raises(ValueError, match="Z, which the price list does not have"):
        PriceList(currency="GBP", lines=lost, numbers={}).of("A")


def test_repair_or_scrap_by_the_shops_own_share() -> None:
    paper = quote(DESIGN, weigh(["friction_disc_outer"]), PRICES, POLICY)
    dear = repair_or_scrap(paper, paper.total * 10, POLICY)
    cheap = repair_or_scrap(paper, paper.total + 1, POLICY)
    assert (dear.repair_pays, cheap.repair_pays) == (True, False)
    assert dear.share == pytest.approx(0.1)
    assert money(paper.total, "GBP") in dear.sentence
    with pytest.raises(ValueError, match="expected more for new"):
        repair_or_scrap(paper, 5, POLICY, scrap_value=5)
