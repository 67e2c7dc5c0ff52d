"""Does the chain fit its pockets: load sheave, hand chain wheel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated
from hoistwright.check.model import Finding, Remark
from hoistwright.check.practice import limit, usual
from hoistwright.check.rows import Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics import pocket_wheel
from hoistwright.quantity import Dimension, show

_HANDBOOK = "Machinery's Handbook (crane chain sheaves), from memory; proved in the tests"
PITCH_CIRCLE = Row(
    key="sheave_pitch_diameter",
    name="load sheave, pitch diameter",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="sqrt[(p / sin(90° / N))² + (d / cos(90° / N))²]",
    source=_HANDBOOK,
)
EFFECTIVE = Row(
    key="sheave_effective_diameter",
    name="load sheave, diameter that moves the chain",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="2 N p / pi",
    source="geometry: two links pass at each pocket",
)
HAND_WHEEL = Row(
    key="hand_wheel_diameter",
    name="hand chain wheel, diameter that moves the chain",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="2 N p / pi of the hand chain, else as measured",
    source="geometry",
)
TAKES = Row(
    key="pockets_take",
    name="chain elongation that the load sheave's pockets take",
    dimension=Dimension.RATIO,
    unit="%",
    how="(pocket - (p + 2 d)) / (2 · engaged pockets - 1) / p",
    source="own derivation; beyond it the chain rides up on the ribs",
)


def pocket_findings(design: Design) -> Iterator[Finding]:
    """Sheave sizes, and whether the chain is the one that the pockets were cut for."""
    yield from _same_chain(design)
    pockets = mechanism.count(design, "load_sheave.pockets")
    pitch, wire = stated(design, "load_chain.pitch"), stated(design, "load_chain.wire")
    yield from findings(PITCH_CIRCLE, derive(pocket_wheel.pitch_diameter, pockets, pitch, wire))
    yield from findings(EFFECTIVE, mechanism.sheave_diameter(design))
    yield from _seating(design, pockets, pitch, wire)
    if design.identity.kind == "hand chain hoist":
        yield from findings(HAND_WHEEL, mechanism.hand_wheel_diameter(design))
        yield from _wheel_off(design)


def _same_chain(design: Design) -> Iterator[Finding]:
    for cut, own in (("pocket_pitch", "pitch"), ("pocket_wire", "wire")):
        made_for = getattr(design.load_sheave, cut)
        there = getattr(design.load_chain, own)
        if made_for is not None and there is not None and not math.isclose(made_for, there):
            yield Remark(
                severity="wrong",
                key=f"load_sheave.{cut}",
                read=f"pockets for {own} {show(made_for, Dimension.LENGTH, 'mm')}, "
                f"chain with {show(there, Dimension.LENGTH, 'mm')}",
                expected="a chain that fits its pockets",
                mend="Measure chain and pockets; fit only the chain the sheave was cut for.",
            )


def _seating(design: Design, pockets: Fact, pitch: Fact, wire: Fact) -> Iterator[Finding]:
    engaged = derive(lambda n: pocket_wheel.engaged_pockets(n, math.pi), pockets)
    link = derive(lambda p, d: p + 2 * d, pitch, wire)
    length = stated(design, "load_sheave.pocket_length")
    growth = derive(pocket_wheel.pitch_growth_tolerated, length, link, engaged)
    takes = derive(lambda g, p: g / p, growth, pitch)
    if takes.value is not None and takes.value < 0:
        yield _link_too_long(length, link)
        return
    mend = "A worn chain would climb in these pockets before it reaches its limit: measure again."
    bounds = usual("elongation that pockets must take", key="load_sheave.pocket_length", mend=mend)
    yield from findings(TAKES, takes, *bounds)


def _link_too_long(length: Fact, link: Fact) -> Remark:
    return Remark(
        severity="wrong",
        key="load_sheave.pocket_length",
        read=f"pocket {_mm(length)} long, a new link {_mm(link)} outside",
        expected="a pocket longer than a link",
        mend="Measure pocket and link; the chain does not fit its pockets.",
    )


def _wheel_off(design: Design) -> Iterator[Finding]:
    """A measured wheel diameter that does not agree with pockets and pitch."""
    drive = design.hand_drive
    if drive.wheel_pockets is None or drive.chain_pitch is None or drive.wheel_diameter is None:
        return
    counted = mechanism.hand_wheel_diameter(design)
    if counted.value is None:
        return
    off = abs(drive.wheel_diameter / counted.value - 1)
    if off > limit("wheel diameter off"):
        yield Remark(
            severity="wrong",
            key="hand_drive.wheel_diameter",
            read=show(drive.wheel_diameter, Dimension.LENGTH, "mm"),
            expected=f"about {_mm(counted)} from {drive.wheel_pockets} pockets",
            mend="Count the pockets and measure the inside length of a hand chain link again.",
        )


def _mm(fact: Fact) -> str:
    return "?" if fact.value is None else show(fact.value, Dimension.LENGTH, "mm")
