"""A form as it was typed, with what is wrong where. Nothing typed is ever lost."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from types import MappingProxyType

import attrs

from hoistwright.quantity import Dimension, Quantity, QuantityError, parse
from hoistwright.web.fault_words import figure_words
from hoistwright.web.visit import Visit

MOST = 200


@attrs.define
class Form:
    """Values by field, and at most one fault for each. Read fields, then ask `sound`.

    Without a visit's form (the page is only shown), the fields hold `start`.
    """

    visit: Visit
    start: Mapping[str, str] = MappingProxyType({})
    faults: dict[str, str] = attrs.Factory(dict)

    @property
    def sent(self) -> bool:
        return self.visit.request.method == "POST"

    @property
    def sound(self) -> bool:
        return not self.faults

    def value(self, name: str) -> str:
        """What stands in a field."""
        return self.visit.field(name) if self.sent else self.start.get(name, "")

    def values(self, name: str) -> tuple[str, ...]:
        """What is ticked among several."""
        if self.sent:
            return self.visit.fields(name)
        return tuple(word for word in self.start.get(name, "").split(",") if word)

    def fault(self, name: str) -> str:
        return self.faults.get(name, "")

    def wrong(self, name: str, text: str) -> None:
        """Note what is wrong with a field and how to mend it. The first word stands."""
        self.faults.setdefault(name, text)

    def text(self, name: str, *, needed: str = "", most: int = MOST) -> str:
        """A text; `needed` is what to say where there is none."""
        found = self.value(name)
        say = self.visit.say
        if needed and not found:
            self.wrong(name, needed)
        elif len(found) > most:
            self.wrong(
                name,
                say("%(length)s characters; up to %(most)s can stand here. Shorten it.",
                    length=len(found), most=most),
            )  # fmt: skip
        return found

    def choice(self, name: str, among: Sequence[str], *, needed: str = "") -> str:
        """One of several; empty where none is chosen and none is needed."""
        found = self.value(name)
        if found not in among and (found or needed):
            self.wrong(name, needed or self.visit.say("Choose one of those shown."))
            return ""
        return found

    def date(self, name: str) -> datetime.date | None:
        """A day as the browser's date field sends it, or as people write it."""
        found = self.value(name)
        if not found:
            return None
        for shape in ("%Y-%m-%d", "%d/%m/%Y", "%d.%m.%Y"):
            try:
                return datetime.datetime.strptime(found, shape).date()
            except ValueError:
                continue
        self.wrong(
            name,
            self.visit.say("%(read)s is no date. Write it like 2026-11-25.", read=f"'{found}'"),
        )
        return None

    def quantity(self, name: str, dimension: Dimension, unit: str | None) -> Quantity | None:
        """A figure with its unit, or in `unit` where none is typed; None where nothing is."""
        found = self.value(name)
        if not found:
            return None
        try:
            return parse(found[:MOST], dimension, unit=unit)
        except QuantityError as error:
            self.wrong(name, figure_words(error, self.visit.language))
            return None

    def whole(self, name: str, low: int, high: int) -> int | None:
        found = self.value(name)
        if not found:
            return None
        if found.isascii() and found.isdigit() and len(found) < 10 and low <= int(found) <= high:
            return int(found)
        self.wrong(
            name,
            self.visit.say(
                "%(read)s; expected a whole number from %(low)s to %(high)s.",
                read=f"'{found[:20]}'", low=low, high=high,
            ),
        )  # fmt: skip
        return None
