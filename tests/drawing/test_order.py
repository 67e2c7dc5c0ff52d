"""Stack order along the lines, and what hides what."""

import numpy as np
import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from hoistwright.drawing import Drawing, drawn
from hoistwright.drawing.page import paged
from hoistwright.drawing.paper import on_paper
from hoistwright.drawing.project import SHAFT
from hoistwright.drawing.rows import rows_of
from hoistwright.drawing.scene import body_of, scene
from hoistwright.drawing.shapes.body import Prism
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped


def test_brake_stack_in_working_order() -> None:
    """The load brake's stack from the hand chain wheel inwards (common practice): friction
    disc, ratchet disc, friction disc, hub. The drawing must show it left to right."""
    stack = ["hand_chain_wheel", "friction_disc_outer", "ratchet_disc", "friction_disc_inner"]
    stack.append("disc_hub")
    drawing = drawn(shipped("ardle-2000"), parts=stack, size=(400.0, 120.0))
    shown = [key for name, keys in drawing.order if name.startswith("shaft") for key in keys]
    assert shown == stack


def test_main_line_follows_the_data(design: Design, drawing: Drawing) -> None:
    shown = [key for name, keys in drawing.order if name.startswith("shaft") for key in keys]
    orders = []
    for key in shown:
        data = design.part(key).drawn
        assert data is not None
        orders.append(data.order)
    assert orders == sorted(orders)


def test_stations_never_reach_into_each_other(design: Design) -> None:
    """Between neighbours there is a plane square to the line: so far-to-near drawing is exact."""
    for strand in scene(design).strands:
        ends = [t + s.length for t, s in zip(strand.travels, strand.stations, strict=True)]
        for end, following in zip(ends, strand.travels[1:], strict=False):
            assert following > end


def test_drawn_from_far_to_near(design: Design) -> None:
    """Layers of a row come in falling distance from the viewer."""
    for strand in scene(design).strands:
        toward_viewer = strand.frame.viewer[2]
        place = {
            piece.key: travel * toward_viewer
            for station, travel in zip(strand.stations, strand.travels, strict=True)
            for piece in station.pieces
        }
        for row in rows_of(strand, 3):
            nearness = [place[layer.key] for layer in row.layers if layer.key]
            assert nearness == sorted(nearness)


def test_every_part_is_mostly_seen(design: Design) -> None:
    """No part is hidden: at least half of one piece of it shows (measured with shapely)."""
    shown = on_paper(paged(scene(design), 277.0, 190.0)).outlines
    outlines = [(key, Polygon(points)) for key, points in shown]
    seen: dict[str, float] = {}
    for number, (key, outline) in enumerate(outlines):
        later = unary_union([other for _, other in outlines[number + 1 :]])
        share = outline.difference(later).area / outline.area
        seen[key] = max(seen.get(key, 0.0), share)
    assert min(seen.values()) > 0.5


@pytest.mark.parametrize("way", ["wheel side", "gear side"])
def test_parts_that_come_off_stand_further_away(way: str) -> None:
    """The gap between what comes off and what stays is wider than when both stay."""
    design = shipped("ardle-2000")
    parts = ["ratchet_disc", "friction_disc_inner", "disc_hub"]
    lit, stays = ("ratchet_disc", 0) if way == "wheel side" else ("disc_hub", 1)
    toward = {lit: way}
    plain = scene(design, parts=parts).strands[0].travels
    moved = scene(design, parts=parts, lit=[lit], toward=toward).strands[0].travels  # type: ignore[arg-type]
    gap = stays, stays + 1
    assert moved[gap[1]] - moved[gap[0]] > plain[gap[1]] - plain[gap[0]] + 20.0


def test_arrow_points_the_way_off() -> None:
    design = shipped("ardle-2000")
    for way, sign in (("wheel side", -1), ("gear side", 1)):
        made = scene(design, parts=["load_gear"], lit=["load_gear"], toward={"load_gear": way})  # type: ignore[dict-item]
        piece = made.strands[0].stations[0].pieces[0]
        shaft = next(p for p in piece.paints if p.kind == "arrow").loops[0]
        along = SHAFT.paper(np.array([[0.0, 0.0, 1.0]]))[0]
        assert np.sign((shaft[1] - shaft[0]) @ along) == sign


def test_turned_layshaft_gear_has_its_large_end_at_the_case() -> None:
    """The pinion meshes with the large gear at the case end, the small gear with the load gear
    at the plate (common practice), so the drawn gear is turned: large end further along."""
    design = shipped("ardle-2000")
    body = body_of(design, design.part("layshaft_gear_left"))
    spans = [
        (np.ptp(s.outline, axis=0).max(), s.low, s.high)
        for s in body.solids
        if isinstance(s, Prism)
    ]
    _, low, _ = max(spans)
    assert low > body.length / 2
    assert min(a for _, a, _ in spans) == pytest.approx(0.0)
    assert max(b for _, _, b in spans) == pytest.approx(body.length)
