"""The exploded drawing of a design as SVG text."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import attrs
import numpy as np

from hoistwright.drawing.balloons import Balloon, Wanted, balloons
from hoistwright.drawing.ground import ground
from hoistwright.drawing.legend import LEGEND_HEIGHT, legend, list_height, list_table
from hoistwright.drawing.marks import balloon_elements, join_elements
from hoistwright.drawing.page import paged
from hoistwright.drawing.paper import PaperLayer, on_paper
from hoistwright.drawing.parts_list import PartsLine, parts_list
from hoistwright.drawing.scene import scene
from hoistwright.drawing.shapes import Paint
from hoistwright.drawing.signs import HATCHES, LIT_WORDS, STATES, Move, State
from hoistwright.drawing.svg import (
    AXIS,
    BOLD,
    EDGE,
    TEXT,
    hatch_definitions,
    hatch_id,
    number,
    painted,
    tag,
    text,
)
from hoistwright.hoist.design import Design
from hoistwright.hoist.parts import Side

A4_LANDSCAPE = (277.0, 190.0)
"""Millimetres inside the margins."""
SMALLEST = 40.0


@attrs.frozen(kw_only=True)
class Drawing:
    """An exploded drawing: its SVG text, its parts list, and where things stand on the page."""

    svg: str
    lines: tuple[PartsLine, ...]
    balloons: tuple[Balloon, ...]
    order: tuple[tuple[str, tuple[str, ...]], ...]
    """For each row or line on the page: its name and its parts in stack order."""
    width: float
    height: float
    scale: float


def exploded(
    design: Design,
    *,
    parts: Collection[str] | None = None,
    lit: Collection[str] = (),
    states: Mapping[str, State] | None = None,
    toward: Mapping[str, Side] | None = None,
    move: Move = "off",
    lit_words: str = "",
    with_legend: bool = True,
    size: tuple[float, float] = A4_LANDSCAPE,
    with_list: bool = False,
    prefix: str = "drawing",
    font: str = "sans-serif",
    focusable: bool = False,
) -> str:
    """The exploded drawing as SVG text; see `drawn` for the arguments."""
    return drawn(
        design,
        parts=parts,
        lit=lit,
        states=states,
        toward=toward,
        move=move,
        lit_words=lit_words,
        with_legend=with_legend,
        size=size,
        with_list=with_list,
        prefix=prefix,
        font=font,
        focusable=focusable,
    ).svg


def drawn(
    design: Design,
    *,
    parts: Collection[str] | None = None,
    lit: Collection[str] = (),
    states: Mapping[str, State] | None = None,
    toward: Mapping[str, Side] | None = None,
    move: Move = "off",
    lit_words: str = "",
    with_legend: bool = True,
    size: tuple[float, float] = A4_LANDSCAPE,
    with_list: bool = False,
    prefix: str = "drawing",
    font: str = "sans-serif",
    focusable: bool = False,
) -> Drawing:
    """Draw the parts of `design` exploded along their axes.

    Args:
        design: any design, complete or not; parts without drawn data get a simple shape.
        parts: keys of the parts to show; None for all.
        lit: keys of the parts the drawing is about: bold, hatched, with an arrow along their axis.
        states: state of each examined part, shown by sign and hatch.
        toward: the side to which lit parts come off, where it is not their own side.
        move: what lit parts do: come "off" (arrows lead away from the hoist), go "on" (arrows
            lead to it), or "none" (marked, without arrows).
        lit_words: what the legend says of lit parts; empty for the usual words of `move`.
        with_legend: whether a line under the drawing explains signs and hatches.
        size: width and height in millimetres. The page grows downwards if balloons, legend
            or list need it.
        with_list: whether the parts list stands below the drawing.
        prefix: begins every id, for several drawings on one page.
        font: font families for numbers and words.
        focusable: whether every part takes keyboard focus (for a page where it is a menu).

    Raises:
        ValueError: for a key that is no part, a state that is none, or a page under 40 mm.
    """
    states = states or {}
    _check(states, size)
    placed = scene(design, parts=parts, lit=lit, toward=toward, move=move)
    shown = set(parts) | set(lit) if parts is not None else None
    lines = parts_list(design, shown)
    notes = _notes(lines, lit, states)
    told = bool(notes) and with_legend
    foot = LEGEND_HEIGHT if told else 0.0
    page = paged(placed, size[0], size[1] - foot)
    paper = on_paper(page)
    numbers = {line.key: k for k, line in enumerate(lines)}
    covered = ground(
        size[0],
        size[1] - foot,
        [(numbers[key], shape) for key, shape in paper.outlines],
        paper.kept,
    )
    ink = paper.ink()
    wanted = [
        Wanted(line.key, str(line.number), k, ink[line.key], line.key in states)
        for k, line in enumerate(lines)
    ]
    marks, height = balloons(wanted, covered)
    style = _Style(
        lit=frozenset(lit),
        lit_words=lit_words or LIT_WORDS[move],
        states=states,
        prefix=prefix,
        font=font,
        focusable=focusable,
    )
    body = [
        *_drawn_layers(paper.layers, lines, page.scale, style),
        *(join_elements(letter, float(at[0]), float(at[1])) for letter, at in paper.joins),
        *(piece for mark in marks for piece in balloon_elements(mark, states.get(mark.key))),
    ]
    if told:
        body.append(legend(notes, prefix, top=height, lit_words=style.lit_words))
        height += foot
    if with_list:
        body.append(list_table(lines, size[0], top=height + 2.0))
        height += list_height(lines, size[0]) + 2.0
    order = tuple(
        (spot.block.name, tuple(key for _, keys in spot.block.stations for key in keys))
        for spot in page.placed
    )
    return Drawing(
        svg=_document(design, body, lines, notes, (size[0], height), style),
        lines=lines,
        balloons=tuple(marks),
        order=order,
        width=size[0],
        height=height,
        scale=page.scale,
    )


@attrs.frozen(kw_only=True)
class _Style:
    lit: frozenset[str]
    lit_words: str
    states: Mapping[str, State]
    prefix: str
    font: str
    focusable: bool

    def fill(self, key: str) -> str:
        """The hatch of a part's faces: its state's, else that of a lit part."""
        state = self.states.get(key)
        name = state if state in HATCHES else ("lit" if key in self.lit else None)
        return f"url(#{hatch_id(self.prefix, name)})" if name else ""


def _check(states: Mapping[str, State], size: tuple[float, float]) -> None:
    wrong = sorted({str(state) for state in states.values()} - set(STATES))
    if wrong:
        raise ValueError(f"no state {', '.join(map(repr, wrong))}; states are: {', '.join(STATES)}")
    if min(size) < SMALLEST:
        raise ValueError(
            f"a page of {size[0]:g} by {size[1]:g} mm; both sides must be {SMALLEST:g} mm or more"
        )


def _notes(
    lines: tuple[PartsLine, ...], lit: Collection[str], states: Mapping[str, State]
) -> tuple[str, ...]:
    """What the legend must explain, in fixed order."""
    keys = {line.key for line in lines}
    used = {state for key, state in states.items() if key in keys}
    found = [state for state in STATES if state in used]
    return (*found, *(["lit"] if keys & set(lit) else []))


def _drawn_layers(
    layers: Sequence[PaperLayer], lines: tuple[PartsLine, ...], scale: float, style: _Style
) -> list[str]:
    by_key = {line.key: line for line in lines}
    out = []
    for layer in layers:
        if layer.key:
            out.append(_part_group(by_key[layer.key], layer.paints, scale, style))
        else:
            out.append(_axis_group(layer.paints, scale))
    return out


def _axis_group(paints: Sequence[Paint], scale: float) -> str:
    attributes = {
        "class": "axes",
        "fill": "none",
        "stroke-width": number(AXIS),
        "stroke-dasharray": "4 0.9 0.7 0.9",
    }
    return tag("g", attributes, *painted(paints, scale))


def _part_group(line: PartsLine, paints: Sequence[Paint], scale: float, style: _Style) -> str:
    state = style.states.get(line.key)
    lit = line.key in style.lit
    classes = ["part", *(["lit"] if lit else [])]
    classes += [f"state-{state.replace(' ', '-')}"] if state else []
    words = f"{line.number} {line.name}"
    words += f", {line.quantity} off" if line.quantity > 1 else ""
    words += f", {state}" if state else ""
    words += f", {style.lit_words}" if lit else ""
    attributes = {
        "id": f"{style.prefix}-part-{line.key}",
        "class": " ".join(classes),
        "data-part": line.key,
        "role": "img",
        "aria-label": words,
        "stroke-width": number(_bold(paints) if lit else EDGE),
    }
    if style.focusable:
        attributes["tabindex"] = "0"
    inside = painted(paints, scale, fill=style.fill(line.key))
    return tag("g", attributes, tag("title", {}, text(words)), *inside)


def _bold(paints: Sequence[Paint]) -> float:
    """Line width of a lit part: less on a small part, which would become a blot."""
    faces = [np.ptp(loop, axis=0).min() for p in paints if p.kind == "face" for loop in p.loops[:1]]
    return float(np.clip(max(faces, default=10.0) * 0.045, 0.3, BOLD))


def _document(
    design: Design,
    body: list[str],
    lines: tuple[PartsLine, ...],
    notes: tuple[str, ...],
    size: tuple[float, float],
    style: _Style,
) -> str:
    width, height = number(size[0]), number(size[1])
    title = f"Exploded drawing of {design.identity.maker} {design.identity.model}"
    some = "part" if len(lines) == 1 else "parts"
    about = f"{len(lines)} {some} drawn apart along their axes, in the order they come off."
    head = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {width} {height}",
        "width": f"{width}mm",
        "height": f"{height}mm",
        "role": "group",
        "aria-labelledby": f"{style.prefix}-title {style.prefix}-desc",
        "fill": "#fff",
        "stroke": "#000",
        "stroke-width": number(EDGE),
        "stroke-linejoin": "round",
        "font-family": style.font,
        "font-size": number(TEXT),
    }
    hatches = [note for note in notes if note in HATCHES]
    sheet = {"width": width, "height": height, "stroke": "none"}
    return (
        tag(
            "svg",
            head,
            tag("title", {"id": f"{style.prefix}-title"}, text(title)),
            tag("desc", {"id": f"{style.prefix}-desc"}, text(about)),
            hatch_definitions(style.prefix, hatches),
            tag("rect", sheet),
            "\n" + "\n".join(body) + "\n",
        )
        + "\n"
    )
