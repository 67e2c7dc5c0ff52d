"""Do the names inside a design agree: every part, role, feature and step that is mentioned?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

from hoistwright.faults import Fault, Place
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import catalogue, is_measured
from hoistwright.hoist.limit_faults import limit_faults

FORMAT = 1


def reference_faults(design: Design, *, file: str = "") -> list[Fault]:
    """Every mention of something that is not there, and every key that stands twice."""
    found = [
        *_format(design),
        *_twice("parts", (part.key for part in design.parts)),
        *_twice("take_apart", (step.key for step in design.take_apart)),
        *_unknown_parts(design),
        *_unknown_roles(design),
        *_unknown_features(design),
        *_unknown_steps(design),
        *limit_faults(design),
    ]
    return [Fault(Place(file=file, key=key), read, expected) for key, read, expected in found]


Found = tuple[str, str, str]


class _OfAPart(Protocol):
    @property
    def part(self) -> str: ...


def _format(design: Design) -> Iterator[Found]:
    if design.format != FORMAT:
        yield "format", str(design.format), f"{FORMAT}, the format this version reads"


def _twice(name: str, keys: Iterable[str]) -> Iterator[Found]:
    seen: set[str] = set()
    for key in keys:
        if key in seen:
            yield f"{name}[{key}]", f"the key {key!r} a second time", "each key once"
        seen.add(key)


def _unknown_parts(design: Design) -> Iterator[Found]:
    known = {part.key for part in design.parts}
    for where, key in _part_mentions(design):
        if key not in known:
            yield where, f"the part {key!r}", "the key of a part in [[parts]]"


def _part_mentions(design: Design) -> Iterator[tuple[str, str]]:
    lists: dict[str, tuple[_OfAPart, ...]] = {
        "idle_sheaves": design.idle_sheaves,
        "hooks": design.hooks,
        "pins": design.pins,
        "stay_bolts": design.stay_bolts,
        "springs": design.springs,
        "bearings": design.bearings,
        "lubrication": design.lubrication,
    }
    for name, entries in lists.items():
        for entry in entries:
            yield f"{name}[{entry.part}].part", entry.part
    for part in design.parts:
        for other in part.renew_with:
            yield f"parts[{part.key}].renew_with", other
    for step in design.take_apart:
        for other in (*step.frees, *step.shows, *step.consumes):
            yield f"take_apart[{step.key}]", other
    for limit in design.maker_limits:
        if limit.part:
            yield f"maker_limits[{limit.feature}].part", limit.part


def _unknown_roles(design: Design) -> Iterator[Found]:
    roles = catalogue()
    for part in design.parts:
        if part.role and part.role not in roles:
            yield f"parts[{part.key}].role", repr(part.role), "one of: " + ", ".join(roles)


def _unknown_features(design: Design) -> Iterator[Found]:
    for limit in design.maker_limits:
        key = f"maker_limits[{limit.feature}]"
        try:
            measured = is_measured(limit.feature)
        except KeyError:
            yield f"{key}.feature", repr(limit.feature), "a feature as role.key of the catalogue"
            continue
        if measured == (limit.comparison == "in order"):
            kind = "a measured feature" if measured else "a look"
            yield (
                f"{key}.comparison",
                f"{limit.comparison!r} on {kind}",
                "a comparison that fits it",
            )


def _unknown_steps(design: Design) -> Iterator[Found]:
    known = {step.key for step in design.take_apart}
    for step in design.take_apart:
        groups = [name for group in step.after_any for name in group]
        for other in (*step.after, *groups):
            if other not in known:
                yield f"take_apart[{step.key}]", f"the step {other!r}", "the key of a step"
