"""Wear or overstrain of the chain, as pictures with a sentence each."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
from markupsafe import Markup

from hoistwright.certificate.split_svg import split_scale, split_svg
from hoistwright.examine.chain_split import OVERSTRAIN, ChainSplit
from hoistwright.web.pages.job.case import Case


@attrs.frozen(kw_only=True)
class SplitLine:
    """One section: how much longer, and what of it is wear, what stretch."""

    place: str
    sentence: str
    overstrained: bool
    lengthening: str
    wear: str
    stretch: str
    picture: Markup


def split_lines(case: Case, found: Sequence[ChainSplit]) -> tuple[SplitLine, ...]:
    """The splits of all sections, drawn to one scale."""
    scale = split_scale(found)
    return tuple(
        SplitLine(
            place=item.place,
            sentence=case.visit.say(item.sentence),
            overstrained=item.kind in OVERSTRAIN,
            lengthening=_percent(case, item.elongation),
            wear=_percent(case, item.wear),
            stretch=_percent(case, item.stretch),
            picture=Markup(split_svg(item, scale)),  # our own picture: no typed text in it
        )
        for item in found
    )


def _percent(case: Case, share: float) -> str:
    if not math.isfinite(share):
        return case.visit.say("not established")
    return f"{case.visit.language.number(100.0 * share, 2)} %"
