"""Is the load chain long enough for the lift, and the hand chain for its drop?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, constant, derive, stated, total
from hoistwright.check.model import Finding
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import IdleSheave
from hoistwright.physics import reeving
from hoistwright.quantity import Dimension

NEEDED = Row(
    key="chain_needed",
    name="load chain needed for lift and falls",
    dimension=Dimension.LENGTH,
    unit="m",
    how="falls · (lift + closed fall) + chain on the sheaves + slack end",
    source="geometry",
)
LIFT = Row(
    key="lift_possible",
    name="lift that the load chain allows",
    dimension=Dimension.LENGTH,
    unit="m",
    how="(length - chain on the sheaves - slack end) / falls - closed fall",
    source="geometry",
)


def length_findings(design: Design) -> Iterator[Finding]:
    """Length needed against length there is."""
    length, lift = stated(design, "load_chain.length"), stated(design, "rating.lift")
    rest = (
        mechanism.falls(design),
        stated(design, "load_chain.closed_fall"),
        chain_on_sheaves(design),
        stated(design, "load_chain.slack_end"),
    )
    bound = Bound(
        sense="at most",
        fact=length,
        source="length of the load chain",
        key="load_chain.length",
        mend="Too little chain for lift and falls: measure the chain, or state a smaller lift.",
    )
    yield from findings(NEEDED, derive(reeving.chain_length, lift, *rest), bound)
    yield from findings(LIFT, derive(reeving.lift_possible, length, *rest))


def chain_on_sheaves(design: Design) -> Fact:
    """Chain that lies on half a turn of the load sheave and of each idle sheave, m."""
    half_turns = [_half(mechanism.sheave_diameter(design))]
    for sheave in design.idle_sheaves:
        half = _half(idle_diameter(design, sheave))
        half_turns += [half] * _quantity(design, sheave.part)
    return total(half_turns)


def idle_diameter(design: Design, sheave: IdleSheave) -> Fact:
    """Diameter of an idle sheave as stated, m."""
    if sheave.diameter is None:
        return Fact(lacking=(f"idle_sheaves[{sheave.part}].diameter",))
    return constant(sheave.diameter)


def _half(diameter: Fact) -> Fact:
    return derive(lambda D: 3.141592653589793 * D / 2, diameter)


def _quantity(design: Design, key: str) -> int:
    found = next((part.quantity for part in design.parts if part.key == key), 1)
    return max(0, min(found, 64))
