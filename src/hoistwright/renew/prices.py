"""Price and stock list of a shop, with parts that replace others."""

from __future__ import annotations

from collections.abc import Mapping

import attrs

from hoistwright.renew.money import money as money  # noqa: PLC0414 - taken from here by others


@attrs.frozen(kw_only=True)
class PriceLine:
    """One part number. `name` as the list has it.

    `price` is per piece in minor units; None where it is not known.

    `replaced_by`: the number that takes its place; empty where it is still made.
    """

    number: str
    name: str = ""
    price: int | None = None
    stock: int = 0
    lead_days: int | None = None
    replaced_by: str = ""


@attrs.frozen(kw_only=True)
class Priced:
    """What a part number comes to: the line that counts today and the numbers it went through."""

    asked: str
    line: PriceLine
    through: tuple[str, ...]

    @property
    def words(self) -> str:
        """How the number changed; empty where it did not."""
        return "" if not self.through else f"{self.asked} is replaced by {self.line.number}"


@attrs.frozen(kw_only=True)
class PriceList:
    """`lines` by part number; `numbers` gives the part number of each part key of a design."""

    currency: str
    lines: Mapping[str, PriceLine]
    numbers: Mapping[str, str]

    def of(self, part: str) -> Priced | None:
        """The line that counts for a part of the design; None where the list has none.

        Raises:
            ValueError: numbers that replace each other in a circle, or by one not in the list.

        >>> lines = {"P-1": PriceLine(number="P-1", replaced_by="P-2"),
        ...          "P-2": PriceLine(number="P-2", price=1250, stock=3)}
        >>> found = PriceList(currency="GBP", lines=lines, numbers={"pawl": "P-1"}).of("pawl")
        >>> found.line.price, found.words
        (1250, 'P-1 is replaced by P-2')
        """
        number = self.numbers.get(part, part)
        if number not in self.lines:
            return None
        line, through = self.lines[number], [number]
        while line.replaced_by:
            if line.replaced_by in through:
                raise ValueError(
                    f"part numbers {', '.join(through)} replace each other in a circle; expected "
                    "the last one to stand on its own. Correct the price list."
                )
            if line.replaced_by not in self.lines:
                raise ValueError(
                    f"{line.number} is replaced by {line.replaced_by}, which the price list does "
                    "not have; expected a line for it. Add it to the price list."
                )
            line = self.lines[line.replaced_by]
            through.append(line.number)
        return Priced(asked=number, line=line, through=tuple(through[1:]))

    def price(self, part: str, pieces: int) -> int | None:
        """Price of so many pieces, minor units; None where it is not known."""
        found = self.of(part)
        if found is None or found.line.price is None:
            return None
        return found.line.price * pieces


@attrs.frozen(kw_only=True)
class PriceBook:
    """The price and stock list of a shop, for all designs.

    `lines` by part number; `fits` gives the part number for the part key of a design.
    """

    currency: str = ""
    lines: Mapping[str, PriceLine] = attrs.Factory(dict)
    fits: Mapping[tuple[str, str], str] = attrs.Factory(dict)

    def of_design(self, design: str) -> PriceList:
        """The list as one design sees it.

        >>> book = PriceBook(currency="GBP", lines={"P-1": PriceLine(number="P-1", price=900)},
        ...                  fits={("ardle-2000", "pawl"): "P-1"})
        >>> book.of_design("ardle-2000").price("pawl", 2), book.of_design("x").price("pawl", 2)
        (1800, None)
        """
        numbers = {part: number for (key, part), number in self.fits.items() if key == design}
        return PriceList(currency=self.currency, lines=self.lines, numbers=numbers)
