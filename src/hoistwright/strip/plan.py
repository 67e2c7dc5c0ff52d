"""The strip plan: what to open for a wish, in which order, with what, in how long."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence

import attrs

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side
from hoistwright.hoist.take_apart import Step
from hoistwright.strip.graph import Graph, Purpose, build, build_known
from hoistwright.strip.graph_faults import WHOLE_HOIST, no_steps, parts_without_step
from hoistwright.strip.optimum import cheapest
from hoistwright.strip.sequence import sequence, supports, turned_before
from hoistwright.strip.two_people import Task, in_hand, schedule
from hoistwright.strip.wording import filled, single_tools

STANDING_CAUTIONS = (
    "The maker's manual, local law and the competent person come first.",
    "Work only on a hoist without load, taken down or held so that no part can fall.",
)

NOTHING_TO_OPEN = "Nothing needs to be opened."


@attrs.frozen(kw_only=True)
class Pieces:
    """So many pieces of one line of the parts list."""

    part: str
    name: str
    quantity: int


@attrs.frozen(kw_only=True)
class StripStep:
    """One step of a strip plan. Times in seconds."""

    number: int
    key: str
    name: str
    side: Side
    turn: bool
    """The hoist is turned just before."""
    fastener: str
    tool: str
    seconds: float
    caution: str
    why: str
    watch: str
    frees: tuple[str, ...]
    shows: tuple[str, ...]
    worked_on: tuple[str, ...]
    one_use: tuple[Pieces, ...]
    person: int
    """Who does it when two work: 1 or 2."""
    start: float
    end: float


@attrs.frozen(kw_only=True)
class StripPlan:
    """How to reach the wanted parts. Times in seconds."""

    design: str
    wanted: tuple[str, ...]
    purpose: Purpose
    steps: tuple[StripStep, ...]
    no_opening: tuple[str, ...]
    """Wanted parts for which nothing need be opened."""
    one_use: tuple[Pieces, ...]
    """New ones to have ready before the first step."""
    tools: tuple[str, ...]
    turns: int
    seconds: float
    two_person_seconds: float
    cautions: tuple[str, ...]
    note: str
    people: int = 1
    """For how many the steps are ordered; see `hoistwright.strip.for_two`."""

    @property
    def freed(self) -> tuple[str, ...]:
        """Every part that comes off, in order."""
        return tuple(dict.fromkeys(key for step in self.steps for key in step.frees))

    @property
    def sides(self) -> tuple[Side, ...]:
        """The sides that are opened, in order."""
        return tuple(dict.fromkeys(step.side for step in self.steps))


def strip_to(design: Design, wanted: Iterable[str], *, purpose: Purpose = "take off") -> StripPlan:
    """The cheapest strip after which every wanted part is off (or can be looked at).

    minimise Σ minutes over the step sets that can be done and free every wanted part; between
    equals fewer one-use pieces, fewer sides, fewer steps.

    Args:
        design: the design with its take-apart graph.
        wanted: keys of parts, any number.
        purpose: "take off", or "look at": what stands outside needs no opening then.

    Returns:
        The plan; without steps, and saying so, where nothing need be opened.

    Errors:
        ValueError: a part that the design does not have.
        FaultsError: steps that are not sound, or a wanted part that no step frees. Parts that
            nobody asks for may lack theirs.

    References:
        Order and cost: `strip/optimum.py`, `strip/sequence.py`. The cautions are common
        practice of the trade.

    >>> from hoistwright.hoist.library import shipped
    >>> plan = strip_to(shipped("ardle-2000"), ["pawl_spring"])
    >>> plan.sides, [f"{piece.quantity} {piece.name}" for piece in plan.one_use]
    (('middle', 'wheel side'),
     ['3 cover lock washer', '1 lock nut split pin', '2 pawl retaining ring'])
    >>> strip_to(shipped("ardle-2000"), ["data_plate"]).note
    'Nothing needs to be opened for: data plate.'
    """
    graph = build_known(design)
    keys = _known(design, tuple(dict.fromkeys(wanted)))
    _check_steps(design, keys)
    open_ones = tuple(key for key in keys if _needs_no_opening(design, graph, key, purpose))
    demands = [graph.demand(key, purpose) for key in keys if key not in open_ones]
    order = sequence(graph, cheapest(graph, demands)) if demands else ()
    return _plan(design, graph, order, keys, open_ones, purpose)


def full_strip(design: Design) -> StripPlan:
    """The cheapest strip after which every part is off that any step frees.

    Args:
        design: the design with its take-apart graph.

    Returns:
        The plan, as `strip_to` gives it for all parts.

    Errors:
        FaultsError: a take-apart graph that is not sound, or that lacks a part.

    References:
        As `strip_to`.

    >>> from hoistwright.hoist.library import shipped
    >>> "load_sheave" in full_strip(shipped("ardle-2000")).freed
    True
    """
    if not design.take_apart:
        _check_steps(design, [part.key for part in design.parts])
    graph = build(design)
    return strip_to(design, [part.key for part in design.parts if part.key in graph.frees])


def with_companions(design: Design, parts: Iterable[str]) -> tuple[str, ...]:
    """The parts and all that are renewed together with them, in the order of the parts list."""
    found: set[str] = set()
    todo = list(parts)
    while todo:
        key = todo.pop()
        if key not in found:
            found.add(key)
            todo.extend(design.part(key).renew_with)
    return tuple(part.key for part in design.parts if part.key in found)


def pieces_spent(design: Design, step: Step) -> tuple[Pieces, ...]:
    """The one-use pieces that a step spends."""
    return tuple(
        pieces(design, part.key)
        for part in design.parts
        if part.key in step.consumes or (part.key in step.frees and part.renewal == "always")
    )


def pieces(design: Design, key: str) -> Pieces:
    """A line of the parts list as pieces to have ready."""
    part = design.part(key)
    return Pieces(part=key, name=part.name, quantity=part.quantity)


def _check_steps(design: Design, keys: Sequence[str]) -> None:
    """Refuse parts that no step frees; where there is no step at all, say so once."""
    lacking = parts_without_step(design, keys)
    if lacking and not design.take_apart:
        raise FaultsError([no_steps(design)])
    if lacking:
        raise FaultsError(lacking)


def _known(design: Design, keys: tuple[str, ...]) -> tuple[str, ...]:
    known = [part.key for part in design.parts]
    for key in keys:
        if key not in known:
            near = difflib.get_close_matches(key, known, n=3)
            hint = f"Did you mean {' or '.join(near)}?" if near else "See the parts list."
            raise ValueError(
                f"wanted: {key!r} is no part of {design.key}; expected the key of a part. {hint}"
            )
    return keys


def _needs_no_opening(design: Design, graph: Graph, key: str, purpose: Purpose) -> bool:
    part = design.part(key)
    if part.role == WHOLE_HOIST or not graph.demand(key, purpose):
        return True
    return part.outside and purpose == "look at"


def _plan(
    design: Design,
    graph: Graph,
    order: tuple[int, ...],
    wanted: tuple[str, ...],
    open_ones: tuple[str, ...],
    purpose: Purpose,
) -> StripPlan:
    seconds = {at: float(graph.steps[at].minutes) for at in order}
    sides = {at: graph.steps[at].side for at in order}
    hands = in_hand(graph.steps, order)
    tasks = schedule(order, supports(graph, order), seconds, sides, hands)
    turned = turned_before(graph, order)
    steps = tuple(
        _step(design, graph.steps[at], number, turn=turn, task=tasks[at])
        for number, (at, turn) in enumerate(zip(order, turned, strict=True), start=1)
    )
    return StripPlan(
        design=design.key,
        wanted=wanted,
        purpose=purpose,
        steps=steps,
        no_opening=open_ones,
        one_use=merged_pieces(piece for step in steps for piece in step.one_use),
        tools=single_tools(step.tool for step in steps),
        turns=sum(turned),
        seconds=sum(seconds.values()),
        two_person_seconds=max((task.end for task in tasks.values()), default=0.0),
        cautions=STANDING_CAUTIONS if steps else (),
        note=_note(design, steps, open_ones),
    )


def _step(design: Design, step: Step, number: int, *, turn: bool, task: Task) -> StripStep:
    return StripStep(
        number=number,
        key=step.key,
        name=filled(step.name, design),
        side=step.side,
        turn=turn,
        fastener=step.fastener,
        tool=step.tool,
        seconds=float(step.minutes),
        caution=filled(step.caution, design),
        why=filled(step.why, design),
        watch=filled(step.watch, design),
        frees=step.frees,
        shows=step.shows,
        worked_on=step.worked_on,
        one_use=pieces_spent(design, step),
        person=task.person,
        start=task.start,
        end=task.end,
    )


def merged_pieces(found: Iterable[Pieces]) -> tuple[Pieces, ...]:
    """Each line once: a step spends all pieces of its line, so two mentions are the same."""
    return tuple({piece.part: piece for piece in found}.values())


def _note(design: Design, steps: tuple[StripStep, ...], open_ones: tuple[str, ...]) -> str:
    if not open_ones:
        return "" if steps else NOTHING_TO_OPEN
    names = ", ".join(design.part(key).name for key in open_ones)
    return f"{NOTHING_TO_OPEN[:-1]} for: {names}."
