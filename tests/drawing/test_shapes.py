"""Shapes: right counts, finite, hidden lines hidden."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from hoistwright.drawing.project import HANGING, SHAFT, Frame, Points
from hoistwright.drawing.shapes import SHAPES, Body, paint, turned
from hoistwright.drawing.shapes.body import Prism
from hoistwright.drawing.shapes.outlines import (
    circle,
    hull,
    polygon,
    sawtoothed,
    scalloped,
    spokes,
    toothed,
)

NOWHERE = np.zeros(3)


@pytest.mark.parametrize("name", sorted(SHAPES))
@pytest.mark.parametrize("frame", [SHAFT, HANGING])
@pytest.mark.parametrize("flip", [False, True])
def test_every_shape_draws(name: str, frame: Frame, flip: bool) -> None:
    body = SHAPES[name].make(SHAPES[name].usual)
    paints = paint(turned(body) if flip else body, frame, NOWHERE)
    assert any(item.kind in ("face", "bar") for item in paints)
    assert all(np.isfinite(loop).all() for item in paints for loop in item.loops)
    assert body.length > 0


@given(teeth=st.integers(6, 80), root=st.floats(5, 100))
def test_teeth_can_be_counted(teeth: int, root: float) -> None:
    """As many separate tips stand above the middle radius as there are teeth."""
    for outline in (toothed(teeth, root, root * 1.2), sawtoothed(teeth, root, root * 1.2)):
        above = np.hypot(*outline.T) > root * 1.1
        assert int((above & ~np.roll(above, 1)).sum()) == teeth


@given(pockets=st.integers(3, 16))
def test_pockets_can_be_counted(pockets: int) -> None:
    low = np.hypot(*scalloped(pockets, 40.0, 50.0, steps=12).T) < 43.0
    assert int((low & ~np.roll(low, 1)).sum()) == pockets


@given(radius=st.floats(1, 100), x=st.floats(-50, 50))
def test_hull_keeps_every_point(radius: float, x: float) -> None:
    points = np.vstack([circle(radius, at=(x, 0.0)), [[0.0, 0.0], [x / 2, 0.1]]])
    skin = Polygon(hull(points)).buffer(1e-5)
    assert all(skin.covers(Point(p)) for p in points)


def test_rays_stay_on_the_ring() -> None:
    rays = spokes(40.0, 20.0, 30)
    radii = np.hypot(*np.vstack(rays).T)
    assert len(rays) == 30
    assert radii.max() <= 40.0 + 1e-9
    assert radii.min() >= 20.0 - 1e-9


def _outline_of(items: list[Points]) -> BaseGeometry:
    return unary_union([Polygon(loop).buffer(0) for loop in items])


@pytest.mark.parametrize("sides", [3, 4, 6, 12])
def test_prism_covers_just_its_shadow(sides: int) -> None:
    """Walls and face together fill the convex hull of the projected corners: what an
    independent construction of a convex prism's shadow gives."""
    base = polygon(sides, 30.0)
    body = Body(solids=(Prism(outline=base, low=0.0, high=40.0),), length=40.0)
    items = [item.loops[0] for item in paint(body, SHAFT, NOWHERE) if item.kind != "line"]
    corners = np.vstack([np.column_stack([base, np.full(sides, w)]) for w in (0.0, 40.0)])
    shadow = Polygon(hull(SHAFT.paper(corners)))
    assert _outline_of(items).symmetric_difference(shadow).area < 1e-3 * shadow.area


def test_far_end_of_a_prism_is_hidden() -> None:
    """A line round the far end shows only outside the near face: half of its length."""
    body = Body(solids=(Prism(outline=circle(20.0), low=0.0, high=10.0),), length=10.0)
    items = paint(body, SHAFT, NOWHERE)
    assert [item.kind for item in items] == ["wall", "face"]
    wall = len(items[0].loops[0])
    assert wall / 2 - 1 == pytest.approx(len(circle(20.0)) / 2, abs=1)


def test_coaxial_solids_far_to_near() -> None:
    near, far = (Prism(outline=circle(10.0), low=low, high=low + 5.0) for low in (0.0, 20.0))
    for order in ((near, far), (far, near)):
        items = paint(Body(solids=order, length=25.0), SHAFT, NOWHERE)
        faces = [float(item.loops[0][:, 0].mean()) for item in items if item.kind == "face"]
        assert faces == sorted(faces, reverse=True)


def test_links_interlock() -> None:
    """Of two neighbouring links neither is drawn wholly before the other."""
    body = SHAPES["load chain"].make(SHAPES["load chain"].usual)
    for pair in itertools.pairwise(body.solids):
        alone = [paint(Body(solids=(bar,), length=1.0), HANGING, NOWHERE) for bar in pair]
        owners = [
            next(k for k in (0, 1) for one in alone[k] if np.array_equal(one.loops[0], it.loops[0]))
            for it in paint(Body(solids=pair, length=1.0), HANGING, NOWHERE)
        ]
        changes = sum(a != b for a, b in itertools.pairwise(owners))
        assert changes >= 2
