"""What the customer said to a quote, part by part, and the choices that follow from it."""

from __future__ import annotations

from collections.abc import Collection

import attrs

from hoistwright.job.events import Body, PartChosen
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.strip.plan import with_companions
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.weighing import Money


@attrs.frozen(kw_only=True)
class Asked:
    """A part of the quote that the customer answers to. `agreed` None: not answered yet."""

    key: str
    name: str
    group: str
    price: str
    agreed: bool | None


def answered_parts(case: Case, money: Money) -> list[Asked]:
    """The parts of the quote that stands, in its order."""
    quoted, answer = case.state.quoted, case.state.answered
    design = case.design
    if quoted is None or design is None:
        return []
    known = {part.key: part.name for part in design.parts}
    groups = (("must", quoted.must), ("advised", quoted.advised), ("can wait", quoted.can_wait))
    return [
        Asked(
            key=key,
            name=known[key],
            group=group,
            price=money.lines[key].price if key in money.lines else "",
            agreed=None if answer is None else key in answer.agreed,
        )
        for group, keys in groups
        for key in keys
        if key in known
    ]


def answer_drafts(
    case: Case, quoted: QuoteMade, agreed: Collection[str], *, said_by: str, how: str, remark: str
) -> list[Body]:
    """The answer, and a choice for each part that is not chosen that way already."""
    design = case.needed_design()
    known = {part.key for part in design.parts}
    asked = [key for key in (*quoted.must, *quoted.advised, *quoted.can_wait) if key in known]
    whole = with_companions(design, [key for key in asked if key in agreed])
    answer = QuoteAnswered(
        quote=quoted.number,
        agreed=whole,
        declined=tuple(key for key in asked if key not in whole),
        said_by=said_by,
        how=how,
        remark=remark,
    )
    reason = case.visit.say(
        "Declined by the customer (%(quote)s, %(name)s).", quote=quoted.number, name=said_by
    )
    chosen: list[Body] = []
    for key in whole:
        if not _says(case, key, renew=True):
            chosen.append(PartChosen(part=key))
    for key in answer.declined:
        if not _says(case, key, renew=False) and key not in quoted.can_wait:
            chosen.append(PartChosen(part=key, renew=False, reason=reason))
    return [answer, *chosen]


def _says(case: Case, key: str, *, renew: bool) -> bool:
    entry = case.state.choices.get(key)
    body = entry.body if entry else None
    return isinstance(body, PartChosen) and body.renew is renew
