"""Words, figures and days as one paper writes them: in its language and its units."""

from __future__ import annotations

import datetime

import attrs

from hoistwright.examine.findings import NOT_KNOWN
from hoistwright.examine.words import unit_for
from hoistwright.language import Language
from hoistwright.quantity import Dimension, show, show_interval
from hoistwright.quantity.showing import NOT_A_FIGURE

SIGNS = {"fit": "fit", "renew": "renew", "borderline": "borderline"}
"""The drawn signs by verdict; any other is drawn as not established."""


@attrs.frozen
class Writer:
    """Writes words, dates and figures of one record in one language."""

    language: Language
    units: str

    def say(self, text: str, **values: object) -> str:
        return self.language.say(text, **values)

    def sentence(self, text: str) -> str:
        """A text that an engine or a data file gave in English."""
        return self.language.sentence(text)

    def day(self, day: str | datetime.date | None) -> str:
        """A day, or one as a record has it; its month in letters."""
        if not day:
            return self.say("not stated")
        if isinstance(day, str):
            day = datetime.date.fromisoformat(day)
        return self.language.date(day)

    def long_day(self, day: datetime.date | None) -> str:
        """The day with its month in full, so that nobody mistakes it for the other order."""
        return self.language.date(day, long=True) or self.say("not stated")

    def stated(self, text: str | None) -> str:
        return text or self.say("not stated")

    def named(self, name: str) -> str:
        """A maker or a model: as it is, but that it is not known is said."""
        return self.say(name) if name == NOT_KNOWN else name

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
        text = show(value, dimension, unit, uncertainty=u, decimal=self.language.decimal)
        return self.say(text) if text == NOT_A_FIGURE else text

    def interval(self, value: float | None, expanded: float | None, dimension: Dimension) -> str:
        if value is None or expanded is None:
            return self.say("not established")
        unit = unit_for(dimension, self.units)
        text = show_interval(value, expanded, dimension, unit, decimal=self.language.decimal)
        return self.say(text) if text == NOT_A_FIGURE else text

    def factor(self, value: float) -> str:
        """A coverage factor, with two decimals."""
        return f"{value:.2f}".replace(".", self.language.decimal)

    @property
    def colon(self) -> str:
        return self.language.colon

    @property
    def semi(self) -> str:
        """Between the parts of a longer list; in French with its space before it."""
        return "\u00a0; " if self.language.code == "fr" else "; "

    @property
    def list_mark(self) -> str:
        """Between figures of a list: a comma, but not where it is the decimal mark."""
        return "\u00a0; " if self.language.decimal == "," else ", "

    def verdict(self, outcome: str) -> dict[str, str]:
        """The drawn sign of a verdict, with its word."""
        return {"sign": SIGNS.get(outcome, "not_established"), "word": self.say(outcome)}
