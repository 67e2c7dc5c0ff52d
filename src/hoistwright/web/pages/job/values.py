"""Figures of readings as they are shown."""

from __future__ import annotations

import re

from hoistwright.hoist.feature import measure
from hoistwright.job.events import ReadingEntered
from hoistwright.quantity import Dimension, in_unit
from hoistwright.web.pages.job.case import Case

_DIMENSIONS = {
    "length": Dimension.LENGTH,
    "angle": Dimension.ANGLE,
    "force": Dimension.FORCE,
    "number": Dimension.NUMBER,
}


def values_text(case: Case, body: ReadingEntered) -> str:
    """All repeats in the unit they were typed in: "12.10; 12.14 mm"."""
    return f"{'; '.join(figures(case, body))} {body.unit}".strip()


def figures(case: Case, body: ReadingEntered) -> tuple[str, ...]:
    """Each repeat as a figure in the unit it was typed in, without float dust."""
    try:
        dimension = _DIMENSIONS[measure(body.feature).dimension]
    except KeyError:
        return tuple(f"{value:g}" for value in body.values)
    mark = case.visit.language.decimal
    return tuple(
        f"{in_unit(value, dimension, body.unit):.8g}".replace(".", mark) for value in body.values
    )


_WORDS = re.compile(
    "at most|at least|no limit known|none known|not established|in order|recorded only|"
    "stands for as new|elongation|reading|rise|loss"
)


def figures_in(case: Case, text: str) -> str:
    """The short words and figures of the engines as the person's language writes them."""
    language = case.visit.language
    if language.code == "en" or not language.lacking(text):
        return language.sentence(text)
    said = _WORDS.sub(lambda found: language.say(found[0]), text)
    return re.sub(r"(?<=\d)\.(?=\d)", language.decimal, said)
