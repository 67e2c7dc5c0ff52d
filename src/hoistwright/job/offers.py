"""The offer of a job as it now stands: what must, what the shop wants, what was chosen."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence

from hoistwright.hoist.design import Design
from hoistwright.job.charges import Charges
from hoistwright.job.events import PartChosen
from hoistwright.job.events_quote import QuoteMade
from hoistwright.job.stages import Facts
from hoistwright.job.state import JobState
from hoistwright.renew.needs import Needs, needs_of
from hoistwright.renew.offer import Offer, offer
from hoistwright.renew.policy import Need, PartRisk
from hoistwright.renew.prices import PriceBook
from hoistwright.strip.plan import full_strip, strip_to

BY_SHOP = "Chosen by the shop."


def offer_of(
    facts: Facts, book: PriceBook, charges: Charges, risks: Sequence[PartRisk] = ()
) -> Offer | None:
    """The offer; None where no design is known or nothing is examined.

    A borderline part is a must until a competent person leaves it in. A part that is chosen
    without a finding is advised: the customer may decline it.
    """
    design, examination = facts.design, facts.examination
    if design is None or examination is None:
        return None
    must = musts(facts.state, needs_of(examination))
    forced = {need.part for need in must}
    return offer(
        design,
        must,
        [risk for risk in risks if risk.part not in forced],
        book.of_design(design.key),
        charges.policy(),
        wanted=_wanted(facts.state, design, {risk.part: risk.why for risk in risks}),
        taken=_known(design, facts.renewed) if facts.state.choices else None,
        already=opened(facts),
        new_price=charges.new_price(design.key),
        scrap_value=charges.scrap,
    )


def quote_of(
    found: Offer, number: str, until: datetime.date | None, content: str = ""
) -> QuoteMade:
    """The entry that says what was offered; `content` is the hash of the stored paper."""
    return QuoteMade(
        number=number,
        currency=found.currency,
        must=tuple(line.part for line in found.of("must")),
        advised=tuple(line.part for line in found.of("advised")),
        can_wait=tuple(line.part for line in found.named),
        must_total=found.least.total,
        total=found.best.total,
        valid_until=until,
        content=content,
    )


def musts(state: JobState, needs: Needs) -> tuple[Need, ...]:
    """What must be renewed: by verdict, and borderline unless it is left in with a reason."""
    left = {key for key, body in _choices(state) if not body.renew}
    return (*needs.must, *(need for need in needs.borderline if need.part not in left))


def opened(facts: Facts) -> tuple[str, ...]:
    """Steps done whatever is renewed: the strip that the examination asks for."""
    design = facts.design
    if design is None or not design.take_apart:
        return ()
    if facts.state.extent is None:
        return tuple(step.key for step in full_strip(design).steps)
    return tuple(s.key for s in strip_to(design, _known(design, facts.state.extent)).steps)


def _wanted(state: JobState, design: Design, forecast: Mapping[str, str]) -> list[Need]:
    """What was chosen. Choosing a part without a word of one's own keeps why it was advised."""
    known = {part.key for part in design.parts}
    return [
        Need(part=key, why=body.reason or forecast.get(key) or BY_SHOP)
        for key, body in _choices(state)
        if body.renew and key in known
    ]


def _choices(state: JobState) -> list[tuple[str, PartChosen]]:
    bodies = ((key, entry.body) for key, entry in state.choices.items())
    return [(key, body) for key, body in bodies if isinstance(body, PartChosen)]


def _known(design: Design, keys: Sequence[str]) -> tuple[str, ...]:
    known = {part.key for part in design.parts}
    return tuple(key for key in keys if key in known)
