"""The figures of the load brake: names, equations, sources."""

from __future__ import annotations

import attrs

from hoistwright.check.rows import Row
from hoistwright.quantity import Dimension

_OWN = "screw and disc brake, derived in the mechanics and proved by simulation in the tests"
_DISC = "Shigley, disc clutches, from memory"


def _lock(key: str, state: str, note: str = "") -> Row:
    return Row(
        key=key,
        name=f"load brake, lock ratio, {state}",
        dimension=Dimension.RATIO,
        unit="",
        how="mu R / [r tan(lambda + phi)]",
        source=_OWN,
        note=note,
    )


LEAD_ANGLE = Row(
    key="thread_lead_angle",
    name="load brake, lead angle of the thread",
    dimension=Dimension.ANGLE,
    unit="°",
    how="atan[lead / (2 pi r)]",
    source="geometry",
)
DRY_LOW = _lock("lock_ratio_dry_low", "faces dry, lowest friction")
DRY_HIGH = _lock("lock_ratio_dry_high", "faces dry, highest friction")
OILY = _lock(
    "lock_ratio_oily",
    "faces oily, lowest friction",
    "Below 1 the load runs away: oil or grease on the faces is a danger.",
)
GLAZED = _lock(
    "lock_ratio_glazed",
    "faces glazed",
    "Friction of a glazed lining by common practice, no published figure.",
)
GREASY = _lock(
    "lock_ratio_greasy",
    "faces greasy",
    "Friction of a greasy face by common practice. Below 1 the load runs away.",
)
CLAMP_HELD = Row(
    key="brake_clamp_held",
    name="load brake, clamp force of the hanging rated load",
    dimension=Dimension.FORCE,
    unit="N",
    how="load torque / [mu R + r tan(lambda + phi)] at the lowest dry friction",
    source=_OWN,
)
CLAMP = Row(
    key="brake_clamp",
    name="load brake, greatest clamp force at rated load",
    dimension=Dimension.FORCE,
    unit="N",
    how="the greater of that of the hanging load and that of raising it: the torque of raising has "
    "all losses behind the brake on top, and its clamp stays when the hand lets go",
    source=_OWN,
)
PRESSURE = Row(
    key="face_pressure",
    name="load brake, mean face pressure at the greatest clamp",
    dimension=Dimension.STRESS,
    unit="MPa",
    how="clamp force / [pi (Ro² - Ri²)]",
    source=_DISC,
)
PRESSURE_HELD = attrs.evolve(
    PRESSURE,
    key="face_pressure_held",
    name="load brake, mean face pressure under the hanging rated load",
)
LOWERING = Row(
    key="lowering_pull",
    name="pull that lowers the rated load",
    dimension=Dimension.FORCE,
    unit="N",
    how="load torque (S - 1) / (S + 1) / radius of the pull, at the highest dry friction",
    source=_OWN,
)
FREE_PLAY = Row(
    key="brake_free_play",
    name="load brake, free play that the lock nut leaves",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="set-back turns · pitch of the lock nut's thread",
    source="geometry",
)
CLOSING = Row(
    key="closing_turns",
    name="load brake, turn that closes it, linings new",
    dimension=Dimension.RATIO,
    unit="",
    how="free play / lead of the brake thread; turns",
    source="geometry",
)
WORN = Row(
    key="closing_turns_worn",
    name="load brake, turn that closes it, both linings at their least",
    dimension=Dimension.RATIO,
    unit="",
    how="(free play + wear of both linings) / lead of the brake thread; turns",
    source="geometry; wear uses up thickness, not lock ratio",
)
