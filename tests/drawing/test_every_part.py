"""Nothing is missing from a drawing and nothing stands twice."""

from collections import Counter
from typing import Any

import attrs
import pytest

from hoistwright.drawing import Drawing, drawn, exploded, parts_list
from hoistwright.drawing.axes import AXES
from hoistwright.drawing.shapes import SHAPES
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped
from hoistwright.hoist.parts import Drawn


def _keys(design: Design) -> set[str]:
    return {part.key for part in design.parts if part.role != "hoist"}


def test_each_part_once(design: Design, drawing: Drawing, read: Any) -> None:
    count = Counter(group.get("data-part") for group in read(drawing.svg).parts)
    assert set(count) == _keys(design)
    assert set(count.values()) == {1}


def test_each_part_has_a_balloon_with_its_number(
    design: Design, drawing: Drawing, read: Any
) -> None:
    shown = {key: "".join(group.itertext()) for key, group in read(drawing.svg).balloons.items()}
    assert shown == {line.key: str(line.number) for line in parts_list(design)}


def test_shipped_parts_are_all_placed_by_data(design: Design) -> None:
    """No shipped part relies on a guess: each has a known shape on a known line."""
    for part in design.parts:
        if part.role == "hoist":
            continue
        assert part.drawn is not None, part.key
        assert part.drawn.shape in SHAPES, part.key
        assert part.drawn.axis in AXES, part.key


def test_pieces_drawn_as_many_as_the_places_allow(design: Design, drawing: Drawing) -> None:
    """Three cover nuts are drawn as three: each piece has a face of its own."""
    nuts = next(g for g in drawing.svg.split("\n") if 'data-part="cover_nut"' in g)
    assert nuts.count("evenodd") == design.part("cover_nut").quantity == 3


def test_design_without_drawn_data_is_complete(bare: Design, read: Any) -> None:
    reading = read(exploded(bare))
    assert {group.get("data-part") for group in reading.parts} == _keys(bare)
    assert reading.overlapping() == []


def test_unknown_shape_and_line_still_drawn(read: Any) -> None:
    design = shipped("ardle-500")
    odd = Drawn(shape="no such shape", axis="no such line")
    parts = tuple(attrs.evolve(p, drawn=odd) if p.key == "stripper" else p for p in design.parts)
    reading = read(exploded(attrs.evolve(design, parts=parts)))
    assert {group.get("data-part") for group in reading.parts} == _keys(design)


def test_subset_keeps_numbers(design: Design) -> None:
    whole = {line.key: line.number for line in parts_list(design)}
    some = drawn(design, parts=["ratchet_disc", "pawl", "disc_hub"])
    assert {line.key: line.number for line in some.lines} == {
        key: whole[key] for key in ("ratchet_disc", "pawl", "disc_hub")
    }


def test_no_part_at_all(read: Any) -> None:
    design = shipped("ardle-500")
    assert read(exploded(design, parts=[])).parts == []
    assert read(exploded(attrs.evolve(design, parts=()))).parts == []


def test_unknown_key_is_named() -> None:
    with pytest.raises(ValueError, match=r"no part of 'ardle-500' has the key 'pall'"):
        exploded(shipped("ardle-500"), parts=["pall", "pawl"])


def test_parts_list_as_table(read: Any) -> None:
    design = shipped("ardle-500")
    drawing = drawn(design, parts=["pawl", "pawl_spring"], with_list=True)
    words = "".join(read(drawing.svg).root.itertext())
    assert "pawl spring" in words
    assert "2×" in words
    assert drawing.height > 190.0
