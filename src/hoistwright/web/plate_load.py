"""A rated load as typed: is it one that a hoist can have? If not, it is asked back."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from hoistwright.hoist.design import Design
from hoistwright.quantity import Dimension, Quantity, QuantityError, in_unit, parse, units_of
from hoistwright.web.fault_words import figure_words
from hoistwright.web.visit import Visit

LEAST, MOST = 50.0, 100_000.0
"""kg. Hand hoists are made from a few hundred kilograms to some tens of tonnes (common practice):
what lies outside is asked back, never refused."""
_BEYOND = 1e6
NEAR = 0.03
"""As far as a plate may be off its design: a long ton is 1.6 % over a tonne."""
SURE = "!"
"""At the end of a figure: it was asked back, and it is so. Sheets have the same sign."""
_MISTAKEN = {"mm": ("t", "kg", "lb"), "in": ("short ton", "t", "lb", "kg")}


@attrs.frozen(kw_only=True)
class LoadAsked:
    """What to ask back. `offers` can be typed as they are; `sure` says that it is so, after all;
    empty where it cannot be.
    """

    words: str
    offers: tuple[str, ...] = ()
    sure: str = ""


def typed_load(visit: Visit, text: str) -> Quantity | str | None:
    """A load as typed, None for nothing; what is wrong with it, in words, where it is none."""
    text = text.removesuffix(SURE).strip()
    if not text:
        return None
    try:
        found = parse(text[:200], Dimension.MASS, unit="lb" if visit.units == "in" else "kg")
    except QuantityError as error:
        return figure_words(error, visit.language)
    if found.si <= 0:
        return visit.say("This cannot be so. Look at the figure and its unit again.")
    return found


def load_asked(
    visit: Visit, text: str, found: Quantity, designs: Sequence[Design]
) -> LoadAsked | None:
    """What to ask about a load; None where it is plausible, or was said to be so.

    `designs` are those that the hoist is taken for: one of them should have the load.
    """
    rated = [d for d in designs if d.rating.rated_load]
    loads = [d.rating.rated_load or 0.0 for d in rated]
    possible = found.si <= _BEYOND
    if plausible(found.si, loads) or (possible and text.endswith(SURE)):
        return None
    offers = meant_loads(found, loads, _MISTAKEN[visit.units])
    if rated and not offers:
        offers = (visit.load(loads[0]),)
    read = _read(visit, found)
    return LoadAsked(
        words=_words(visit, read, offers, rated),
        offers=offers,
        sure=f"{read}{SURE}" if possible else "",
    )


def plausible(load: float, loads: Sequence[float]) -> bool:
    """Whether a hoist can be rated so: as one of `loads`, or where there are none as hoists are.

    >>> plausible(2.0, []), plausible(500.0, []), plausible(500.0, [2000.0])
    (False, True, False)
    """
    if loads:
        return any(abs(load - rated) <= NEAR * rated for rated in loads)
    return LEAST <= load <= MOST


def meant_loads(found: Quantity, loads: Sequence[float], units: Sequence[str]) -> tuple[str, ...]:
    """The same figure in other units, where a hoist can be rated so.

    >>> meant_loads(parse("2", Dimension.MASS, unit="kg"), [], ("t", "kg", "lb"))
    ('2 t',)
    """
    figure = in_unit(found.si, Dimension.MASS, found.unit)
    factors = {unit.symbol: float(unit.factor) for unit in units_of(Dimension.MASS)}
    return tuple(
        f"{_plain(figure)} {unit}"
        for unit in units
        if unit != found.unit and plausible(figure * factors[unit], loads)
    )


def _plain(figure: float) -> str:
    """So that it can be typed: three decimals may be taken for thousands, four are none."""
    text = f"{figure:.10g}"
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text


def _read(visit: Visit, found: Quantity) -> str:
    figure = _plain(in_unit(found.si, Dimension.MASS, found.unit))
    return f"{figure.replace('.', visit.language.decimal)} {found.unit}"


def _words(visit: Visit, read: str, offers: tuple[str, ...], rated: Sequence[Design]) -> str:
    if rated:
        one = rated[0]
        return visit.say(
            "%(read)s? The design %(design)s is rated for %(load)s.",
            read=read,
            design=visit.hoist_name(one.identity.maker, one.identity.model),
            load=visit.load(one.rating.rated_load),
        )
    if len(offers) == 1:
        return visit.say("%(read)s, or %(offer)s?", read=read, offer=offers[0])
    return visit.say(
        "%(read)s? Hoists are not usually rated so. Look at the plate again.", read=read
    )
