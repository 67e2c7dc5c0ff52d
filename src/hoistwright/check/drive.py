"""Velocity ratio, pull, hand chain and clicks per metre of lift."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated
from hoistwright.check.model import Finding, Remark
from hoistwright.check.practice import usual
from hoistwright.check.rows import Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics import drive
from hoistwright.quantity import Dimension

_D = Dimension
_GEOMETRY = "geometry"

RATIO = Row(
    key="gear_ratio",
    name="gear ratio",
    dimension=_D.RATIO,
    unit="",
    how="(z2 / z1) (z4 / z3)",
    source="Khurmi, Theory of Machines, ch. 13",
)
TURNS = Row(
    key="shaft_turns",
    name="drive shaft turns per metre of lift",
    dimension=_D.COUNT,
    unit="",
    how="falls · gear ratio / (pi · sheave diameter)",
    source=_GEOMETRY,
)
CLICKS = Row(
    key="clicks",
    name="pawl clicks per metre of lift",
    dimension=_D.COUNT,
    unit="",
    how="drive shaft turns per metre · ratchet teeth",
    source=_GEOMETRY,
    note="Two pawls half a tooth apart click twice as often.",
)
HAND_CHAIN = Row(
    key="velocity_ratio",
    name="velocity ratio (hand chain per lift)",
    dimension=_D.RATIO,
    unit="",
    how="falls · gear ratio · hand wheel diameter / sheave diameter",
    source=_GEOMETRY,
)
LEVER = Row(
    key="velocity_ratio",
    name="velocity ratio (grip path per lift)",
    dimension=_D.RATIO,
    unit="",
    how="2 pi · lever length · drive shaft turns per metre",
    source=_GEOMETRY,
)
EFFICIENCY = Row(
    key="efficiency",
    name="efficiency from hand to hook",
    dimension=_D.RATIO,
    unit="%",
    how="both meshes · rest of the drive · reeving",
    source="own derivation; its parts as stated in the design",
)
TORQUE = Row(
    key="raising_torque",
    name="torque on the drive shaft, raising the rated load",
    dimension=_D.TORQUE,
    unit="N m",
    how="live fall · sheave diameter / (2 · gear ratio · efficiency)",
    source="energy balance; weight of hook and block left out",
)


def drive_findings(design: Design) -> Iterator[Finding]:
    """From the load to the hand."""
    yield from _sheave_count(design)
    yield from findings(RATIO, mechanism.gear_ratio(design))
    turns = mechanism.turns_per_lift(design)
    yield from findings(TURNS, turns)
    teeth = mechanism.count(design, "load_brake.ratchet_teeth")
    yield from findings(CLICKS, derive(drive.clicks_per_lift, turns, teeth))
    yield from findings(EFFICIENCY, _whole_efficiency(design))
    yield from findings(TORQUE, mechanism.raising_torque(design))
    yield from _lever(design) if _is_lever(design) else _hand_chain(design)


def _is_lever(design: Design) -> bool:
    return design.identity.kind == "lever hoist"


def _hand_chain(design: Design) -> Iterator[Finding]:
    wheel = mechanism.hand_wheel_diameter(design)
    parts = (
        mechanism.falls(design),
        mechanism.gear_ratio(design),
        mechanism.sheave_diameter(design),
    )
    yield from findings(HAND_CHAIN, derive(drive.hand_chain_per_lift, *parts, wheel))
    pull = derive(drive.hand_pull, mechanism.raising_torque(design), wheel)
    yield from _pull(pull, "hand chain", "2 · torque / hand wheel diameter", "hand_drive")


def _lever(design: Design) -> Iterator[Finding]:
    length = stated(design, "hand_drive.lever_length")
    path = derive(lambda L, n: 2 * 3.141592653589793 * L * n, length, _turns(design))
    yield from findings(LEVER, path)
    pull = derive(drive.lever_pull, mechanism.raising_torque(design), length)
    yield from _pull(pull, "lever grip", "torque / lever length", "hand_drive.lever_length")


def _turns(design: Design) -> Fact:
    return mechanism.turns_per_lift(design)


def _pull(pull: Fact, where: str, how: str, key: str) -> Iterator[Finding]:
    row = Row(
        key="pull",
        name=f"pull at the {where}, rated load",
        dimension=_D.FORCE,
        unit="N",
        how=how,
        source="energy balance; steady raising",
    )
    mend = "Check rated load, teeth, pockets and wheel or lever size: one of them is misread."
    credible = usual("pull, credible", key=key, severity="wrong", mend=mend)
    yield from findings(row, pull, *credible, *usual("pull, usual", key=key, mend=mend, shown=True))


def _whole_efficiency(design: Design) -> Fact:
    ideal = derive(lambda W, n: W / n, mechanism.weight(design), mechanism.falls(design))
    live = mechanism.live_fall(design)
    return derive(lambda eta, W, F: eta * W / F, mechanism.efficiency(design), ideal, live)


def _sheave_count(design: Design) -> Iterator[Finding]:
    """One idle sheave lies between each two falls."""
    falls = design.rating.falls
    quantity = {part.key: part.quantity for part in design.parts}
    there = sum(quantity.get(sheave.part, 1) for sheave in design.idle_sheaves)
    if falls is not None and there not in (0, falls - 1):
        yield Remark(
            severity="wrong",
            key="idle_sheaves",
            read=f"{there} idle sheaves for {falls} falls",
            expected=f"{falls - 1}: one between each two falls",
            mend="Count falls and sheaves again.",
        )
