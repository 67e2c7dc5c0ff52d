"""Springs: can the stated sizes be those of one spring, and what stress has the wire?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check.facts import Fact, derive, stated_in
from hoistwright.check.model import Finding, Sense
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import Spring
from hoistwright.physics import springs
from hoistwright.quantity import Dimension


def spring_findings(design: Design) -> Iterator[Finding]:
    """What the sizes of each spring allow, and the stress of its wire."""
    names = {part.key: part.name for part in design.parts}
    for spring in design.springs:
        find = _leg_spring if spring.kind == "leg" else _compression_spring
        yield from find(spring, names.get(spring.part, spring.part))


def _compression_spring(spring: Spring, name: str) -> Iterator[Finding]:
    """Solid length and shear stress of a helical compression spring."""
    wire, mean, force = _figures(spring)
    solid = _length_row(spring, "solid", f"{name}, length with all coils touching", "coils · wire")
    coils = stated_in(spring, "springs", "coils")
    mend = "Count the coils and measure wire and free length again."
    bound = _against_free_length(spring, "at most", mend)
    yield from findings(solid, derive(lambda d, n: d * n, wire, coils), bound)
    stress = derive(springs.helical_stress, force, wire, mean)
    how = "K 8 F D / (pi d³) with Wahl's factor"
    yield from findings(_stress_row(spring, f"{name}, shear stress", how), stress)


def _leg_spring(spring: Spring, name: str) -> Iterator[Finding]:
    """Reach of the legs and bending stress of a leg spring."""
    wire, mean, force = _figures(spring)
    leg = stated_in(spring, "springs", "leg")
    reach = _length_row(spring, "legs", f"{name}, legs stretched out", "2 · leg")
    mend = "Measure the legs from the middle of the coil, and the distance of their ends, again."
    bound = _against_free_length(spring, "at least", mend)
    yield from findings(reach, derive(lambda a: 2 * a, leg), bound)
    torque = derive(lambda F, a: F * a, force, leg)
    stress = derive(springs.torsion_stress, torque, wire, mean)
    how = "K 32 F a / (pi d³) with the curvature factor of the inside"
    yield from findings(_stress_row(spring, f"{name}, bending stress", how), stress)


def _figures(spring: Spring) -> tuple[Fact, Fact, Fact]:
    names = ("wire", "mean_diameter", "force")
    wire, mean, force = (stated_in(spring, "springs", name) for name in names)
    return wire, mean, force


def _length_row(spring: Spring, key: str, name: str, how: str) -> Row:
    return Row(
        key=f"{spring.part}_{key}",
        name=name,
        dimension=Dimension.LENGTH,
        unit="mm",
        how=how,
        source="geometry",
    )


def _against_free_length(spring: Spring, sense: Sense, mend: str) -> Bound:
    return Bound(
        sense=sense,
        fact=stated_in(spring, "springs", "free_length"),
        source="its free length",
        key=f"springs[{spring.part}].free_length",
        mend=mend,
    )


def _stress_row(spring: Spring, name: str, how: str) -> Row:
    return Row(
        key=f"{spring.part}_stress",
        name=f"{name} at the stated force",
        dimension=Dimension.STRESS,
        unit="MPa",
        how=how,
        source="Shigley, ch. 10, from memory",
    )
