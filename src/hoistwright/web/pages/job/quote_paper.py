"""Making a quote: its number, its paper, and the entry that says what was offered."""

from __future__ import annotations

import datetime

import attrs

from hoistwright.certificate.quote import QuotePaper, WearPicture, quote_data, render_quote
from hoistwright.job.events_quote import QuoteMade
from hoistwright.job.offers import quote_of
from hoistwright.job.stages import missing_of
from hoistwright.job.state import JobState, Standing
from hoistwright.job.to_entries import job_sheet_of
from hoistwright.language import language
from hoistwright.renew.offer import WORTH_NAMING, Offer
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.wear_plots import wear_plots


def quotes_of(state: JobState) -> tuple[Standing, ...]:
    """Every quote that was made and not taken back, the earliest first."""
    return tuple(e for e in state.entries.values() if isinstance(e.body, QuoteMade))


def next_number(state: JobState) -> str:
    """A number that no quote of the job ever had, those taken back included."""
    made = sum(isinstance(entry.event.body, QuoteMade) for entry in state.entries.values())
    return f"{state.job}-Q{made + 1}"


def made_quote(
    case: Case, offer: Offer, until: datetime.date | None, *, lang: str, paper: str
) -> QuoteMade:
    """The quote as it goes out; its PDF is stored when this returns."""
    number = next_number(case.state)
    data = quote_data(
        QuotePaper(
            number=number,
            day=case.visit.bench.today,
            valid_until=until,
            made_by=case.visit.person.name,
            offer=offer,
            design=case.needed_design(),
            sheet=job_sheet_of(case.state),
            shop=attrs.evolve(case.shop, demo=case.visit.bench.demo),
            unknown=len(missing_of("examine", case.facts)),
            pictures=_pictures(case, offer, lang),
        ),
        lang,
    )
    pdf = render_quote(data, "us-letter" if paper == "us-letter" else "a4")
    kept = case.visit.bench.store.attach(pdf)
    return quote_of(offer, number, until, kept.content)


def _pictures(case: Case, offer: Offer, lang: str) -> tuple[WearPicture, ...]:
    """The wear of advised parts, in the language of the paper."""
    visit = attrs.evolve(case.visit, language=language(lang))
    advised = [line.part for line in offer.of("advised") if line.probability >= WORTH_NAMING]
    views = wear_plots(case, advised, visit)
    return tuple(
        WearPicture(svg=str(views[part].picture), title=views[part].title, words=views[part].chance)
        for part in advised
        if part in views
    )
