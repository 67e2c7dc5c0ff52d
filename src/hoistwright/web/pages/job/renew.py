"""What is renewed: parts that must, parts that pay, parts that can wait; kit and sums."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import attrs
from starlette.responses import Response

from hoistwright.certificate.quote_words import money_words
from hoistwright.job.events import PartChosen
from hoistwright.job.stages import missing_of
from hoistwright.job.state import Standing
from hoistwright.renew.quote import KitLine
from hoistwright.strip.plan import Pieces, merged_pieces, pieces
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.parts import part_states
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.weighing import Money, Weighed, weighed, writer


@attrs.frozen(kw_only=True)
class Choice:
    """A part to decide on. `weighed` is what the offer says of it, where there is one."""

    key: str
    name: str
    state: str
    why: tuple[str, ...]
    entry: Standing | None
    renew: bool | None
    reason: str
    by: str
    open: bool
    weighed: Weighed | None


@attrs.frozen(kw_only=True)
class KitRow:
    """A line of the kit: pieces, where they come from, when, and what they cost."""

    name: str
    number: str
    pieces: int
    one_use: bool
    source: str
    price: str
    note: str


def show(case: Case, question: Question | None) -> Response:
    design, money = case.needed_design(), weighed(case)
    groups = _groups(case, money)
    listed = {choice.key for _, choices in groups for choice in choices}
    return framed(
        case,
        "renew.html",
        "renew",
        question,
        missing=missing_lines(case, "renew"),
        groups=groups,
        money=money,
        unnamed=_unnamed(case, money, listed),
        others=[p for p in design.parts if p.key not in listed and p.role != "hoist"],
        kit=_kit(case, money),
        design=design,
        competent=case.visit.may("sign"),
    )


def _groups(case: Case, money: Money) -> list[tuple[str, list[Choice]]]:
    """Must, advised and can wait, in this order; each part once."""
    design = case.needed_design()
    asked = {item.address[0] for item in missing_of("renew", case.facts)}
    states = part_states(case)
    found = [p.key for p in design.parts if states.get(p.key) in ("renew", "borderline")]
    known = {p.key for p in design.parts}
    decided = [k for k in (*case.state.choices, *asked, *case.facts.renewed) if k in known]
    must = dict.fromkeys(k for k in (*found, *(w.key for w in money.of("must"))) if k != "hoist")
    advised = dict.fromkeys([*(w.key for w in money.of("advised")), *decided])
    wait = dict.fromkeys(w.key for w in money.of("can wait") if w.named)
    out = [
        ("must", _choices(case, must, states, asked, money)),
        ("advised", _choices(case, [k for k in advised if k not in must], states, asked, money)),
        ("can wait", _choices(case, [k for k in wait if k not in must and k not in advised],
                              states, asked, money)),
    ]  # fmt: skip
    return [(name, choices) for name, choices in out if choices]


def _unnamed(case: Case, money: Money, listed: set[str]) -> list[tuple[str, Weighed]]:
    """Parts with a forecast that risk next to nothing, with their names."""
    design = case.needed_design()
    return [
        (design.part(line.key).name, line)
        for line in money.of("can wait")
        if not line.named and line.key not in listed
    ]


def _choices(
    case: Case, keys: Iterable[str], states: Mapping[str, str], asked: set[str], money: Money
) -> list[Choice]:
    return [
        _choice(case, key, states.get(key, ""), key in asked, money.lines.get(key))
        for key in keys
        if key
    ]


def _choice(case: Case, key: str, state: str, asked: bool, line: Weighed | None) -> Choice:
    entry = case.state.choices.get(key)
    body = entry.body if entry else None
    decided = body if isinstance(body, PartChosen) else None
    return Choice(
        key=key,
        name=case.needed_design().part(key).name,
        state=state,
        why=_why(case, key),
        entry=entry,
        renew=decided.renew if decided else None,
        reason=decided.reason if decided else "",
        by=case.name(entry.last.by) if entry else "",
        open=asked,
        weighed=line,
    )


def _why(case: Case, key: str) -> tuple[str, ...]:
    """The findings a choice follows from: what is renew or borderline, each once."""
    examination = case.facts.examination
    w = writer(case)
    found = (
        f"{w.sentence(v.feature_name)}{f', {w.sentence(v.place)}' if v.place else ''}{w.colon}"
        f"{w.sentence(v.why)}"
        for v in (examination.verdicts if examination else ())
        if v.part == key and v.outcome.words in ("renew", "borderline")
    )
    return tuple(dict.fromkeys(found))


def _kit(case: Case, money: Money) -> list[KitRow]:
    """Every piece to have ready for what was chosen; without charges only their number."""
    found = money.offer
    if found is not None:
        lines = found.taken_kit if found.taken is not None else found.kit
        return [_kit_row(case, line, found.currency) for line in lines]
    plan = case.facts.strip
    one_use = {piece.part for piece in plan.one_use} if plan else set()
    design = case.needed_design()
    both = merged_pieces(
        [*(pieces(design, key) for key in case.facts.renewed), *(plan.one_use if plan else ())]
    )
    return [_bare_row(piece, piece.part in one_use) for piece in both]


def _bare_row(piece: Pieces, one_use: bool) -> KitRow:
    return KitRow(
        name=piece.name, number="", pieces=piece.quantity, one_use=one_use, source="", price="",
        note="",
    )  # fmt: skip


def _kit_row(case: Case, line: KitLine, currency: str) -> KitRow:
    say = case.visit.say
    source = say("from stock")
    if line.to_order:
        days = (
            say("lead time not known")
            if line.lead_days is None
            else case.visit.language.count("%(number)s day", "%(number)s days", line.lead_days)
        )
        source = say("order %(pieces)s: %(days)s", pieces=line.to_order, days=days)
    old, _, new = line.note.partition(" is replaced by ")
    note = say("%(old)s is replaced by %(new)s", old=old, new=new) if new else say(line.note)
    return KitRow(
        name=line.name,
        number=line.number,
        pieces=line.pieces,
        one_use=line.one_use,
        source=source if line.number else "",
        price=money_words(line.price, currency, case.visit.language),
        note=note if line.note else "",
    )


PAGES = (Page(name="job-renew", path="/jobs/{job}/renew", show=shown(show),
              take=taking(show)),)  # fmt: skip
