"""Springs: can the stated coils fit into the stated length, and what stress has the wire?"""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check.facts import derive, stated_in
from hoistwright.check.model import Finding
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import Spring
from hoistwright.physics import springs
from hoistwright.quantity import Dimension


def spring_findings(design: Design) -> Iterator[Finding]:
    """Solid length and shear stress of each spring, taken as a helical compression spring."""
    for spring in design.springs:
        yield from _spring(design, spring)


def _spring(design: Design, spring: Spring) -> Iterator[Finding]:
    wire, coils = (stated_in(spring, "springs", name) for name in ("wire", "coils"))
    names = {part.key: part.name for part in design.parts}
    name = names.get(spring.part, spring.part)
    solid = Row(
        key=f"{spring.part}_solid",
        name=f"{name}, length with all coils touching",
        dimension=Dimension.LENGTH,
        unit="mm",
        how="coils · wire",
        source="geometry",
    )
    bound = Bound(
        sense="at most",
        fact=stated_in(spring, "springs", "free_length"),
        source="its free length",
        key=f"springs[{spring.part}].free_length",
        mend="Count the coils and measure wire and free length again.",
    )
    yield from findings(solid, derive(lambda d, n: d * n, wire, coils), bound)
    force = stated_in(spring, "springs", "force")
    mean = stated_in(spring, "springs", "mean_diameter")
    stress = derive(springs.helical_stress, force, wire, mean)
    yield from findings(_stress_row(spring, name), stress)


def _stress_row(spring: Spring, name: str) -> Row:
    return Row(
        key=f"{spring.part}_stress",
        name=f"{name}, shear stress at the stated force",
        dimension=Dimension.STRESS,
        unit="MPa",
        how="K 8 F D / (pi d³) with Wahl's factor",
        source="Shigley, ch. 10, from memory",
    )
