"""What renewing and leaving come to on one job: the offer, in the person's words, with pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs
from markupsafe import Markup

from hoistwright.certificate.offer_svg import repair_svg, weighing_svg
from hoistwright.certificate.quote_words import (
    chance_words,
    cost_now,
    money_words,
    reason_words,
    weighing_words,
)
from hoistwright.certificate.writer import Writer
from hoistwright.faults import FaultsError
from hoistwright.job.charges import Charges
from hoistwright.job.offers import offer_of
from hoistwright.renew.offer import Offer, Sums
from hoistwright.renew.optimum import Line
from hoistwright.renew.policy import PartRisk
from hoistwright.renew.prices import PriceBook
from hoistwright.store.connect import reading
from hoistwright.web.outlooks import HistoryView
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.wear_plots import wear_plots
from hoistwright.web.records.prices import prices_kept
from hoistwright.web.whole_fleet import job_risks

NOTHING = Markup()


@attrs.frozen(kw_only=True)
class Weighed:
    """One part of the offer as the page shows it."""

    key: str
    standing: str
    why: str
    weighing: str
    price: str
    chance: str
    named: bool
    """Shown on its own; what risks next to nothing stands in a short list."""
    picture: Markup = NOTHING
    plot: Markup = NOTHING


@attrs.frozen(kw_only=True)
class SumLine:
    """One choice with its sums."""

    name: str
    total: str
    parts: str
    one_use: str
    labour: str


@attrs.frozen(kw_only=True)
class Money:
    """Everything on the page that has to do with money and forecast; `offer` None: no charges."""

    offer: Offer | None
    charges: Charges | None
    lines: Mapping[str, Weighed]
    sums: tuple[SumLine, ...] = ()
    picture: Markup = NOTHING
    repair: str = ""
    pays: bool = True
    notes: tuple[str, ...] = ()

    def of(self, standing: str) -> list[Weighed]:
        return [line for line in self.lines.values() if line.standing == standing]


def weighed(case: Case) -> Money:
    """The offer of a job as it now stands."""
    charges = case.shop.charges
    with reading(case.visit.bench.engine) as conn:
        book = prices_kept(conn).book
    if charges is None:
        say = case.visit.say
        note = say("The shop file has no charges: nothing is priced, and no quote is made.")
        return Money(offer=None, charges=None, lines={}, notes=(note,))
    risks = job_risks(case.visit.bench, case.job)
    try:
        found = offer_of(case.facts, book, charges, risks)
    except (ValueError, FaultsError) as error:  # a take-apart graph of the shop's own
        why = case.visit.say("The parts cannot be weighed: %(why)s", why=f"{error}")
        return Money(offer=None, charges=charges, lines={}, notes=(why,))
    if found is None:
        return Money(offer=None, charges=charges, lines={})
    return _money(case, charges, found, risks, book)


def _money(
    case: Case, charges: Charges, found: Offer, risks: Sequence[PartRisk], book: PriceBook
) -> Money:
    shown = {line.part for line in found.lines} - {line.part for line in found.unnamed}
    plots = wear_plots(case, shown)
    most = max((_most(line, found.lines) for line in found.lines), default=1)
    w = writer(case)
    return Money(
        offer=found,
        charges=charges,
        lines={line.part: _line(w, case, line, found, most, plots) for line in found.lines},
        sums=tuple(_sums(case, found)),
        picture=_picture(found),
        repair=_repair(case, found),
        pays=found.repair is None or found.repair.repair_pays,
        notes=tuple(_notes(case, found, risks, book)),
    )


def writer(case: Case) -> Writer:
    return Writer(case.visit.language, case.visit.units)


def _line(
    w: Writer, case: Case, line: Line, found: Offer, most: int, plots: Mapping[str, HistoryView]
) -> Weighed:
    design = case.needed_design()
    goes = design.part(line.goes_with).name if line.goes_with else ""
    weighing = weighing_words(line, found.lines, found.currency, w)
    now = cost_now(line, found.lines)
    bars = weighing_svg(now, line.leaving, most) if weighing and now is not None else ""
    adds = None if line.price is None else line.price + line.opening
    return Weighed(
        key=line.part,
        standing=line.standing,
        why=reason_words(line, w, goes),
        weighing=weighing,
        price=money_words(adds, found.currency, w.language),
        chance=chance_words(line.probability, w.language),
        named=line not in found.unnamed,
        picture=Markup(bars),  # our own picture: no typed text in it
        plot=plots[line.part].picture if line.part in plots else NOTHING,
    )


def _most(line: Line, lines: Sequence[Line]) -> int:
    """The longest bar of a page: all parts are drawn to one scale."""
    return max(cost_now(line, lines) or 0, line.leaving)


def _sums(case: Case, found: Offer) -> list[SumLine]:
    say = case.visit.say
    choices: list[tuple[str, Sums | None]] = [
        (say("Only what must be renewed"), found.least),
        (say("With everything advised"), found.best if found.of("advised") else None),
        (say("As chosen so far"), found.taken),
    ]
    own = case.visit.language
    return [
        SumLine(
            name=name,
            **{
                key: money_words(getattr(sums, key), found.currency, own)
                for key in ("total", "parts", "one_use", "labour")
            },
        )
        for name, sums in choices
        if sums is not None
    ]


def _picture(found: Offer) -> Markup:
    sums = found.taken or found.best
    repair = found.repair
    return Markup(
        repair_svg(
            [sums.parts, sums.one_use, sums.labour],
            repair.less if repair else None,
            repair.from_share if repair else 0.0,
        )
    )


def _repair(case: Case, found: Offer) -> str:
    repair, own = found.repair, case.visit.language
    if repair is None:
        return case.visit.say("The shop has no price for a new hoist of this design.")
    return case.visit.say(
        "Repair with everything advised: %(share)s of a new hoist at %(new)s, less what the old "
        "one brings. This shop advises repair below %(limit)s.",
        share=f"{100 * repair.share:.0f}\u00a0%",
        new=money_words(repair.new, found.currency, own),
        limit=f"{100 * repair.from_share:.0f}\u00a0%",
    )


def _notes(case: Case, found: Offer, risks: Sequence[PartRisk], book: PriceBook) -> list[str]:
    say, notes = case.visit.say, []
    if not book.lines:
        notes.append(say("No price list is taken over yet: parts have no price."))
    elif found.open_prices:
        names = ", ".join(say(case.needed_design().part(key).name) for key in found.open_prices)
        notes.append(say("Without a price, and in no sum: %(parts)s.", parts=names))
    if not risks:
        notes.append(
            say("No forecast yet: this hoist, or hoists like it, must be read more than once.")
        )
    return notes
