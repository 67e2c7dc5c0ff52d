"""A demo job whose quote is with the customer, so that its answer can be entered. Invented."""

from __future__ import annotations

import datetime

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.quote import QuotePaper, quote_data, render_quote
from hoistwright.job.entry import Draft
from hoistwright.job.offers import offer_of, quote_of
from hoistwright.job.shop import Shop
from hoistwright.job.stages import Facts
from hoistwright.job.to_entries import job_sheet_of
from hoistwright.store.connect import reading
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named
from hoistwright.web.pages.job.quote_paper import next_number
from hoistwright.web.records.prices import prices_kept

QUOTED = "KQ-0402"
COUNTER = "counter"


def quote_demo(bench: Bench, shop: Shop) -> None:
    """Make the quote of one job, an hour after the last entry of it."""
    state = bench.store.state(QUOTED)
    facts = Facts(
        state=state,
        design=design_named(bench, state.design),
        bases=tuple(shipped_basis(key) for key in state.bases),
        shop=shop,
    )
    with reading(bench.engine) as conn:
        book = prices_kept(conn).book
    found = offer_of(facts, book, shop.charges) if shop.charges else None
    if found is None or facts.design is None or shop.charges is None:
        return
    at = max(state.touched.values()) + datetime.timedelta(hours=1)
    until = at.date() + datetime.timedelta(days=shop.charges.valid_days)
    person = shop.person(COUNTER)
    paper = QuotePaper(
        number=next_number(state),
        day=at.date(),
        valid_until=until,
        made_by=person.name if person else "",
        offer=found,
        design=facts.design,
        sheet=job_sheet_of(state),
        shop=shop,
    )
    kept = bench.store.attach(render_quote(quote_data(paper)))
    body = quote_of(found, paper.number, until, kept.content)
    draft = Draft(id=f"demo-quote-{QUOTED}", by=COUNTER, body=body)
    bench.store.append(QUOTED, [draft], now=at)
