"""Overload limiter: at what load does it slip?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated
from hoistwright.check.model import Finding, Remark
from hoistwright.check.practice import usual
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics import disc, limiter
from hoistwright.quantity import Dimension

TORQUE = Row(
    key="limiter_torque",
    name="overload limiter, slip torque",
    dimension=Dimension.TORQUE,
    unit="N m",
    how="faces · friction · spring preload · effective radius",
    source="Shigley, disc clutches, from memory",
)
RATIO = Row(
    key="limiter_slip",
    name="overload limiter, slip load over rated load",
    dimension=Dimension.RATIO,
    unit="",
    how="slip torque / torque that raises the rated load",
    source="energy balance; friction scatters, so the setting is proved by test load",
)


def limiter_findings(design: Design) -> Iterator[Finding]:
    """Slip torque and slip load; nothing for a hoist without limiter."""
    if design.overload_limiter is None:
        return
    torque = _torque(design)
    yield from findings(TORQUE, torque)
    yield from _band(design)
    ratio = derive(lambda T, raising: T / raising, torque, mechanism.raising_torque(design))
    yield from findings(RATIO, ratio, *_bounds(design))


def _torque(design: Design) -> Fact:
    half = [
        derive(lambda D: D / 2, stated(design, f"overload_limiter.{side}_diameter"))
        for side in ("outer", "inner")
    ]
    return derive(
        limiter.slip_torque,
        stated(design, "overload_limiter.spring_preload"),
        stated(design, "overload_limiter.friction"),
        derive(disc.radius_uniform_wear, *half),
        stated(design, "overload_limiter.faces"),
    )


def _bounds(design: Design) -> list[Bound]:
    key, source = "overload_limiter.spring_preload", "slip band as stated in the design"
    mend = "Set the limiter on a test bed; check preload, friction and faces."
    low, high = (stated(design, f"overload_limiter.slip_{end}") for end in ("low", "high"))
    own = [
        Bound(sense="at most", fact=high, source=source, key=key, mend=mend),
        Bound(sense="at least", fact=low, source=source, key=key, mend=mend),
    ]
    return [*(bound for bound in own if bound.fact.known), *usual("limiter slip", key=key)]


def _band(design: Design) -> Iterator[Finding]:
    band = design.overload_limiter
    if band is None or band.slip_low is None or band.slip_high is None:
        return
    if not 1.0 < band.slip_low < band.slip_high:
        yield Remark(
            severity="wrong",
            key="overload_limiter.slip_low",
            read=f"a slip band from {band.slip_low:g} to {band.slip_high:g}",
            expected="1 < slip_low < slip_high",
            mend="A limiter must lift the rated load before it slips.",
        )
