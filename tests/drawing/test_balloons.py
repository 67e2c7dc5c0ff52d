"""Balloons are readable: never on each other, not on parts, leaders apart."""

from collections.abc import Sequence
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from hoistwright.drawing import STATES, Drawing, State, drawable, drawn
from hoistwright.drawing.page import paged
from hoistwright.drawing.paper import on_paper
from hoistwright.drawing.scene import scene
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys


def test_never_on_each_other(drawing: Drawing, read: Any) -> None:
    assert read(drawing.svg).overlapping() == []


def test_inside_the_page(drawing: Drawing, read: Any) -> None:
    for left, top, right, bottom in read(drawing.svg).boxes().values():
        assert left >= 0
        assert top >= 0
        assert right <= drawing.width
        assert bottom <= drawing.height


def test_leaders_do_not_cross(drawing: Drawing, read: Any) -> None:
    lines = [
        LineString([(x1, y1), (x2, y2)]) for x1, y1, x2, y2 in read(drawing.svg).leaders().values()
    ]
    crossing = [(a, b) for i, a in enumerate(lines) for b in lines[i + 1 :] if a.crosses(b)]
    assert crossing == []


def test_not_on_parts(design: Design, drawing: Drawing, read: Any) -> None:
    """There is room for all on a whole page, so none covers a part (1 mm² for cell rounding)."""
    outlines = [Polygon(o) for _, o in on_paper(paged(scene(design), 277.0, 190.0)).outlines]
    for key, corners in read(drawing.svg).boxes().items():
        covered = sum(outline.intersection(box(*corners)).area for outline in outlines)
        assert covered < 1.0, key


def test_leader_touches_its_own_part(design: Design, drawing: Drawing, read: Any) -> None:
    outlines: dict[str, list[Polygon]] = {}
    for key, outline in on_paper(paged(scene(design), 277.0, 190.0)).outlines:
        outlines.setdefault(key, []).append(Polygon(outline))
    for key, (_, _, x, y) in read(drawing.svg).leaders().items():
        near = min(
            outline.distance(LineString([(x, y), (x, y + 1e-6)])) for outline in outlines[key]
        )
        assert near < 0.3, key


KEYS = {key: [part.key for part in drawable(shipped(key))] for key in shipped_keys()}


@st.composite
def choices(
    draw: st.DrawFn,
) -> tuple[str, list[str], list[str], dict[str, State], tuple[float, float]]:
    key = draw(st.sampled_from(sorted(KEYS)))
    parts = draw(st.lists(st.sampled_from(KEYS[key]), unique=True, max_size=30))
    lit = draw(st.lists(st.sampled_from(parts), unique=True, max_size=4)) if parts else []
    some: Sequence[str] = parts or KEYS[key][:1]
    states = draw(st.dictionaries(st.sampled_from(some), st.sampled_from(STATES), max_size=12))
    size = draw(st.tuples(st.floats(60, 300), st.floats(50, 200)))
    return key, parts, lit, states, size


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(choices())
def test_any_subset_on_any_page(
    read: Any,
    choice: tuple[str, list[str], list[str], dict[str, State], tuple[float, float]],
) -> None:
    """Also on a page too small for its parts: the page grows rather than balloons overlapping."""
    key, parts, lit, states, size = choice
    drawing = drawn(shipped(key), parts=parts, lit=lit, states=states, size=size)
    reading = read(drawing.svg)
    assert reading.overlapping() == []
    assert sorted(g.get("data-part") for g in reading.parts) == sorted(parts)
    assert sorted(reading.balloons) == sorted(parts)
    assert drawing.height >= size[1]
