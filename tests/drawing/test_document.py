"""The document on drawn parts names every shape and every line there is."""

import re
from pathlib import Path

from hoistwright.drawing.axes import AXES
from hoistwright.drawing.shapes import SHAPES

DOCUMENT = Path(__file__).parents[2] / "docs" / "drawn-parts.md"


def test_every_shape_and_line_is_named() -> None:
    text = DOCUMENT.read_text(encoding="utf-8")
    shapes, lines = text.split("## Shapes")[1].split("## Lines")
    assert set(re.findall(r"`([^`]+)`", shapes)) == set(SHAPES)
    assert set(re.findall(r"`([^`]+)`", lines.split("## What")[0])) == set(AXES)
