"""The renewals of one hoist on the bench: what must, what pays, what can wait, and why."""

from __future__ import annotations

import functools
import operator
from collections.abc import Iterable, Sequence
from typing import Literal

import attrs

from hoistwright.hoist.design import Design
from hoistwright.renew.network import Model, alone, model, renewed_by, step_cost, step_seconds
from hoistwright.renew.policy import Need, PartRisk, Policy
from hoistwright.renew.prices import PriceList, money
from hoistwright.renew.selection import Selection, select
from hoistwright.strip.bits import mask_of, members
from hoistwright.strip.graph import Graph
from hoistwright.strip.plan import with_companions
from hoistwright.strip.sequence import sequence

Standing = Literal["must", "advised", "can wait"]


@attrs.frozen(kw_only=True)
class Line:
    """One part. Money in minor units.

    price: its pieces; None where not known. opening: labour and one-use pieces of steps that
    are done for it (and its companions) alone. leaving: expected cost of leaving it.
    """

    part: str
    name: str
    pieces: int
    standing: Standing
    goes_with: str
    probability: float
    price: int | None
    opening: int
    leaving: int
    why: str
    reason: str = ""
    """As it was given: by the verdict, by whoever chose the part, or by the forecast."""
    by_need: bool = False
    """True where a verdict or somebody's choice is the reason, False where a chance is."""
    forecast: str = ""
    """What the forecast says of it, whatever the reason; empty where there is none."""


@attrs.frozen(kw_only=True)
class Renewal:
    """The renewals with the steps they need. `saved`: expected cost avoided less what the
    advised renewals cost. `exact` is False where alternatives were too many to settle; then
    `saved_at_most` bounds the best.
    """

    lines: tuple[Line, ...]
    steps: tuple[str, ...]
    extra_steps: tuple[str, ...]
    """Steps not already being done."""
    labour_seconds: float
    """Both ways, of all steps: those already being done and the extra ones."""
    advised_opening: int
    """Cost of the steps that are done for advised parts only."""
    saved: int
    exact: bool
    saved_at_most: int

    def of(self, standing: Standing) -> tuple[Line, ...]:
        """The lines with this standing."""
        return tuple(line for line in self.lines if line.standing == standing)

    @property
    def renewed(self) -> tuple[str, ...]:
        """Parts that must and that are advised."""
        return tuple(line.part for line in self.lines if line.standing != "can wait")


def renewals(
    design: Design,
    must: Sequence[Need],
    risks: Sequence[PartRisk],
    prices: PriceList,
    policy: Policy,
    *,
    already: Iterable[str] = (),
) -> Renewal:
    """What to renew: the must, and the set of others that saves most.

    maximise Σ P·(call-back + repair then) − Σ prices − Σ cost of steps not already done, over
    sets of parts with all the steps and companions they need: a minimum cut; alternatives in
    the take-apart graph by branch and bound over cuts, so the answer stays exact.

    Args:
        design: with its take-apart graph.
        must: parts to be renewed whatever it costs, with reasons.
        risks: of the other parts, until the next visit.
        prices: of the shop.
        policy: of the shop.
        already: keys of steps that are done anyway (the strip for the examination).

    Returns:
        Lines in the order must, advised, can wait; labour; the expected saving.

    Raises:
        ValueError: keys that the design does not have, or parts that no step frees.
        FaultsError: a take-apart graph that is not sound.

    References:
        design of the project; Picard 1976, Rhys 1970, from memory.
    """
    base = tuple(already)
    needs = {need.part: need.why for need in must}
    found = model(design, tuple(needs), risks, prices, policy, base)
    selection = select(found.problem)
    return _Account(design, found, selection, needs, risks, prices, policy, base).renewal()


class _Account:
    """Reads a selection back into parts, steps, money and reasons."""

    def __init__(
        self,
        design: Design,
        found: Model,
        selection: Selection,
        needs: dict[str, str],
        risks: Sequence[PartRisk],
        prices: PriceList,
        policy: Policy,
        base: tuple[str, ...],
    ) -> None:
        self.design, self.found, self.selection, self.needs = design, found, selection, needs
        self.prices, self.policy = prices, policy
        self.risks = {risk.part: risk for risk in risks}
        graph = found.graph
        count = len(graph.steps)
        self.chosen = [k for at, k in enumerate(found.parts) if count + at in selection.chosen]
        self.wants = {key: with_companions(design, [key]) for key in self.chosen}
        self.forced = set(with_companions(design, list(needs)))
        self.base = mask_of(at for at, step in enumerate(graph.steps) if step.key in set(base))
        self.steps = self.base | mask_of(at for at in selection.chosen if at < count)
        order = sequence(graph, self.steps)
        self.order = order
        self.use = _Uses(graph, order)
        self.each = {key: self.use.need([key]) for key in self.chosen}
        """Steps that each chosen part needs; of several parts they are the union."""

    def renewal(self) -> Renewal:
        graph = self.found.graph
        lines = [line for key in self.chosen if (line := self.taken(key)).part in self.needs
                 or line.price != 0 or line.opening]  # fmt: skip
        lines += [self.left(risk) for key, risk in self.risks.items() if key not in self.chosen]
        rank: dict[str, int] = {"must": 0, "advised": 1, "can wait": 2}
        lines.sort(key=lambda line: (rank[line.standing], line.opening + (line.price or 0)
                                     - line.leaving))  # fmt: skip
        keys = [graph.steps[at].key for at in self.order]
        forced_only = self.needed(k for k in self.chosen if k in self.forced) | self.base
        saved = sum(
            line.leaving - (line.price or 0) for line in lines if line.standing == "advised"
        )
        opening = self.cost(self.steps & ~forced_only)
        gap = self.selection.at_most - self.selection.worth
        return Renewal(
            lines=tuple(lines),
            steps=tuple(keys),
            extra_steps=tuple(graph.steps[at].key for at in self.order if not self.base >> at & 1),
            labour_seconds=sum(step_seconds(graph.steps[at]) for at in self.order),
            advised_opening=opening,
            saved=saved - opening,
            exact=self.selection.exact,
            saved_at_most=saved - opening + gap,
        )

    def needed(self, parts: Iterable[str]) -> int:
        return functools.reduce(operator.or_, (self.each[key] for key in parts), 0)

    def cost(self, steps: int) -> int:
        return sum(
            step_cost(self.design, self.found.graph.steps[at], self.prices, self.policy)
            for at in members(steps)
        )

    def taken(self, key: str) -> Line:
        """A part that is renewed; opening is what falls away if it and those that want it do."""
        bundle = [k for k in self.chosen if key in self.wants[k]]
        others = [k for k in self.chosen if k not in bundle]
        alone_for = self.steps & ~self.needed(others) & ~self.base
        opening = self.cost(alone_for)
        leaving = self.found.costs.leaving.get(key, 0)
        first = next((k for k in bundle if k != key and (k in self.needs or k in self.risks)), "")
        pays = leaving > self.found.costs.part.get(key, 0) + opening
        goes = "" if key in self.needs or pays else first
        standing: Standing = "must" if key in self.forced else "advised"
        line = self.line(key, standing, opening, leaving, goes)
        return attrs.evolve(line, why=self.why_taken(line))

    def left(self, risk: PartRisk) -> Line:
        """A part that can wait; opening is at most what it would cost to open for it now."""
        graph, key = self.found.graph, risk.part
        steps = alone(graph, renewed_by(graph, key)) & ~self.steps
        leaving = self.found.costs.leaving.get(key, 0)
        line = self.line(key, "can wait", self.cost(steps), leaving, "")
        return attrs.evolve(line, why=self.why_left(line))

    def line(self, key: str, standing: Standing, opening: int, leaving: int, goes: str) -> Line:
        part = self.design.part(key)
        risk = self.risks.get(key)
        given = self.needs.get(key) or (risk.why if risk else "")
        price = self.prices.price(key, part.quantity)
        with_step = key in self.found.costs.part and not self.found.costs.part[key]
        return Line(
            part=key,
            name=part.name,
            pieces=part.quantity,
            standing=standing,
            goes_with=goes,
            probability=risk.probability if risk else 0.0,
            price=0 if price and with_step else price,
            opening=opening,
            leaving=leaving,
            why="",
            reason=given,
            by_need=key in self.needs,
            forecast=risk.why if risk else "",
        )

    def why_taken(self, line: Line) -> str:
        if line.part in self.needs:
            return self.why_wanted(line)
        if line.goes_with:
            return f"Renewed together with: {self.design.part(line.goes_with).name}."
        if line.standing == "must":
            return "Renewed together with a part that must be renewed."
        return (
            f"{self.chance(line)} Left in, that costs {self.pounds(line.leaving)} on average; "
            f"renewed now, {self.pounds((line.price or 0) + line.opening)}, as the hoist is open."
        )

    def why_wanted(self, line: Line) -> str:
        """The reason that was given, and the chance where it is another one."""
        given = self.needs[line.part]
        if not line.forecast or line.forecast == given:
            return given
        return f"{given.rstrip('.')}. {self.chance(line)}"

    def why_left(self, line: Line) -> str:
        if line.price is None:
            return f"{self.chance(line)} No price is known, so it cannot be weighed: ask for one."
        return (
            f"{self.chance(line)} Waiting costs {self.pounds(line.leaving)} on average; renewing "
            f"now would cost {self.pounds(line.price + line.opening)}."
        )

    def chance(self, line: Line) -> str:
        why = self.risks[line.part].why if line.part in self.risks else ""
        because = f" ({why.rstrip('.')})" if why else ""
        return (
            f"{percent(line.probability)} likely to reach its limit before the next visit{because}."
        )

    def pounds(self, amount: int) -> str:
        return money(amount, self.prices.currency)


class _Uses:
    """Which of the chosen steps a set of parts needs, by the ways that are chosen."""

    def __init__(self, graph: Graph, order: Sequence[int]) -> None:
        self.graph, self.chosen = graph, mask_of(order)
        self.rank = {at: number for number, at in enumerate(order)}

    def need(self, parts: Iterable[str]) -> int:
        todo = [d for part in parts if (d := renewed_by(self.graph, part) & self.chosen)]
        seen = 0
        while todo:
            at = min(members(todo.pop()), key=lambda step: self.rank[step])
            if seen >> at & 1:
                continue
            seen |= 1 << at
            todo += [1 << before for before in members(self.graph.after[at])]
            todo += [group & self.chosen for group in self.graph.groups[at]]
        return seen


def percent(share: float) -> str:
    """A probability as people read it.

    >>> percent(0.0004), percent(0.034), percent(0.41), percent(0.9999)
    ('under 0.1 %', '3.4 %', '41 %', 'over 99 %')
    """
    if share < 0.001:
        return "under 0.1 %"
    if share > 0.99:
        return "over 99 %"
    return f"{100 * share:.2g} %"
