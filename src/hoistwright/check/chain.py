"""Load chain: stress and grade, proportions, design factor, length for lift and falls."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.chain_length import length_findings
from hoistwright.check.facts import Fact, constant, derive, first_known, stated
from hoistwright.check.model import Finding, Remark
from hoistwright.check.practice import usual
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.hoist.as_new import chain_gauge_length
from hoistwright.hoist.design import Design
from hoistwright.physics import chain
from hoistwright.quantity import Dimension, show

_ISO = "ISO 3077, EN 818-7: mean stress in both legs of a link"
STRESS = Row(
    key="chain_stress",
    name="load chain stress at rated load",
    dimension=Dimension.STRESS,
    unit="MPa",
    how="(weight / falls) / (2 · pi d² / 4)",
    source=_ISO,
)
FACTOR = Row(
    key="chain_design_factor",
    name="load chain, breaking force over force at rated load",
    dimension=Dimension.RATIO,
    unit="",
    how="breaking stress of the grade / stress at rated load",
    source="EN 818-1: breaking stress by grade",
)
CAPACITY = Row(
    key="chain_working_load",
    name="load chain, working load of one fall",
    dimension=Dimension.MASS,
    unit="kg",
    how="working stress · 2 · pi d² / 4 / g, not rounded",
    source=_ISO,
)
PROPORTION = Row(
    key="chain_proportion",
    name="load chain, pitch over wire diameter",
    dimension=Dimension.RATIO,
    unit="",
    how="pitch / wire diameter",
    source="ISO 3077",
)
GAUGE = Row(
    key="gauge_length",
    name="load chain, gauge length as new",
    dimension=Dimension.LENGTH,
    unit="mm",
    how="links · pitch + 2 · wire diameter",
    source="geometry",
)
POWERED = {"DAT": "T", "DT": "T", "TH": "T"}
"""Types whose breaking stress is that of the letter T."""


def chain_findings(design: Design) -> Iterator[Finding]:
    """Everything about the load chain itself."""
    wire, pitch = stated(design, "load_chain.wire"), stated(design, "load_chain.pitch")
    ratio = derive(lambda p, d: p / d, pitch, wire)
    mend = "Pitch is the inside length of one link: measure it and the wire again."
    bounds = usual("pitch over wire", key="load_chain.pitch", mend=mend)
    yield from findings(PROPORTION, ratio, *bounds)
    yield from _strength(design, wire)
    yield from _gauge(design)
    yield from length_findings(design)


def _strength(design: Design, wire: Fact) -> Iterator[Finding]:
    force = derive(lambda W, n: W / n, mechanism.weight(design), mechanism.falls(design))
    stress = derive(chain.mean_stress, force, wire)
    yield from _grade_remarks(design)
    working = first_known(stated(design, "load_chain.working_stress"), _of_grade(design))
    mend = "The chain is too thin for the load on one fall: check wire, grade, load and falls."
    bound = Bound(
        sense="at most",
        fact=working,
        source="working stress of the chain's grade",
        key="load_chain.wire",
        mend=mend,
    )
    yield from findings(STRESS, stress, bound)
    yield from findings(CAPACITY, derive(chain.working_load_mass, wire, working))
    factor = derive(lambda breaking, sigma: breaking / sigma, _breaking(design), stress)
    bounds = usual("chain design factor", key="load_chain.grade", severity="wrong", mend=mend)
    yield from findings(FACTOR, factor, *bounds)


def _gauge(design: Design) -> Iterator[Finding]:
    length = chain_gauge_length(design, None)
    if length is None:
        lacking = [f"load_chain.{key}" for key in ("wire", "pitch") if _none(design, key)]
        yield from findings(GAUGE, Fact(lacking=tuple(lacking)))
        return
    bounds = usual("gauge length", key="load_chain.gauge_links", mend="Choose another link count.")
    yield from findings(GAUGE, constant(length), *bounds)


def _none(design: Design, key: str) -> bool:
    return getattr(design.load_chain, key) is None


def _of_grade(design: Design) -> Fact:
    grade = design.load_chain.grade
    stress = chain.WORKING_STRESS.get("T" if grade == "TH" else grade or "")
    return Fact(lacking=("load_chain.grade",)) if stress is None else constant(stress)


def _breaking(design: Design) -> Fact:
    grade = design.load_chain.grade or ""
    stress = chain.BREAKING_STRESS.get(POWERED.get(grade, grade))
    return Fact(lacking=("load_chain.grade",)) if stress is None else constant(stress)


def _grade_remarks(design: Design) -> Iterator[Finding]:
    chain_, of_grade = design.load_chain, _of_grade(design)
    if chain_.grade is not None and not of_grade.known:
        yield Remark(
            severity="doubtful",
            key="load_chain.grade",
            read=repr(chain_.grade),
            expected="one of: " + ", ".join((*chain.WORKING_STRESS, "TH")),
            mend="Read the grade mark on the chain; without it state working_stress.",
        )
    over = of_grade.value is not None and (chain_.working_stress or 0.0) > of_grade.value
    if over and of_grade.value is not None and chain_.working_stress is not None:
        yield Remark(
            severity="wrong",
            key="load_chain.working_stress",
            read=show(chain_.working_stress, Dimension.STRESS, "MPa"),
            expected=f"at most {show(of_grade.value, Dimension.STRESS, 'MPa')} for grade "
            f"{chain_.grade} ({_ISO})",
            mend="State the grade's own working stress, or the right grade.",
        )
