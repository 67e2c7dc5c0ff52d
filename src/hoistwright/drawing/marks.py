"""Balloons, leaders and signs as SVG elements."""

from __future__ import annotations

import math

from hoistwright.drawing.balloons import RADIUS, SIGN, Balloon
from hoistwright.drawing.signs import SIGNS, State
from hoistwright.drawing.svg import EDGE, TEXT, number, tag, text

JOIN = 4.4
"""Side of the square round a joining letter, in millimetres."""


def balloon_elements(balloon: Balloon, state: State | None) -> list[str]:
    """Leader with a dot on the part, circle with the number, and the state's sign beside it."""
    (x, y), (fx, fy) = balloon.centre, balloon.foot
    far = max(math.hypot(fx - x, fy - y), 1e-9)
    sx, sy = x + (fx - x) * RADIUS / far, y + (fy - y) * RADIUS / far
    leader = f"M{number(sx)} {number(sy)}L{number(fx)} {number(fy)}"
    inside = [
        tag("path", {"class": "leader", "d": leader, "stroke-width": "0.15"}),
        tag(
            "circle",
            {"cx": number(fx), "cy": number(fy), "r": "0.4", "fill": "#000", "stroke": "none"},
        ),
        tag("circle", {"cx": number(x), "cy": number(y), "r": number(RADIUS)}),
        number_text(balloon.text, x, y),
    ]
    if state:
        inside.extend(_backed(state, x + RADIUS + SIGN / 2 + 0.1, y))
    attributes = {"class": "balloon", "data-balloon": balloon.key, "aria-hidden": "true"}
    return [tag("g", attributes, *inside)]


def _backed(state: State, x: float, y: float) -> list[str]:
    """The sign on a white ground, so that no line runs through it."""
    ground = {
        "x": number(x - SIGN / 2 + 0.2),
        "y": number(y - SIGN / 2),
        "width": number(SIGN - 0.2),
        "height": number(SIGN),
        "stroke": "none",
    }
    return [tag("rect", ground), sign(state, x, y)]


def join_elements(letter: str, x: float, y: float) -> str:
    """A letter in a square: the line goes on at the other square with this letter."""
    half = JOIN / 2
    square = {
        "x": number(x - half),
        "y": number(y - half),
        "width": number(JOIN),
        "height": number(JOIN),
        "stroke-width": "0.15",
    }
    attributes = {"class": "join", "aria-hidden": "true"}
    return tag("g", attributes, tag("rect", square), number_text(letter, x, y))


def number_text(value: str, x: float, y: float) -> str:
    return tag(
        "text",
        {
            "x": number(x),
            "y": number(y + TEXT * 0.36),
            "text-anchor": "middle",
            "fill": "#000",
            "stroke": "none",
        },
        text(value),
    )


def sign(state: str, x: float, y: float) -> str:
    """The state's sign about (x, y)."""
    return tag(
        "path",
        {
            "class": "sign",
            "d": SIGNS[state],
            "transform": f"translate({number(x)} {number(y)})",
            "fill": "none",
            "stroke-width": number(EDGE * 1.9),
            "stroke-linecap": "round",
        },
    )
