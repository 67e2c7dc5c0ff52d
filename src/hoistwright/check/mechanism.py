"""Facts that several subjects share: how the load reaches the hand."""

from __future__ import annotations

from hoistwright.check.facts import Fact, constant, derive, first_known, stated, stated_or
from hoistwright.hoist.design import Design
from hoistwright.physics import chain, drive, gears, pocket_wheel, reeving

MOST_TEETH = 500
"""Above this a count is a slip of the pen; it also keeps the tooth search short."""


def weight(design: Design) -> Fact:
    """Weight of the rated load, N. Hook and block are left out."""
    return derive(lambda m: m * chain.STANDARD_GRAVITY, stated(design, "rating.rated_load"))


def falls(design: Design) -> Fact:
    return stated(design, "rating.falls")


def count(design: Design, key: str) -> Fact:
    """A counted number of teeth or pockets, refused where nobody can have counted it."""
    return derive(lambda z: _countable(z, key), stated(design, key))


def sheave_diameter(design: Design) -> Fact:
    """Effective diameter of the load sheave, 2 N p / pi, m."""
    return derive(
        pocket_wheel.effective_diameter,
        count(design, "load_sheave.pockets"),
        stated(design, "load_chain.pitch"),
    )


def hand_wheel_diameter(design: Design) -> Fact:
    """Effective diameter of the hand chain wheel: from its pockets, else as measured, m."""
    counted = derive(
        pocket_wheel.effective_diameter,
        count(design, "hand_drive.wheel_pockets"),
        stated(design, "hand_drive.chain_pitch"),
    )
    return first_known(counted, stated(design, "hand_drive.wheel_diameter"))


def teeth(design: Design) -> tuple[Fact, Fact, Fact, Fact]:
    """z1, z2, z3, z4."""
    names = ("pinion_teeth", "layshaft_large_teeth", "layshaft_small_teeth", "load_gear_teeth")
    z1, z2, z3, z4 = (count(design, f"gear_train.{name}") for name in names)
    return z1, z2, z3, z4


def gear_ratio(design: Design) -> Fact:
    return derive(gears.train_ratio, *teeth(design))


def idle_efficiency(design: Design) -> Fact:
    """Mean efficiency of one idle sheave; 1 where there is none."""
    if not design.idle_sheaves:
        return _no_sheaves(design)
    losses = [
        Fact(lacking=(f"idle_sheaves[{sheave.part}].loss",))
        if sheave.loss is None
        else constant(sheave.loss)
        for sheave in design.idle_sheaves
    ]
    return derive(lambda *loss: 1.0 - sum(loss) / len(loss), *losses)


def live_fall(design: Design) -> Fact:
    """Force in the fall that runs to the load sheave while raising the rated load, N."""
    return derive(reeving.live_fall_force, weight(design), falls(design), idle_efficiency(design))


def efficiency(design: Design) -> Fact:
    """From hand wheel or lever to the load sheave: two meshes, and the rest of the drive."""
    mesh, rest = "gear_train.mesh_efficiency", "hand_drive.efficiency"
    return derive(lambda m, rest: m**2 * rest, stated(design, mesh), stated(design, rest))


def raising_torque(design: Design) -> Fact:
    """Torque on the drive shaft that raises the rated load, N m."""
    return derive(
        lambda F, D, i, eta: drive.shaft_torque(F, D, 1, i, eta),
        live_fall(design),
        sheave_diameter(design),
        gear_ratio(design),
        efficiency(design),
    )


def load_torque(design: Design) -> Fact:
    """Torque that the hanging rated load exerts on the brake, losses left out, N m."""
    return derive(
        drive.shaft_torque_from_load,
        weight(design),
        sheave_diameter(design),
        falls(design),
        gear_ratio(design),
    )


def turns_per_lift(design: Design) -> Fact:
    """Turns of the drive shaft for each metre of lift."""
    return derive(
        drive.shaft_turns_per_lift, falls(design), gear_ratio(design), sheave_diameter(design)
    )


def layshafts(design: Design) -> Fact:
    return stated_or(design, "gear_train.layshafts", 1)


def _no_sheaves(design: Design) -> Fact:
    return derive(_whole_load_on_one_fall, falls(design))


def _whole_load_on_one_fall(n: float) -> float:
    if n > 1:
        raise ValueError(
            f"idle_sheaves: given none for {n:g} falls; expected one sheave between each two falls"
        )
    return 1.0


def _countable(z: float, key: str) -> float:
    if not 1 <= z <= MOST_TEETH:
        raise ValueError(f"{key}: given {z:g}; expected a count from 1 to {MOST_TEETH}")
    return z
