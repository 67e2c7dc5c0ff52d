"""Money, chances and reasons of an offer, in the words of one language."""

from __future__ import annotations

from collections.abc import Iterable

from hoistwright.certificate.writer import Writer
from hoistwright.language import Language, marked
from hoistwright.renew.optimum import Line

ON_REQUEST = marked("on request")


def money_words(amount: int | None, currency: str, own: Language) -> str:
    r"""An amount in minor units as the language writes it, with the currency's code.

    >>> from hoistwright.language import language
    >>> money_words(123450, "GBP", language("en")), money_words(None, "GBP", language("en"))
    ('GBP\xa01,234.50', 'on request')
    """
    from babel.numbers import format_decimal

    if amount is None:
        return own.say(ON_REQUEST)
    figure = str(format_decimal(amount / 100, "#,##0.00", locale=own.locale))
    figure = figure.replace("\u202f", "\u00a0")
    return f"{figure}\u00a0{currency}" if own.code == "fr" else f"{currency}\u00a0{figure}"


def chance_words(share: float, own: Language) -> str:
    r"""A probability as people read it.

    >>> from hoistwright.language import language
    >>> chance_words(0.034, language("fr")), chance_words(0.0001, language("en"))
    ('3,4\xa0%', 'under 0.1 %')
    """
    if share < 0.001:
        return own.say(marked("under 0.1 %"))
    if share > 0.99:
        return own.say(marked("over 99 %"))
    figure = f"{100 * share:.2g}".replace(".", own.decimal)
    return f"{figure}\u00a0%"


def reason_words(line: Line, w: Writer, name: str = "") -> str:
    """Why a part stands where it does; `name` is that of the part it goes with."""
    if line.by_need:
        given = _upper(w.sentence(line.reason.removeprefix(f"{line.name}: ")))
        more = line.forecast if line.standing != "must" and line.forecast != line.reason else ""
        return f"{given} {_upper(w.sentence(more))}" if more else given
    if line.goes_with:
        return w.say("Renewed together with: %(part)s.", part=w.sentence(name))
    if line.standing == "must":
        return w.say("Renewed together with a part that must be renewed.")
    if line.reason:
        return _upper(w.sentence(line.reason))
    return w.say(
        "%(chance)s likely to reach its limit before the next visit.",
        chance=chance_words(line.probability, w.language),
    )


def cost_now(line: Line, lines: Iterable[Line]) -> int | None:
    """What renewing a part now adds, with those that go with it; None without a price."""
    together = [line, *(other for other in lines if other.goes_with == line.part)]
    if any(item.price is None for item in together):
        return None
    return sum((item.price or 0) + item.opening for item in together)


def weighing_words(line: Line, lines: Iterable[Line], currency: str, w: Writer) -> str:
    """What leaving a part costs on average against renewing it now; empty for what must.

    A part that somebody chose keeps it where there is a forecast: the customer decides by it.
    """
    if line.standing == "must" or line.goes_with or (line.by_need and not line.forecast):
        return ""
    own = w.language
    leaving = money_words(line.leaving, currency, own)
    cost = cost_now(line, lines)
    if cost is None:
        return w.say("No price is known, so it cannot be weighed: ask for one.")
    now = money_words(cost, currency, own)
    if line.standing == "advised":
        return w.say(
            "Left in, that costs %(leaving)s on average; renewed now, while the hoist is open, "
            "%(now)s.", leaving=leaving, now=now,
        )  # fmt: skip
    return w.say(
        "Waiting costs %(leaving)s on average; renewing now would cost %(now)s.",
        leaving=leaving, now=now,
    )  # fmt: skip


def _upper(text: str) -> str:
    ended = text if text.endswith((".", "!", "?")) or not text else f"{text}."
    return ended[:1].upper() + ended[1:]
