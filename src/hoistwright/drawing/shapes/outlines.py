"""Flat outlines (n, 2) that shapes are drawn out from. Lengths in millimetres."""

from __future__ import annotations

import math

import numpy as np

from hoistwright.drawing.project import Points


def circle(radius: float, *, at: tuple[float, float] = (0.0, 0.0), steps: int = 0) -> Points:
    """A circle as a polygon, finer where it is larger; never smaller than can be drawn."""
    radius = max(radius, 0.2)
    count = steps or int(min(64, max(16, 6 * math.sqrt(radius))))
    angle = np.arange(count) * (2 * math.pi / count) + math.pi / count
    return np.column_stack([at[0] + radius * np.cos(angle), at[1] + radius * np.sin(angle)])


def polygon(sides: int, across_flats: float) -> Points:
    """A regular polygon by its width across flats (hexagon of a nut)."""
    angle = np.arange(sides) * (2 * math.pi / sides) + math.pi / sides
    radius = across_flats / 2 / math.cos(math.pi / sides)
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])


def polar(radii: Points, angles: Points) -> Points:
    """Points from radius and angle."""
    return np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])


def moved(points: Points, x: float, y: float) -> Points:
    """The points shifted."""
    out: Points = points + np.array([x, y])
    return out


def toothed(teeth: int, root: float, tip: float) -> Points:
    """A spur gear's outline: straight-sided teeth, enough to be known as a gear."""
    pitch = 2 * math.pi / teeth
    offsets = np.array([-0.30, -0.14, 0.14, 0.30]) * pitch
    radii = np.array([root, tip, tip, root])
    angles = (np.arange(teeth)[:, None] * pitch + offsets[None, :]).ravel()
    return polar(np.tile(radii, teeth), angles)


def sawtoothed(teeth: int, root: float, tip: float) -> Points:
    """A ratchet's outline: a steep face that the pawl holds and a long back."""
    pitch = 2 * math.pi / teeth
    offsets = np.array([0.0, 0.06, 0.55, 0.80]) * pitch
    radii = np.array([root, tip, root + 0.45 * (tip - root), root])
    angles = (np.arange(teeth)[:, None] * pitch + offsets[None, :]).ravel()
    return polar(np.tile(radii, teeth), angles)


def scalloped(lobes: int, low: float, high: float, *, steps: int = 10) -> Points:
    """A pocket wheel's flange: a wave with one hollow per pocket."""
    angle = np.linspace(0, 2 * math.pi, lobes * steps, endpoint=False)
    wave: Points = np.sqrt(np.abs(np.cos(angle * lobes / 2)))
    return polar(low + (high - low) * wave, angle)


def splined(teeth: int, root: float, tip: float) -> Points:
    """A splined bore or shaft."""
    return toothed(teeth, root, tip)


def rectangle(width: float, height: float, *, corner: float = 0.0) -> Points:
    """A rectangle about the origin, its corners rounded."""
    a, b = width / 2, height / 2
    if corner <= 0:
        return np.array([[a, -b], [a, b], [-a, b], [-a, -b]])
    c = min(corner, a, b)
    turn = np.linspace(0, math.pi / 2, 6)
    parts = [
        np.column_stack([sx + c * np.cos(turn + k), sy + c * np.sin(turn + k)])
        for k, (sx, sy) in (
            (-math.pi / 2, (a - c, -b + c)),
            (0.0, (a - c, b - c)),
            (math.pi / 2, (-a + c, b - c)),
            (math.pi, (-a + c, -b + c)),
        )
    ]
    return np.vstack(parts)


def hull(points: Points) -> Points:
    """Convex hull, counter-clockwise (Andrew's monotone chain; from memory)."""
    order = sorted({(float(x), float(y)) for x, y in np.round(points, 6)})
    if len(order) < 3:
        return np.array(order)

    def half(walk: list[tuple[float, float]]) -> list[tuple[float, float]]:
        out: list[tuple[float, float]] = []
        for x, y in walk:
            while len(out) > 1 and (out[-1][0] - out[-2][0]) * (y - out[-2][1]) <= (
                out[-1][1] - out[-2][1]
            ) * (x - out[-2][0]):
                out.pop()
            out.append((x, y))
        return out

    return np.array(half(order)[:-1] + half(order[::-1])[:-1])


def lobed(centres: list[tuple[float, float, float]]) -> Points:
    """The skin round circles given as (x, y, radius): plates and covers."""
    return hull(np.vstack([circle(r, at=(x, y), steps=36) for x, y, r in centres]))


def open_ring(outer: float, inner: float, *, gap: float = 0.5, lugs: bool = True) -> Points:
    """A retaining ring: open at the top, with two lugs."""
    start = math.pi / 2 + gap / 2
    angle = np.linspace(start, start + 2 * math.pi - gap, 40)
    lug = outer + 0.35 * (outer - inner) if lugs else outer
    rim = np.full(40, outer)
    rim[[0, 1, -2, -1]] = lug
    return np.vstack([polar(rim, angle), polar(np.full(40, inner), angle[::-1])])


def ribbon(path: Points, widths: Points) -> Points:
    """The outline of a band of varying width along a centre line (hooks, levers)."""
    step = np.gradient(path, axis=0)
    normal = np.column_stack([-step[:, 1], step[:, 0]])
    normal /= np.maximum(np.hypot(normal[:, 0], normal[:, 1]), 1e-9)[:, None]
    side = normal * (widths / 2)[:, None]
    return np.vstack([path + side, (path - side)[::-1]])


def spokes(outer: float, inner: float, count: int) -> tuple[Points, ...]:
    """Short radial lines round a ring's face."""
    turn = np.arange(count) * (2 * math.pi / count)
    ways = np.column_stack([np.cos(turn), np.sin(turn)])
    return tuple(np.array([inner * way, outer * way]) for way in ways)
