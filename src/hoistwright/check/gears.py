"""Gear train: do pinion and load gear share one axis, and do the teeth carry the load?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated, stated_or
from hoistwright.check.model import Finding
from hoistwright.check.practice import limit, ranges
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.physics import gear_strength, gears
from hoistwright.quantity import Dimension

_LEWIS = "Lewis formula, Shigley, table 14-2 (form factor), from memory"


def _centre(number: str, how: str) -> Row:
    return Row(
        key=f"{number}_centre_distance",
        name=f"gears, centre distance of the {number} stage",
        dimension=Dimension.LENGTH,
        unit="mm",
        how=how,
        source="ISO 21771",
    )


GAP = Row(
    key="coaxial_gap",
    name="gears, difference of the two centre distances",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="centre distance of the first stage - that of the second, without sign",
    source="geometry of a train that comes back to its axis",
)


def gear_findings(design: Design) -> Iterator[Finding]:
    """Centre distances and tooth stresses of both stages."""
    z1, z2, z3, z4 = mechanism.teeth(design)
    first = _centre_distance(design, "first", z1, z2)
    second = _centre_distance(design, "second", z3, z4)
    yield from findings(_centre("first", "m1 (z1 + z2) / 2"), first)
    yield from findings(_centre("second", "m2 (z3 + z4) / 2"), second)
    gap = derive(lambda a, b: round(abs(a - b), 9), first, second)
    yield from findings(GAP, gap, _coaxial(design))
    yield from _teeth(design, z1, z3)


def _centre_distance(design: Design, stage: str, za: Fact, zb: Fact) -> Fact:
    return derive(
        gears.centre_distance,
        stated(design, f"gear_train.{stage}_module"),
        za,
        zb,
        stated_or(design, f"gear_train.{stage}_profile_shift", 0.0),
    )


def _coaxial(design: Design) -> Bound:
    share = limit("coaxial gap in modules")
    return Bound(
        sense="at most",
        fact=derive(lambda m: share * m, stated(design, "gear_train.first_module")),
        source=ranges()["coaxial gap in modules"].source,
        key="gear_train",
        mend="Pinion and load gear cannot share an axis: count the teeth and measure the modules "
        "again; state profile_shift where the gears have it.",
    )


def _teeth(design: Design, z1: Fact, z3: Fact) -> Iterator[Finding]:
    """Bending at the small gear of each stage, both layshafts sharing the load."""
    shafts = mechanism.layshafts(design)
    pinion = derive(lambda T, i: T / i, _sheave_torque(design), mechanism.gear_ratio(design))
    stage2 = derive(lambda T, z3, z4: T * z3 / z4, _sheave_torque(design), z3, _load_gear(design))
    yield from _bending(design, "first", pinion, z1, shafts)
    yield from _bending(design, "second", stage2, z3, shafts)


def _bending(design: Design, stage: str, torque: Fact, z: Fact, shafts: Fact) -> Iterator[Finding]:
    module = stated(design, f"gear_train.{stage}_module")
    width = stated(design, f"gear_train.{stage}_face_width")
    force = derive(gear_strength.tooth_force, torque, module, z, shafts)
    form = derive(gear_strength.lewis_form_factor, z)
    stress = derive(gear_strength.lewis_stress, force, width, module, form)
    bound = Bound(
        sense="at most",
        fact=stated(design, "gear_train.bending_strength"),
        source="permitted stress as stated in the design",
        key=f"gear_train.{stage}_face_width",
        mend="Check teeth, module, face width and material.",
    )
    yield from findings(_row(stage), stress, bound)
    yield from _contact(design, stage, force, width)


def _contact(design: Design, stage: str, force: Fact, width: Fact) -> Iterator[Finding]:
    """Pressure between the flanks; no limit is stated for it."""
    module = stated(design, f"gear_train.{stage}_module")
    z1, z2, z3, z4 = mechanism.teeth(design)
    small, large = (z1, z2) if stage == "first" else (z3, z4)
    da, db = (derive(lambda m, z: m * z, module, z) for z in (small, large))
    row = Row(
        key=f"{stage}_tooth_contact",
        name=f"gears, flank pressure of the {stage} stage",
        dimension=Dimension.STRESS,
        unit="MPa",
        how="Hertz pressure of two cylinders at the pitch point, the layshafts sharing the load",
        source="Hertz; Shigley, ch. 14, from memory",
    )
    yield from findings(row, derive(gear_strength.contact_stress, force, width, da, db))


def _row(stage: str) -> Row:
    gear = "pinion" if stage == "first" else "small layshaft gear"
    return Row(
        key=f"{stage}_tooth_bending",
        name=f"gears, tooth root stress of the {gear}",
        dimension=Dimension.STRESS,
        unit="MPa",
        how="tooth force / (face width · module · form factor), the layshafts sharing the load",
        source=_LEWIS,
        note="With a layshaft mistimed one mesh carries all, and this stress multiplies.",
    )


def _sheave_torque(design: Design) -> Fact:
    return derive(
        lambda F, D: F * D / 2, mechanism.live_fall(design), mechanism.sheave_diameter(design)
    )


def _load_gear(design: Design) -> Fact:
    return mechanism.count(design, "gear_train.load_gear_teeth")
