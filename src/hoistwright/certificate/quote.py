"""The quote: what must be renewed, what is advised, what can wait, and what each comes to."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from hoistwright import __version__
from hoistwright.certificate.offer_svg import repair_svg
from hoistwright.certificate.quote_words import money_words, reason_words, weighing_words
from hoistwright.certificate.typeset import Paper, typeset
from hoistwright.certificate.writer import Writer
from hoistwright.hoist.design import Design
from hoistwright.job.charges import Charges
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.language import language, marked
from hoistwright.renew.offer import Offer, Sums
from hoistwright.renew.optimum import Line

CAUTIONS = (
    marked("This quote is no release: nobody lifts with the hoist before its certificate is "
           "signed."),
    marked("A hoist of which a part that must be renewed stays in is not released. It goes back "
           "unrepaired and marked, or is scrapped."),
    marked("The maker's manual and the law of the place where the hoist is used come first."),
)  # fmt: skip


@attrs.frozen(kw_only=True)
class WearPicture:
    """The wear of a part over the visits as SVG, with its title and what it says in words."""

    svg: str
    title: str
    words: str


@attrs.frozen(kw_only=True)
class QuotePaper:
    """What a quote is made from. `made_by` is a name; `number` names the quote."""

    number: str
    day: datetime.date
    valid_until: datetime.date | None
    made_by: str
    offer: Offer
    design: Design
    sheet: JobSheet
    shop: Shop
    unknown: int = 0
    """Points that the examination still asks for: what they will show is not in the quote."""

    pictures: tuple[WearPicture, ...] = ()
    """Of advised parts, in the language of the paper."""


def quote_data(paper: QuotePaper, lang: str = "en") -> dict[str, Any]:
    """Everything that the quote prints, as plain JSON values, in one language. Pure.

    Args:
        paper: what it is made from.
        lang: "en" or "fr". What people typed stays as they typed it.
    """
    w = Writer(language(lang), paper.sheet.units)
    offer = paper.offer
    return {
        "lang": lang,
        "title": w.say("Quote"),
        "number": paper.number,
        "job": paper.sheet.job,
        "on": paper.day.isoformat(),
        "software": f"Hoistwright {__version__}",
        "shop": {"name": paper.shop.name, "address": paper.shop.address, "demo": paper.shop.demo},
        "invented": paper.design.identity.invented,
        "groups": _groups(paper, w),
        "sums": _sums(offer, w),
        "picture": _picture(offer),
        "repair": _repair_words(offer, paper.shop.charges, w),
        "must": _rows(offer.of("must"), paper, w),
        "advised": _rows(offer.of("advised"), paper, w),
        "pictures": [_wear(item) for item in paper.pictures],
        "can_wait": _rows(offer.named, paper, w),
        "others": _others(offer, w),
        "work": _work(offer, w),
        "waits": _waits(offer, w),
        "open_prices": bool(offer.open_prices),
        "tax_note": paper.shop.charges.tax_note if paper.shop.charges else "",
        "valid": _valid(paper, w),
        "unfinished": _unfinished(paper, w),
        "cautions": [w.say(text) for text in CAUTIONS],
    }


def render_quote(data: Mapping[str, Any], paper: Paper = "a4") -> bytes:
    """The quote as PDF. `data` comes from `quote_data`; `paper` is "a4" or "us-letter"."""
    return typeset("quote", data, day=datetime.date.fromisoformat(data["on"]), paper=paper)


def _groups(paper: QuotePaper, w: Writer) -> list[dict[str, Any]]:
    hoist, customer = paper.sheet.hoist, paper.sheet.customer
    name = " ".join(word for word in (hoist.maker, hoist.model) if word)
    return [
        {
            "title": w.say("Customer"),
            "lines": [
                [w.say("Name"), w.stated(customer.name)],
                [w.say("Address"), w.stated(customer.address)],
                [w.say("Premises"), w.stated(customer.premises)],
            ],
        },
        {
            "title": w.say("Hoist"),
            "lines": [
                [w.say("Maker and model"), w.stated(name)],
                [w.say("Serial number"), w.stated(hoist.serial)],
                [w.say("Customer's tag"), w.stated(hoist.tag)],
                [w.say("Rated load"), w.mass(hoist.rated_load)],
            ],
        },
        {
            "title": w.say("Quote"),
            "lines": [
                [w.say("Number"), paper.number],
                [w.say("Made on"), w.long_day(paper.day)],
                [w.say("Valid until"), w.long_day(paper.valid_until)],
                [w.say("Made by"), w.stated(paper.made_by)],
            ],
        },
    ]


def _sums(offer: Offer, w: Writer) -> list[dict[str, Any]]:
    """The choices with their sums, each worked out on its own."""
    choices = [(w.say("Only what must be renewed"), offer.least)]
    if offer.of("advised"):
        choices.append((w.say("With everything advised"), offer.best))
    return [{"name": name, **_amounts(sums, offer.currency, w)} for name, sums in choices]


def _amounts(sums: Sums, currency: str, w: Writer) -> dict[str, str]:
    return {
        key: money_words(amount, currency, w.language)
        for key, amount in (
            ("parts", sums.parts), ("one_use", sums.one_use), ("labour", sums.labour),
            ("total", sums.total),
        )
    }  # fmt: skip


def _picture(offer: Offer) -> str:
    sums = offer.best
    found = offer.repair
    return repair_svg(
        [sums.parts, sums.one_use, sums.labour],
        found.less if found else None,
        found.from_share if found else 0.0,
    )


def _repair_words(offer: Offer, charges: Charges | None, w: Writer) -> str:
    if offer.repair is None or charges is None:
        return ""
    own = w.language
    found = offer.repair
    said = w.say(
        "Repair with everything advised comes to %(share)s of a new hoist at %(new)s, less what "
        "the old one brings. This shop advises repair below %(from)s.",
        share=_share(found.share, w), new=money_words(found.new, offer.currency, own),
        **{"from": _share(charges.scrap_from, w)},
    )  # fmt: skip
    if offer.open_prices:
        more = w.say("Parts without a price are not in it.")
        return f"{said} {more}"
    return said


def _share(share: float, w: Writer) -> str:
    return f"{100 * share:.0f}\u00a0%"


def _rows(lines: Sequence[Line], paper: QuotePaper, w: Writer) -> list[dict[str, Any]]:
    return [_row(line, paper, w) for line in lines]


def _row(line: Line, paper: QuotePaper, w: Writer) -> dict[str, Any]:
    currency, design = paper.offer.currency, paper.design
    goes = design.part(line.goes_with).name if line.goes_with else ""
    adds = None if line.price is None else line.price + line.opening
    return {
        "name": _upper(w.sentence(line.name)),
        "pieces": line.pieces,
        "why": reason_words(line, w, goes),
        "weighing": weighing_words(line, paper.offer.lines, currency, w),
        "price": money_words(line.price, currency, w.language),
        "adds": money_words(adds, currency, w.language),
    }


def _wear(item: WearPicture) -> dict[str, str]:
    """A picture made for pages, set in the paper's typeface."""
    svg = item.svg.replace('font-family="sans-serif"', 'font-family="Noto Sans"')
    return {"svg": svg, "title": _upper(item.title), "words": item.words}


def _unfinished(paper: QuotePaper, w: Writer) -> str:
    if not paper.unknown:
        return ""
    return w.language.count(
        "The examination is not finished: %(number)s point is open. More parts may have to be "
        "renewed than are named here.",
        "The examination is not finished: %(number)s points are open. More parts may have to be "
        "renewed than are named here.",
        paper.unknown,
    )


def _others(offer: Offer, w: Writer) -> str:
    """How many parts have a forecast and risk next to nothing."""
    if not offer.unnamed:
        return ""
    return w.language.count(
        "%(number)s more part was measured and is less than 1 %% likely to reach its limit.",
        "%(number)s more parts were measured and are less than 1 %% likely each to reach their "
        "limit.",
        len(offer.unnamed),
    )


def _work(offer: Offer, w: Writer) -> str:
    hours = f"{offer.labour_seconds / 3600:.1f}".replace(".", w.language.decimal)
    return w.say("%(hours)s h of work, taking apart and putting together", hours=hours)


def _waits(offer: Offer, w: Writer) -> str:
    ordered = any(line.to_order for line in offer.kit)
    if not ordered:
        return w.say("All parts are in stock.")
    if offer.days_to_wait is None:
        return w.say("Some parts must be ordered; how long that takes is not known yet.")
    return w.say(
        "Some parts must be ordered; the longest takes %(days)s days.", days=offer.days_to_wait
    )


def _valid(paper: QuotePaper, w: Writer) -> str:
    if paper.valid_until is None:
        return ""
    return w.say("This quote is valid until %(day)s.", day=w.long_day(paper.valid_until))


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
