"""A data plate as typed, held against the designs; and a design file begun from it. Pure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Literal

import attrs

from hoistwright.hoist.design import Design, Kind
from hoistwright.job.hoist_key import tokens

WORN_WIRE, WORN_PITCH = 0.08, 0.035
"""How far a worn chain may read off its nominal size and still be taken for it: wire smaller,
pitch longer. Common practice; generous, for it only sorts suggestions."""

Fit = Literal["same", "near", "other", "not known"]


@attrs.frozen(kw_only=True)
class Plate:
    """What could be read or measured; None and empty where nothing. SI."""

    maker: str = ""
    model: str = ""
    kind: Kind | Literal[""] = ""
    rated_load: float | None = None
    falls: int | None = None
    wire: float | None = None
    pitch: float | None = None
    lift: float | None = None

    @property
    def empty(self) -> bool:
        return self == Plate()


@attrs.frozen(kw_only=True)
class Suggestion:
    """A design with how each figure of the plate fits it."""

    name: str
    design: Design
    fits: dict[str, Fit]

    @property
    def contradicted(self) -> bool:
        return "other" in self.fits.values()

    @property
    def rank(self) -> tuple[int, int, str]:
        words = list(self.fits.values())
        agreed = 2 * words.count("same") + words.count("near")
        return words.count("other"), -agreed, self.name


def suggestions(
    plate: Plate, designs: Iterable[tuple[str, Design]], *, most: int = 6
) -> tuple[Suggestion, ...]:
    """Designs that may be the hoist, the likeliest first.

    A design that one figure speaks against is shown only where no other has its load or its
    chain (a figure may be mistyped); one that two speak against never is.
    """
    if plate.empty:
        return ()
    found = [suggested_one(plate, name, design) for name, design in designs]
    kept = [s for s in found if s.rank[0] <= 1 and s.rank[1] < 0]
    clean = [s for s in kept if not s.contradicted]
    if any(_told_by_figures(s) for s in clean):
        kept = clean
    return tuple(sorted(kept, key=lambda s: s.rank)[:most])


def suggested_one(plate: Plate, name: str, design: Design) -> Suggestion:
    """One design held against the plate, whatever speaks against it."""
    return Suggestion(name=name, design=design, fits=_fits(plate, design))


def _told_by_figures(found: Suggestion) -> bool:
    """Whether load and chain speak for a design, which is more than a name."""
    return "same" in (found.fits.get("rated load"), found.fits.get("wire"))


def _fits(plate: Plate, design: Design) -> dict[str, Fit]:
    identity, rating, chain = design.identity, design.rating, design.load_chain
    pairs: list[tuple[str, Fit]] = [
        ("maker", _words(plate.maker, identity.maker)),
        ("model", _words(plate.model, identity.model)),
        ("kind", _same(plate.kind or None, identity.kind)),
        ("rated load", _close(plate.rated_load, rating.rated_load, 0.01, 0.01)),
        ("falls", _same(plate.falls, rating.falls)),
        ("wire", _close(plate.wire, chain.wire, WORN_WIRE, 0.02)),
        ("pitch", _close(plate.pitch, chain.pitch, 0.01, WORN_PITCH)),
        ("lift", "not known"),
    ]
    return {name: fit for name, fit in pairs if fit != "not known"}


def _words(typed: str, stated: str) -> Fit:
    """Names are often half legible: they speak for a design, never against one."""
    mine, theirs = set(tokens(typed)), set(tokens(stated))
    if not mine or not theirs:
        return "not known"
    if mine >= theirs or mine <= theirs:
        return "same"
    return "near" if mine & theirs else "not known"


def _same(typed: object | None, stated: object | None) -> Fit:
    if typed is None or stated is None:
        return "not known"
    return "same" if typed == stated else "other"


def _close(typed: float | None, stated: float | None, below: float, above: float) -> Fit:
    if typed is None or not stated:
        return "not known"
    off = typed / stated - 1.0
    if abs(off) < 0.005:
        return "same"
    return "near" if -below <= off <= above else "other"


# a design begun

_PARTS = (
    ("top_hook", "top hook", "hook", True, 1),
    ("suspension_pin", "suspension pin", "suspension_pin", False, 1),
    ("bottom_hook", "bottom hook", "hook", True, 1),
    ("load_chain", "load chain", "load_chain", True, 1),
    ("friction_disc", "friction disc", "friction_disc", False, 2),
    ("ratchet_disc", "ratchet disc", "ratchet_disc", False, 1),
    ("pawl", "pawl", "pawl", False, 2),
    ("data_plate", "data plate", "data_plate", True, 1),
    ("hoist", "whole hoist", "hoist", True, 1),
)
"""What every hoist with a screw brake has, whoever made it."""
_OPENED = "Open the hoist as its maker's manual says"
_CAUTION = "No load on the hook; springs may jump. Note the order in which parts come off."


def begun_design(plate: Plate, key: str) -> str:
    """A partial design file with what the plate says. What is not known is not in it."""
    lines = ["format = 1", f"key = {_text(key)}", "", "[identity]"]
    lines += [f"maker = {_text(plate.maker or 'not known')}"]
    lines += [f"model = {_text(plate.model or 'not known')}"]
    lines += [f"kind = {_text(plate.kind or 'hand chain hoist')}"]
    lines += ['note = "Begun at the bench from the plate and a caliper."', "", "[rating]"]
    lines += _figures(("rated_load", plate.rated_load, "kg"), ("lift", plate.lift, "m"))
    lines += [f"falls = {plate.falls}"] if plate.falls else []
    lines += ["", "[load_chain]"]
    lines += _figures(("wire", plate.wire, "m"), ("pitch", plate.pitch, "m"))
    for position in ("top", "bottom"):
        lines += ["", "[[hooks]]", f'part = "{position}_hook"', f'position = "{position}"']
    for part, name, role, outside, quantity in _PARTS:
        lines += ["", "[[parts]]", f'key = "{part}"', f'name = "{name}"', f'role = "{role}"']
        lines += [f"quantity = {quantity}"] if quantity > 1 else []
        lines += ["outside = true"] if outside else []
    inside = ", ".join(f'"{part}"' for part, _, _, outside, _ in _PARTS if not outside)
    lines += ["", "[[take_apart]]", 'key = "opened"', f"name = {_text(_OPENED)}"]
    lines += [f"frees = [{inside}]", 'minutes = "30 min"', f"caution = {_text(_CAUTION)}"]
    return "\n".join(lines) + "\n"


def _figures(*figures: tuple[str, float | None, str]) -> Iterator[str]:
    for key, value, unit in figures:
        if value is not None and unit == "m" and value < 1:
            yield f'{key} = "{round(value * 1000, 9):.10g} mm"'
        elif value is not None:
            yield f'{key} = "{value:.10g} {unit}"'


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "")
