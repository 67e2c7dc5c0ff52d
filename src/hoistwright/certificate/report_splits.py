"""Wear or overstrain, section by section, as text and as a small picture."""

from __future__ import annotations

from typing import Any

from hoistwright.certificate.split_svg import split_scale, split_svg
from hoistwright.certificate.writer import Writer
from hoistwright.examine.chain_split import COVERAGE, OVERSTRAIN, ChainSplit
from hoistwright.examine.result import Examination
from hoistwright.quantity import Dimension


def split_list(examination: Examination, w: Writer) -> list[dict[str, Any]]:
    """One entry for each section whose lengthening was judged."""
    scale = split_scale(examination.splits)
    return [_entry(item, scale, examination, w) for item in examination.splits]


def _entry(item: ChainSplit, scale: float, examination: Examination, w: Writer) -> dict[str, Any]:
    lengthening = _share(item.elongation, item.elongation_uncertainty, w)
    wear = _share(item.wear, item.wear_uncertainty, w)
    stretch = _share(item.stretch, item.stretch_uncertainty, w)
    name = next((v.part_name for v in examination.verdicts if v.part == item.part), item.part)
    return {
        "title": w.sentence(f"{name}, {item.place}" if item.place else name),
        "kind": w.say(item.kind.value),
        "overstrained": item.kind in OVERSTRAIN,
        "elongation": lengthening,
        "wear": wear,
        "stretch": stretch,
        "sentence": w.sentence(item.sentence),
        "picture": split_svg(item, scale),
        "alt": w.say(
            "%(place)s: lengthening %(whole)s, of it wear %(wear)s, stretch %(stretch)s",
            place=w.sentence(item.place), whole=lengthening, wear=wear, stretch=stretch,
        ),
    }  # fmt: skip


def _share(value: float, u: float, w: Writer) -> str:
    return w.interval(value, COVERAGE * u, Dimension.RATIO)
