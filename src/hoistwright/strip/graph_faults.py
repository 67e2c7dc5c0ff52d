"""What can be wrong with a take-apart graph: every fault found, each named."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence

from hoistwright.faults import Fault, Place
from hoistwright.hoist.design import Design
from hoistwright.hoist.take_apart import Step
from hoistwright.strip.wording import blanks, known_blanks

WHOLE_HOIST = "hoist"
"""The role of the line that stands for the whole hoist: nothing to take off."""

Found = tuple[str, str, str, str]


def take_apart_faults(design: Design, *, file: str = "") -> list[Fault]:
    """Every fault of the design's take-apart graph: what, where and how to mend it.

    Found are: a name that is not there, a key twice, a cycle (with its path), a step that
    can never be done, a part without a step, two fasteners with one name, a step with a
    time below zero, a group of ways in without a way, an unknown blank in a text.
    """
    return [*step_faults(design, file=file), *parts_without_step(design, file=file)]


def step_faults(design: Design, *, file: str = "") -> list[Fault]:
    """Every fault of the steps themselves: with one of them nothing can be planned."""
    steps = design.take_apart
    found: list[Found] = []
    for check in (_names, _twice, _times, _empty_groups, _cycles, _fasteners, _blanks):
        found.extend(check(steps))
    found.extend(_unknown_parts(design))
    return [Fault(Place(file=file, key=key), *rest) for key, *rest in found]


def parts_without_step(
    design: Design, keys: Collection[str] | None = None, *, file: str = ""
) -> list[Fault]:
    """Parts (of `keys`; None for all) that no step frees and that do not stand outside.

    A design that is not written down whole yet can be planned for its other parts.
    """
    return [Fault(Place(file=file, key=key), *rest) for key, *rest in _without_step(design, keys)]


def _at(step: Step, field: str = "") -> str:
    return f"take_apart[{step.key}]" + (f".{field}" if field else "")


def _names(steps: Sequence[Step]) -> Iterator[Found]:
    known = {step.key for step in steps}
    for step in steps:
        for key in dict.fromkeys(_mentions(step)):
            if key not in known:
                yield _at(step), f"the step {key!r}", "the key of a step in [[take_apart]]", ""


def _mentions(step: Step) -> list[str]:
    return [*step.after, *(key for group in step.after_any for key in group)]


def _twice(steps: Sequence[Step]) -> Iterator[Found]:
    seen: set[str] = set()
    for step in steps:
        if step.key in seen:
            yield _at(step), f"the step key {step.key!r} a second time", "each key once", ""
        seen.add(step.key)


def _times(steps: Sequence[Step]) -> Iterator[Found]:
    for step in steps:
        if not 0 <= step.minutes < 1e9:
            yield _at(step, "minutes"), f"{float(step.minutes):g} s", "a time from 0 up", ""


def _empty_groups(steps: Sequence[Step]) -> Iterator[Found]:
    for step in steps:
        if any(not group for group in step.after_any):
            yield _at(step, "after_any"), "a group without a step", "one step or more", ""


def _cycles(steps: Sequence[Step]) -> Iterator[Found]:
    """Each cycle once, then the steps that only wait for one."""
    stuck = _never_done(steps)
    blame = {key: blocker for key, step in stuck.items() if (blocker := _blocker(step, stuck))}
    on_cycle: set[str] = set()
    for key in blame:
        path = _path_from(key, blame)
        if path and on_cycle.isdisjoint(path):
            on_cycle.update(path)
            way = " → ".join([*path, path[0]])
            yield (
                f"take_apart[{path[0]}]",
                f"a cycle: {way} (each waits for the next)",
                "an order in which something comes off first",
                "Take one 'after' of the cycle away.",
            )
    for key, step in stuck.items():
        if key not in on_cycle and key in blame:
            yield (
                _at(step),
                f"a step that can never be done: it waits for {blame[key]!r}",
                "a step whose conditions can be met",
                "",
            )


def _never_done(steps: Sequence[Step]) -> dict[str, Step]:
    """The steps that can never be done, by key; a name that is not there is no hindrance."""
    known = {step.key for step in steps}
    waiting = {step.key: step for step in steps}
    while True:
        done = known - waiting.keys()
        free = [key for key, step in waiting.items() if not _waits(step, known - done)]
        if not free:
            return waiting
        for key in free:
            del waiting[key]


def _waits(step: Step, undone: set[str]) -> bool:
    return any(key in undone for key in step.after) or any(
        group and all(key in undone for key in group) for group in step.after_any
    )


def _blocker(step: Step, stuck: dict[str, Step]) -> str:
    """A step that is never done either and that `step` cannot do without."""
    for key in step.after:
        if key in stuck:
            return key
    for group in step.after_any:
        if group and all(key in stuck for key in group):
            return group[0]
    return ""


def _path_from(start: str, blame: dict[str, str]) -> list[str]:
    """The cycle that following the blame from `start` runs into, from its first key on."""
    path: list[str] = []
    key = start
    while key not in path:
        path.append(key)
        key = blame[key]
    cycle = path[path.index(key) :]
    first = cycle.index(min(cycle))
    return cycle[first:] + cycle[:first]


def _fasteners(steps: Sequence[Step]) -> Iterator[Found]:
    """One name, one fastener: the same tool, and the same part comes off by it."""
    first: dict[str, Step] = {}
    for step in steps:
        name = " ".join(step.fastener.split()).casefold()
        if not name:
            continue
        other = first.setdefault(name, step)
        clash = _clash(other, step)
        if clash:
            yield (
                _at(step, "fastener"),
                f"two fasteners with one name: {step.fastener!r} also in {other.key!r}, {clash}",
                "a name of its own for each fastener",
                "",
            )


def _clash(one: Step, other: Step) -> str:
    if one is other:
        return ""
    if one.tool != other.tool:
        return f"with another tool ({one.tool!r} and {other.tool!r})"
    return "" if set(one.frees) & set(other.frees) else "where it holds another part"


def _blanks(steps: Sequence[Step]) -> Iterator[Found]:
    fields: dict[str, Callable[[Step], str]] = {
        "name": lambda step: step.name,
        "watch": lambda step: step.watch,
        "why": lambda step: step.why,
        "caution": lambda step: step.caution,
        "refit": lambda step: "\n".join(_refit_texts(step)),
    }
    for step in steps:
        for field, text in fields.items():
            for blank in blanks(text(step)):
                if blank not in known_blanks():
                    expected = "one of: " + ", ".join(known_blanks())
                    yield _at(step, field), f"the blank {{{blank}}}", expected, ""


def _refit_texts(step: Step) -> tuple[str, ...]:
    refit = step.refit
    return (
        refit.name,
        refit.setting,
        refit.marks,
        refit.hold_point,
        refit.why,
        refit.watch,
        refit.caution,
    )


def _unknown_parts(design: Design) -> Iterator[Found]:
    known = {part.key for part in design.parts}
    for step in design.take_apart:
        named = (step.refit.torque_of,) if step.refit.torque_of else ()
        mentioned = (*step.frees, *step.shows, *step.worked_on, *step.consumes, *named)
        for key in dict.fromkeys(mentioned):
            if key not in known:
                yield _at(step), f"the part {key!r}", "the key of a part in [[parts]]", ""


def _without_step(design: Design, keys: Collection[str] | None) -> Iterator[Found]:
    freed = {key for step in design.take_apart for key in step.frees}
    for part in design.parts:
        if keys is not None and part.key not in keys:
            continue
        if part.key not in freed and not part.outside and part.role != WHOLE_HOIST:
            yield (
                f"parts[{part.key}]",
                f"a part without a step: no step frees {part.key!r}",
                "a step that frees it, or outside = true where nothing need be opened for it",
                f'Add a [[take_apart]] entry with frees = ["{part.key}"].',
            )


def no_steps(design: Design, *, file: str = "") -> Fault:
    """What to do about a design that says nothing of taking apart."""
    count = len(design.parts)
    return Fault(
        Place(file=file, key="take_apart"),
        f"no step at all, for {count} parts" if count != 1 else "no step at all, for one part",
        "[[take_apart]] entries: what each step frees, after which steps, side, tool, minutes",
        'A family has those of a usual hoist: like = "hand-chain-single-fall", '
        '"hand-chain-multi-fall" or "lever" in the design file; or copy its steps from there.',
    )
