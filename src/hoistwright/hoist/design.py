"""A design: what a hoist model is, as read from its design file."""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.hoist.limits import MakerLimit
from hoistwright.hoist.machine import (
    Bearing,
    GearTrain,
    HandDrive,
    Hook,
    IdleSheave,
    LoadBrake,
    LoadChain,
    LoadSheave,
    LubricationPoint,
    OverloadLimiter,
    Pin,
    Rating,
    Spring,
    StayBolt,
)
from hoistwright.hoist.parts import Part
from hoistwright.hoist.take_apart import Step

Kind = Literal["hand chain hoist", "lever hoist"]


@attrs.frozen(kw_only=True)
class Identity:
    maker: str
    model: str
    kind: Kind
    invented: bool = False
    note: str = ""


@attrs.frozen(kw_only=True)
class Design:
    """A hoist model. `key` is its file's stem and its name on the command line."""

    format: int
    key: str
    identity: Identity
    rating: Rating = attrs.Factory(Rating)
    load_chain: LoadChain = attrs.Factory(LoadChain)
    load_sheave: LoadSheave = attrs.Factory(LoadSheave)
    idle_sheaves: tuple[IdleSheave, ...] = ()
    gear_train: GearTrain = attrs.Factory(GearTrain)
    hand_drive: HandDrive = attrs.Factory(HandDrive)
    load_brake: LoadBrake = attrs.Factory(LoadBrake)
    hooks: tuple[Hook, ...] = ()
    pins: tuple[Pin, ...] = ()
    stay_bolts: tuple[StayBolt, ...] = ()
    springs: tuple[Spring, ...] = ()
    bearings: tuple[Bearing, ...] = ()
    overload_limiter: OverloadLimiter | None = None
    lubrication: tuple[LubricationPoint, ...] = ()
    parts: tuple[Part, ...] = ()
    take_apart: tuple[Step, ...] = ()
    maker_limits: tuple[MakerLimit, ...] = ()

    def part(self, key: str) -> Part:
        """The part with this key; KeyError where there is none."""
        for part in self.parts:
            if part.key == key:
                return part
        raise KeyError(key)

    def parts_of(self, role: str) -> tuple[Part, ...]:
        """All parts that play `role`, in parts-list order."""
        return tuple(part for part in self.parts if part.role == role)
