"""The exploded drawing as a picture or a page, for those who cannot use SVG."""

from __future__ import annotations

import datetime
from typing import Any

from hoistwright.certificate.typeset import picture_of, typeset
from hoistwright.drawing import Drawing
from hoistwright.hoist.design import Design

FONT = "Noto Sans"
"""The typeface that papers carry: the drawing must ask for it by name."""
PPI = 200.0


def drawing_png(design: Design, drawing: Drawing, *, day: datetime.date) -> bytes:
    """The drawing as a PNG picture. It must have been drawn with `FONT`."""
    return picture_of("drawing", _data(design, drawing), day=day, ppi=PPI)


def drawing_pdf(design: Design, drawing: Drawing, *, day: datetime.date) -> bytes:
    """The drawing as a PDF of one page. It must have been drawn with `FONT`."""
    return typeset("drawing", _data(design, drawing), day=day)


def _data(design: Design, drawing: Drawing) -> dict[str, Any]:
    identity = design.identity
    return {
        "title": f"Exploded drawing of {identity.maker} {identity.model}",
        "svg": drawing.svg,
        "width": drawing.width,
        "height": drawing.height,
    }
