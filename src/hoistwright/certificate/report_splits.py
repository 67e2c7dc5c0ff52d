"""Wear or overstrain, section by section, as text and as a small picture."""

from __future__ import annotations

import math
from typing import Any

from hoistwright.certificate.split_svg import split_scale, split_svg
from hoistwright.examine.chain_split import COVERAGE, OVERSTRAIN, ChainSplit
from hoistwright.examine.result import Examination
from hoistwright.quantity import Dimension, show_interval


def split_list(examination: Examination) -> list[dict[str, Any]]:
    """One entry for each section whose lengthening was judged."""
    scale = split_scale(examination.splits)
    return [_entry(item, scale, examination) for item in examination.splits]


def _entry(item: ChainSplit, scale: float, examination: Examination) -> dict[str, Any]:
    lengthening = _share(item.elongation, item.elongation_uncertainty)
    wear, stretch = (
        _share(item.wear, item.wear_uncertainty),
        _share(item.stretch, item.stretch_uncertainty),
    )
    name = next((v.part_name for v in examination.verdicts if v.part == item.part), item.part)
    return {
        "title": f"{name}, {item.place}" if item.place else name,
        "kind": item.kind.value,
        "overstrained": item.kind in OVERSTRAIN,
        "elongation": lengthening,
        "wear": wear,
        "stretch": stretch,
        "sentence": item.sentence,
        "picture": split_svg(item, scale),
        "alt": f"{item.place}: lengthening {lengthening}, of it wear {wear}, stretch {stretch}",
    }


def _share(value: float, u: float) -> str:
    if not math.isfinite(value):
        return "not established"
    return show_interval(value, COVERAGE * u, Dimension.RATIO, "%")
