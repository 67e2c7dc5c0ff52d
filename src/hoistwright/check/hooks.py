"""Hooks: stress of the bowl at rated load, stress of the shank thread, the latch."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, derive, stated_in
from hoistwright.check.model import Finding, Remark
from hoistwright.check.rows import Bound, Row, findings
from hoistwright.check.threads import thread_size
from hoistwright.hoist.design import Design
from hoistwright.hoist.machine import Hook
from hoistwright.physics import bolts, hook, pins
from hoistwright.quantity import Dimension

_CURVED = "curved beam (Winkler and Bach); Boresi and Schmidt, ch. 9"


def hook_findings(design: Design) -> Iterator[Finding]:
    """Stresses of each hook; a design without hooks says so."""
    if not design.hooks:
        yield from findings(_row("hook", "inner", "hook"), Fact(lacking=("hooks",)))
    for item in design.hooks:
        yield from _bowl(design, item)
        yield from _shank(design, item)
        yield from _latch(item)


def _bowl(design: Design, item: Hook) -> Iterator[Finding]:
    sizes = _sizes(item)
    weight, name = mechanism.weight(design), _called(item)
    inner = derive(lambda W, *s: hook.hook_stresses(_section(item, *s), W)[0], weight, *sizes)
    outer = derive(lambda W, *s: hook.hook_stresses(_section(item, *s), W)[1], weight, *sizes)
    bound = _permitted(item, "depth", "Check section and inner radius of the hook.")
    yield from findings(_row(item.part, "inner", name), inner, bound)
    yield from findings(_row(item.part, "outer", name), outer)


def _shank(design: Design, item: Hook) -> Iterator[Finding]:
    key = f"hooks[{item.part}].shank_thread"
    area = derive(bolts.tensile_stress_area, *thread_size(item.shank_thread, key))
    row = Row(
        key=f"{item.part}_shank",
        name=f"{_called(item)}, stress of the shank thread",
        dimension=Dimension.STRESS,
        unit="MPa",
        how="weight / stress area of the thread",
        source="ISO 898-1 stress area, from memory",
    )
    bound = _permitted(item, "shank_thread", "Check the thread of the shank.")
    yield from findings(row, derive(pins.rod_stress, mechanism.weight(design), area), bound)


def _latch(item: Hook) -> Iterator[Finding]:
    if item.latch is False:
        yield Remark(
            severity="doubtful",
            key=f"hooks[{item.part}].latch",
            read="no latch",
            expected="a latch, unless the use forbids one",
            mend="Ask a competent person whether this hook may be used without a latch.",
        )


def _permitted(item: Hook, name: str, mend: str) -> Bound:
    return Bound(
        sense="at most",
        fact=stated_in(item, "hooks", "permitted_stress"),
        source="permitted stress as stated in the design",
        key=f"hooks[{item.part}].{name}",
        mend=mend,
    )


def _sizes(item: Hook) -> list[Fact]:
    """Inner radius, depth and widths as the section's shape needs them."""
    names = {
        "trapezoid": ("inner_radius", "depth", "inner_width", "outer_width"),
        "rectangle": ("inner_radius", "depth", "inner_width"),
        "round": ("inner_radius", "depth"),
    }
    if item.section is None:
        return [Fact(lacking=(f"hooks[{item.part}].section",))]
    return [stated_in(item, "hooks", name) for name in names[item.section]]


def _section(item: Hook, *sizes: float) -> hook.CurvedSection:
    if item.section == "trapezoid":
        return hook.trapezoid(*sizes)
    if item.section == "rectangle":
        return hook.rectangle(*sizes)
    return hook.circle(*sizes)


def _called(item: Hook) -> str:
    return f"{item.position} hook"


def _row(part: str, fibre: str, name: str) -> Row:
    return Row(
        key=f"{part}_{fibre}",
        name=f"{name}, stress at the {fibre} fibre",
        dimension=Dimension.STRESS,
        unit="MPa",
        how="W / A + W r_c (r_n - r) / (A e r), load line through the centre of curvature",
        source=_CURVED,
    )
