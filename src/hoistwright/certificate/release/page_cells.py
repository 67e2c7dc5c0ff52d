"""Small pieces of pages: labelled lines, tables, figures with units, in one language."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Any

import attrs

from hoistwright.examine.words import unit_for
from hoistwright.language import Language
from hoistwright.quantity import Dimension, show, show_interval

SIGNS = {"fit": "fit", "renew": "renew", "borderline": "borderline"}


@attrs.frozen
class Writer:
    """Writes words, dates and figures of one record in one language."""

    language: Language
    units: str

    def say(self, text: str, **values: object) -> str:
        return self.language.say(text, **values)

    def day(self, text: str | None) -> str:
        """A day of the record, its month in letters."""
        if not text:
            return self.say("not stated")
        return self.language.date(datetime.date.fromisoformat(text))

    def stated(self, text: str | None) -> str:
        return text or self.say("not stated")

    def yes(self, value: bool | None) -> str:
        if value is None:
            return self.say("does not apply")
        return self.say("yes") if value else self.say("no")

    def mass(self, kg: float | None) -> str:
        """A load in the units of the job, and in tonnes beside kilograms."""
        if kg is None:
            return self.say("not stated")
        text = self.figure(kg, Dimension.MASS)
        if self.units == "in":
            return f"{text} ({show(kg, Dimension.MASS, 'kg', decimal=self.language.decimal)})"
        tonnes = show(kg, Dimension.MASS, "t", decimal=self.language.decimal)
        return f"{text} ({tonnes})" if kg >= 1000 else text

    def figure(self, value: float | None, dimension: Dimension, u: float | None = None) -> str:
        if value is None:
            return self.say("not established")
        unit = unit_for(dimension, self.units)
        return show(value, dimension, unit, uncertainty=u, decimal=self.language.decimal)

    def interval(self, value: float | None, expanded: float | None, dimension: Dimension) -> str:
        if value is None or expanded is None:
            return self.say("not established")
        unit = unit_for(dimension, self.units)
        return show_interval(value, expanded, dimension, unit, decimal=self.language.decimal)

    def verdict(self, outcome: str) -> dict[str, str]:
        """The drawn sign of a verdict, with its word."""
        return {"sign": SIGNS.get(outcome, "not_established"), "word": self.say(outcome)}


def grouped(digits: str) -> str:
    """A hash in groups of eight, to be read and compared by people.

    >>> grouped("ba7816bf8f01cfea")
    'ba7816bf 8f01cfea'
    """
    return " ".join(digits[at : at + 8] for at in range(0, len(digits), 8))


def lines(*pairs: tuple[str, str]) -> dict[str, Any]:
    """Label and value, one below the other; lines without a value are left out."""
    return {"kind": "lines", "lines": [[label, value] for label, value in pairs if value]}


def text(words: str, *, strong: bool = False, small: bool = False) -> dict[str, Any]:
    return {"kind": "text", "text": words, "strong": strong, "small": small}


def caution(word: str, words: str) -> dict[str, Any]:
    return {"kind": "caution", "word": word, "text": words}


def table(
    columns: Sequence[float], head: Sequence[str], rows: Sequence[Sequence[Any]]
) -> dict[str, Any]:
    """A table; `columns` are widths in mm, 0 for what is left over. A cell is a text, or a sign
    with its word, or a list of texts one below the other (all but the first set small).
    """
    return {
        "kind": "table",
        "columns": list(columns),
        "head": list(head),
        "rows": [[cell if isinstance(cell, dict) else _texts(cell) for cell in r] for r in rows],
    }


def _texts(cell: Any) -> list[str]:
    return [cell] if isinstance(cell, str) else [item for item in cell if item]


def section(heading: str, *blocks: dict[str, Any], lead: str = "") -> dict[str, Any]:
    return {"heading": heading, "lead": lead, "blocks": list(blocks)}
