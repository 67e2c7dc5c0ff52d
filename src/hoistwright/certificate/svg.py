"""The few words of SVG that the small pictures of a page need. Same input, same text."""

from __future__ import annotations

from collections.abc import Iterable

INK = "#1a1a1a"
GREY = "#8a8a8a"
PALE = "#d9d9d9"


def figure(value: float) -> str:
    """A coordinate with at most two decimals and no trailing zeros.

    >>> figure(12.0), figure(3.14159), figure(-0.001)
    ('12', '3.14', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def picture(width: float, height: float, parts: Iterable[str]) -> str:
    """A whole SVG document around its parts."""
    size = f"{figure(width)} {figure(height)}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" '
        f'width="{figure(width)}" height="{figure(height)}" fill="none" '
        f'stroke-linecap="butt">{"".join(parts)}</svg>'
    )


def line(x1: float, y1: float, x2: float, y2: float, *, width: float = 1.0, ink: str = INK) -> str:
    return stroke(f"M{_at(x1, y1)}L{_at(x2, y2)}", width=width, ink=ink)


def stroke(path: str, *, width: float = 1.0, ink: str = INK, dash: str = "") -> str:
    """An open path that is drawn, not filled."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{path}" stroke="{ink}" stroke-width="{figure(width)}"{dashed}/>'


def shape(points: Iterable[tuple[float, float]], *, fill: str = INK, ink: str = "none") -> str:
    """A closed polygon."""
    path = "L".join(_at(x, y) for x, y in points)
    return f'<path d="M{path}Z" fill="{fill}" stroke="{ink}" stroke-width="0.8"/>'


def box(x: float, y: float, width: float, height: float, *, fill: str, ink: str = "none") -> str:
    return shape([(x, y), (x + width, y), (x + width, y + height), (x, y + height)],
                 fill=fill, ink=ink)  # fmt: skip


def ring(x: float, y: float, radius: float, *, ink: str = INK) -> str:
    centre = f'cx="{figure(x)}" cy="{figure(y)}" r="{figure(radius)}"'
    return f'<circle {centre} fill="#fff" stroke="{ink}" stroke-width="0.9"/>'


def hatch(x: float, y: float, width: float, height: float, *, step: float, ink: str = INK) -> str:
    """Lines at 45 degrees across a box, each cut off at its edges. Empty for an empty box."""
    if width <= 0.0 or height <= 0.0:
        return ""
    lines = []
    for number in range(1, int((width + height) / step) + 1):
        run = number * step  # the line x + y = run, seen from the box's lower left corner
        x1, y1 = max(0.0, run - height), min(run, height)
        x2, y2 = min(run, width), max(0.0, run - width)
        if x2 > x1:
            lines.append(f"M{_at(x + x1, y + y1)}L{_at(x + x2, y + y2)}")
    return stroke("".join(lines), width=0.6, ink=ink) if lines else ""


def _at(x: float, y: float) -> str:
    return f"{figure(x)} {figure(y)}"
