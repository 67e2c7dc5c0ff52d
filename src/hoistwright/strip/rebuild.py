"""The rebuild plan: the strip plan backwards, with all that going back asks for."""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Look, catalogue
from hoistwright.hoist.parts import Side
from hoistwright.hoist.take_apart import Step
from hoistwright.strip.graph import Graph, build_known
from hoistwright.strip.graph_faults import WHOLE_HOIST
from hoistwright.strip.plan import (
    STANDING_CAUTIONS,
    Pieces,
    StripPlan,
    merged_pieces,
    pieces,
    pieces_spent,
)
from hoistwright.strip.sequence import TURNED, supports, turned_before
from hoistwright.strip.two_people import Task, in_hand, mirrored, schedule
from hoistwright.strip.wording import filled, single_tools

BRAKE_ROLES = ("friction_disc", "ratchet_disc", "disc_hub", "pawl", "pawl_spring")
"""Roles of the parts between drive and load brake; the wheel that shuts them shows a disc."""


@attrs.frozen(kw_only=True)
class Treated:
    """Where what goes on (or must not), before or while a part goes back."""

    part: str
    """Empty where the step itself says it, for all of its parts."""
    treatment: str
    where: str


@attrs.frozen(kw_only=True)
class RebuildStep:
    """One step of a rebuild plan. Times in seconds, torque in N m."""

    number: int
    key: str
    """The strip step that it mirrors."""
    name: str
    side: Side
    turn: bool
    fastener: str
    tool: str
    seconds: float
    fits: tuple[str, ...]
    worked_on: tuple[str, ...]
    fit_new: tuple[Pieces, ...]
    """Of these new pieces go in: one-use parts, and parts chosen to be renewed."""
    treated: tuple[Treated, ...]
    torque: float | None
    setting: str
    marks: str
    hold_point: str
    caution: str
    why: str
    watch: str
    person: int
    start: float
    end: float


@attrs.frozen(kw_only=True)
class HoldPoint:
    """What a named person must see and sign before work goes on.

    Who works alone goes no further; of two, the one who did the step goes no further, and the
    steps of `holds` do not begin.
    """

    number: int
    step: str
    text: str
    holds: tuple[str, ...] = ()
    """Keys of the steps that wait for this one."""


@attrs.frozen(kw_only=True)
class FinalCheck:
    """A look at the rebuilt hoist, before any load."""

    feature: str
    name: str
    question: str
    how: str
    finding: str
    parts: tuple[str, ...]


@attrs.frozen(kw_only=True)
class RebuildPlan:
    """How the hoist goes together again. Times in seconds."""

    design: str
    renewed: tuple[str, ...]
    steps: tuple[RebuildStep, ...]
    new_parts: tuple[Pieces, ...]
    """All new pieces: one-use parts and renewals."""
    tools: tuple[str, ...]
    hold_points: tuple[HoldPoint, ...]
    checks: tuple[FinalCheck, ...]
    """Answered before the step `first_load`."""
    first_load: int
    """Number of the step in which the first load hangs on the hook; 0 for none."""
    turns: int
    seconds: float
    two_person_seconds: float
    cautions: tuple[str, ...]
    people: int = 1
    """For how many the steps are ordered; see `hoistwright.strip.for_two`."""


def rebuild(design: Design, plan: StripPlan, renewed: Iterable[str] = ()) -> RebuildPlan:
    """The way back from a strip plan.

    The steps are those of the strip in reverse order: what came off last goes on first; a
    fastener follows what it holds. Each carries its treatment (its own and that of the
    design's lubrication list), torque, setting, marks and hold point. One-use parts are
    always new.

    Args:
        design: the design the plan was made for.
        plan: the strip plan.
        renewed: keys of parts chosen to be renewed; all must come off in the plan, or stand
            outside.

    Returns:
        The plan with the checks of the rebuilt hoist at its end; empty for an empty strip.

    Errors:
        ValueError: a renewed part that the plan does not free, or a plan of another design.

    References:
        Treatments, settings and hold points: common practice of the trade, in the design
        files; a maker's manual comes first.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.strip.plan import strip_to
    >>> design = shipped("ardle-2000")
    >>> back = rebuild(design, strip_to(design, ["hand_wheel_nut"]), ["hand_wheel_nut"])
    >>> back.steps[0].setting
    'Tighten the lock nut home, then set it back half a turn, on to the nearest slot for
    the split pin.'
    """
    if plan.design != design.key:
        raise ValueError(f"plan: made for {plan.design!r}; expected one for {design.key!r}")
    graph = build_known(design)
    new = tuple(dict.fromkeys(renewed))
    _check_renewed(design, plan, new)
    order = _order(graph, plan)
    back = tuple(reversed(order))
    waits = mirrored(order, supports(graph, order))
    tasks = _tasks(graph, back, waits)
    turned = turned_before(graph, back)
    steps = tuple(
        _step(design, graph.steps[at], number, turn=turn, task=tasks[at], renewed=new)
        for number, (at, turn) in enumerate(zip(back, turned, strict=True), start=1)
    )
    fitted = {piece.part for step in steps for piece in step.fit_new}
    loose = [pieces(design, key) for key in new if key not in fitted]
    return RebuildPlan(
        design=design.key,
        renewed=new,
        steps=steps,
        new_parts=merged_pieces([*(p for step in steps for p in step.fit_new), *loose]),
        tools=single_tools(step.tool for step in steps),
        hold_points=tuple(
            HoldPoint(
                number=step.number,
                step=step.key,
                text=step.hold_point,
                holds=tuple(graph.steps[other].key for other in back if waits[other] >> at & 1),
            )
            for at, step in zip(back, steps, strict=True)
            if step.hold_point
        ),
        checks=_checks(design, plan),
        first_load=next(
            (n for n, at in enumerate(back, start=1) if graph.steps[at].refit.first_load), 0
        ),
        turns=sum(turned),
        seconds=sum(step.seconds for step in steps),
        two_person_seconds=max((task.end for task in tasks.values()), default=0.0),
        cautions=STANDING_CAUTIONS if steps else (),
    )


def _check_renewed(design: Design, plan: StripPlan, renewed: tuple[str, ...]) -> None:
    reached = {*plan.freed, *plan.no_opening}
    shut = [key for key in renewed if key not in reached]
    if shut:
        raise ValueError(
            f"renewed: {', '.join(shut)} does not come off in this plan; expected parts that it "
            f"frees. Plan the strip of {design.key} for them too."
        )


def _order(graph: Graph, plan: StripPlan) -> tuple[int, ...]:
    place = {step.key: at for at, step in enumerate(graph.steps)}
    order = [place[step.key] for step in plan.steps]
    for at in tuple(order):
        _secure_at_once(graph, order, at)
    return tuple(order)


def _secure_at_once(graph: Graph, order: list[int], at: int) -> None:
    """Move a fastener's step next to what it holds, so that no pin is left unsecured for long.

    Later in the strip, up to the first step that waits for it, nothing it needs or frees is
    missed. Only steps reached with either side up move: the hoist is turned no oftener.
    """
    step = graph.steps[at]
    if not step.fastener or step.side in TURNED:
        return
    waits = supports(graph, order)
    held = next((other for other in order if waits[other] >> at & 1), None)
    if held is not None:
        order.remove(at)
        order.insert(order.index(held), at)


def _tasks(graph: Graph, back: tuple[int, ...], waits: dict[int, int]) -> dict[int, Task]:
    seconds = {at: _seconds(graph.steps[at]) for at in back}
    sides = {at: graph.steps[at].side for at in back}
    return schedule(back, waits, seconds, sides, in_hand(graph.steps, back))


def _seconds(step: Step) -> float:
    return float(step.minutes if step.refit.minutes is None else step.refit.minutes)


def _step(
    design: Design,
    step: Step,
    number: int,
    *,
    turn: bool,
    task: Task,
    renewed: tuple[str, ...],
) -> RebuildStep:
    refit = step.refit
    own_new = [pieces(design, key) for key in step.frees if key in renewed]
    return RebuildStep(
        number=number,
        key=step.key,
        name=filled(refit.name, design) or _put_back(design, step),
        side=step.side,
        turn=turn,
        fastener=step.fastener,
        tool=refit.tool or step.tool,
        seconds=_seconds(step),
        fits=step.frees,
        worked_on=step.worked_on,
        fit_new=merged_pieces([*pieces_spent(design, step), *own_new]),
        treated=_treated(design, step),
        torque=_torque(design, step),
        setting=filled(refit.setting, design),
        marks=filled(refit.marks, design),
        hold_point=filled(refit.hold_point, design),
        caution=filled(refit.caution, design),
        why=filled(refit.why or step.why, design),
        watch=filled(refit.watch, design),
        person=task.person,
        start=task.start,
        end=task.end,
    )


def _put_back(design: Design, step: Step) -> str:
    names = ", ".join(design.part(key).name for key in step.frees)
    return f"Put back: {names}." if names else f"Undo step {step.key.replace('_', ' ')}."


def _treated(design: Design, step: Step) -> tuple[Treated, ...]:
    """What the design's lubrication list says of the parts, then what the step says itself."""
    found = [
        Treated(part=point.part, treatment=point.lubricant, where=point.where)
        for key in step.frees
        for point in design.lubrication
        if point.part == key
    ]
    if step.refit.treatment != "none":
        found.append(Treated(part="", treatment=step.refit.treatment, where=step.refit.treat_where))
    return tuple(found)


def _torque(design: Design, step: Step) -> float | None:
    """The step's own torque; else that of the stay bolt it names."""
    if step.refit.torque is not None:
        return float(step.refit.torque)
    for bolt in design.stay_bolts:
        if bolt.part == step.refit.torque_of and bolt.torque is not None:
            return float(bolt.torque)
    return None


def _checks(design: Design, plan: StripPlan) -> tuple[FinalCheck, ...]:
    """The looks at a rebuilt hoist that concern what was off, and the whole hoist."""
    if not plan.steps:
        return ()
    off = set(plan.freed)
    always = {WHOLE_HOIST, *(("pawl",) if _brake_opened(design, plan) else ())}
    by_role: dict[str, list[str]] = {}
    for part in design.parts:
        if part.role and (part.key in off or part.role in always):
            by_role.setdefault(part.role, []).append(part.key)
    features = catalogue()
    return tuple(
        _check(role, look, keys)
        for role, keys in by_role.items()
        if role in features
        for look in features[role].look
        if look.stage == "rebuilt"
    )


def _brake_opened(design: Design, plan: StripPlan) -> bool:
    """Was a part of the load brake off or in sight? Its pawls must then be heard again."""
    seen = {*plan.freed, *(key for step in plan.steps for key in step.shows)}
    return any(part.role in BRAKE_ROLES for part in design.parts if part.key in seen)


def _check(role: str, look: Look, keys: list[str]) -> FinalCheck:
    return FinalCheck(
        feature=f"{role}.{look.key}",
        name=look.name,
        question=look.question,
        how=look.how,
        finding=look.finding,
        parts=tuple(keys),
    )
