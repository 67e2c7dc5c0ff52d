"""What the shop charges: labour, call-back, share for repair or scrap, new hoists."""

from __future__ import annotations

from typing import Any

import attrs
from starlette.responses import Response

from hoistwright.job.charges import Charges, NewHoist
from hoistwright.language import marked
from hoistwright.renew.money import MoneyError, amount_of
from hoistwright.store.connect import reading, writing
from hoistwright.web.designs import all_designs
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.records.prices import keep_charges
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.visit import Visit

AMOUNTS = (
    ("labour_per_hour", marked("An hour of work")),
    ("call_back", marked("A visit out of turn, beside part and work")),
    ("scrap_value", marked("What an old hoist brings")),
)
_NEW = "new-"


def show(visit: Visit) -> Response:
    charges = _charges(visit)
    return _page(visit, Form(visit, _start(charges)))


def take(visit: Visit) -> Response:
    """Keep the charges; quotes already made stay as they are."""
    form = Form(visit)
    made = _read(visit, form)
    if made is None:
        return _page(visit, form, 422)
    with writing(visit.bench.engine) as conn:
        keep_charges(conn, made)
    visit.tell(visit.say("Kept. Quotes are made by it from now on."))
    return visit.go("prices")


def _page(visit: Visit, form: Form, status: int = 200) -> Response:
    return visit.page(
        "charges.html",
        form=form,
        amounts=visit.said(AMOUNTS),
        designs=[(f"{_NEW}{d.key}", visit.hoist_name(d.identity.maker, d.identity.model), d.key)
                 for d in _designs(visit)],
        status=status,
    )  # fmt: skip


def _designs(visit: Visit) -> list[Any]:
    return [item.design for item in all_designs(visit.bench)]


def _charges(visit: Visit) -> Charges | None:
    with reading(visit.bench.engine) as conn:
        return shop_of(conn).charges


def _start(charges: Charges | None) -> dict[str, str]:
    if charges is None:
        return {"currency": "", "scrap_from": "60", "scrap_value": "0", "valid_days": "30"}
    start = {name: str(getattr(charges, name)) for name, _ in AMOUNTS}
    start |= {f"{_NEW}{new.design}": new.price for new in charges.new_hoists}
    return start | {
        "currency": charges.currency,
        "scrap_from": f"{100 * charges.scrap_from:g}",
        "valid_days": str(charges.valid_days),
        "tax_note": charges.tax_note,
    }


def _read(visit: Visit, form: Form) -> dict[str, Any] | None:
    """The charges as a shop file's table; None where something is to be mended."""
    say = visit.say
    currency = form.text("currency", needed=say("A code such as GBP or EUR."), most=3).upper()
    if form.sound and not (len(currency) == 3 and currency.isascii() and currency.isalpha()):
        form.wrong("currency", say("A code such as GBP or EUR."))
    texts = {name: _amount(visit, form, name, currency, needed=True) for name, _ in AMOUNTS}
    share = form.whole("scrap_from", 1, 200)
    days = form.whole("valid_days", 1, 3650)
    note = form.text("tax_note", most=300)
    news = [
        NewHoist(design=design.key, price=text)
        for design in _designs(visit)
        if (text := _amount(visit, form, f"{_NEW}{design.key}", currency, needed=False))
    ]
    if not form.sound:
        return None
    made = Charges(
        currency=currency,
        **texts,
        scrap_from=(share or 60) / 100,
        valid_days=days or 30,
        tax_note=note,
        new_hoists=tuple(news),
    )
    return attrs.asdict(made)


def _amount(visit: Visit, form: Form, name: str, currency: str, *, needed: bool) -> str:
    text = form.value(name)
    if not text and not needed:
        return ""
    try:
        amount, code = amount_of(text)
    except MoneyError as error:
        form.wrong(name, str(error))
        return ""
    if code and code != currency:
        form.wrong(name, visit.say("An amount in %(currency)s.", currency=currency))
    return f"{amount // 100}.{amount % 100:02d}"


PAGES = (
    Page(name="charges", path="/prices/charges", show=show, take=take, see="keep gauges",
         do="keep gauges"),
)  # fmt: skip
