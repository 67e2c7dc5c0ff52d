"""A slip in a design file's drawn data must not stop the drawing."""

from typing import Any

import attrs
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.drawing import exploded
from hoistwright.drawing.axes import AXES
from hoistwright.drawing.shapes import SHAPES
from hoistwright.hoist.library import shipped
from hoistwright.hoist.parts import Drawn
from hoistwright.quantity import Length

SIZES = st.one_of(st.none(), st.sampled_from([-1.0, 0.0, 1e-9, 0.003, 0.08, 0.4, 1e5]).map(Length))
DRAWN = st.builds(
    Drawn,
    shape=st.sampled_from(sorted(SHAPES)),
    axis=st.sampled_from(sorted(AXES)),
    order=st.sampled_from([-5.0, 0.0, 1.0, 3.5, 1e6]),
    outer=SIZES,
    inner=SIZES,
    thickness=SIZES,
    width=SIZES,
    height=SIZES,
    teeth=st.sampled_from([None, -4, 0, 1, 2, 9, 500]),
    flip=st.booleans(),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(DRAWN, min_size=1, max_size=8))
def test_any_sizes_draw(read: Any, found: list[Drawn]) -> None:
    design = shipped("ardle-500")
    parts = tuple(
        attrs.evolve(part, drawn=drawn)
        for part, drawn in zip(design.parts[1:], found, strict=False)
    )
    reading = read(exploded(attrs.evolve(design, parts=parts), lit=[parts[0].key]))
    assert len(reading.parts) == len(parts)
    assert reading.overlapping() == []
