"""Stay bolts: preload from the stated torque, against the proof load of the screw."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check.facts import Fact, constant, derive, stated_in
from hoistwright.check.model import Finding
from hoistwright.check.practice import usual
from hoistwright.check.rows import Row, findings
from hoistwright.check.threads import proof_stress, thread_size
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import StayBolt
from hoistwright.physics import bolts
from hoistwright.quantity import Dimension

_SHIGLEY = "T = K F d, K by state; Shigley, table 8-15, from memory"


def stay_bolt_findings(design: Design) -> Iterator[Finding]:
    """Preload of each set of stay bolts, for the treatment the design asks for."""
    for bolt in design.stay_bolts:
        yield from _bolt(design, bolt)


def _bolt(design: Design, bolt: StayBolt) -> Iterator[Finding]:
    where = f"stay_bolts[{bolt.part}]"
    diameter, pitch = thread_size(bolt.thread, f"{where}.thread")
    state = thread_state(design, bolt.part)
    torque = stated_in(bolt, "stay_bolts", "torque")
    factor = constant(bolts.NUT_FACTORS[state])
    preload = derive(bolts.preload_from_torque, torque, diameter, factor)
    yield from findings(_preload_row(bolt, state), preload)
    area = derive(bolts.tensile_stress_area, diameter, pitch)
    proof = proof_stress(bolt.property_class, f"{where}.property_class")
    share = derive(lambda F, A, S: F / (A * S), preload, area, proof)
    yield from _share(bolt, share, f"{where}.torque")


def _share(bolt: StayBolt, share: Fact, key: str) -> Iterator[Finding]:
    row = Row(
        key=f"{bolt.part}_preload_share",
        name="stay bolts, preload over proof load",
        dimension=Dimension.RATIO,
        unit="%",
        how="preload / (stress area · proof stress)",
        source="ISO 898-1, from memory",
    )
    mend = "Check torque, thread, property class and whether the thread is dry or treated."
    greatest = usual("preload, greatest", key=key, severity="wrong", mend=mend)
    reused = usual("preload of proof", key=key, mend=mend, shown=True)
    yield from findings(row, share, *greatest, *reused)


def thread_state(design: Design, part: str) -> str:
    """How the design wants the threads of a part: dry, oiled or with anti-seize."""
    for point in design.lubrication:
        if point.part == part and point.lubricant == "anti-seize":
            return "anti-seize"
        if point.part == part and point.lubricant in ("oil", "grease"):
            return "oiled"
    return "dry"


def _preload_row(bolt: StayBolt, state: str) -> Row:
    return Row(
        key=f"{bolt.part}_preload",
        name=f"stay bolts, preload at the stated torque, thread {state}",
        dimension=Dimension.FORCE,
        unit="kN",
        how="torque / (K · d)",
        source=_SHIGLEY,
    )
