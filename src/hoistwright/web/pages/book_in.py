"""Booking in: a scanned tag or a typed data plate, the design found or begun, the job made."""

from __future__ import annotations

import json
import re
import uuid
from typing import Any

from starlette.datastructures import UploadFile
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.language import LANGUAGES
from hoistwright.store.connect import reading
from hoistwright.store.model import HoistRow
from hoistwright.web.bases import bases_named, basis_keys
from hoistwright.web.booking import begin_design, photographed, write_booking
from hoistwright.web.booking_form import (
    BEGIN,
    FOUND,
    KINDS,
    LATER,
    SERVICES,
    read_booking,
    read_plate,
    start_again,
    start_of,
    with_design,
)
from hoistwright.web.designs import all_designs, design_named
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.plate import Plate, Suggestion, suggestions
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.rights import may
from hoistwright.web.templating import page_names
from hoistwright.web.visit import Visit

_ONCE = re.compile(r"[0-9a-f]{32}")


def show(visit: Visit) -> Response:
    code = visit.query("code")[:200]
    found = visit.bench.store.search(code, limit=8) if code else ()
    hoist = visit.bench.store.hoist(visit.query("hoist")) if visit.query("hoist") else None
    start = start_of(visit.bench.today.isoformat(), visit.units, _usual_bases(visit))
    if hoist is not None:
        start = start_again(hoist, start, _bases_of(visit, hoist))
    elif code and not found:
        start["tag"] = code
    return _page(visit, Form(visit, start), Plate(), code=code, found=found, hoist=hoist)


def take(visit: Visit) -> Response:
    form = Form(visit)
    plate = read_plate(form)
    if visit.field("act") == "find":
        return _page(visit, form, plate)
    booked = read_booking(form, plate, basis_keys(visit.bench))
    choice = visit.field("design")
    if not choice and suggestions(plate, _all(visit)):
        form.wrong("design", visit.say("Which design is it? Choose one, or choose to say later."))
    if choice not in ("", BEGIN, LATER) and design_named(visit.bench, choice) is None:
        form.wrong("design", visit.say("Choose one of those shown."))
    giver = form.choice("given_to", [key for key, _ in _workers(visit)])
    if not form.sound:
        return _page(visit, form, plate, status=422)
    once = visit.field("once") if _ONCE.fullmatch(visit.field("once")) else uuid.uuid4().hex
    design = choice if choice not in ("", LATER) else ""
    if choice == BEGIN:
        try:
            design, _ = begin_design(visit.bench, plate, once, visit.person.key)
        except FaultsError as error:
            form.wrong("design", str(error.faults[0]))
            return _page(visit, form, plate, status=422)
    photos, refused = photographed(visit.bench, _photos(visit))
    job = write_booking(
        visit.bench,
        with_design(booked, design),
        photos,
        once=once,
        by=visit.person.key,
        given_to=giver,
        told_at=visit.now,
    )
    words = visit.say("Booked in as job %(job)s.", job=job)
    if refused:
        words += " " + visit.say("A file that is no photo was left out.")
    visit.tell(words)
    return visit.go("job" if "job" in page_names() else "booked", job=job)


def suggest(visit: Visit) -> Response:
    """The suggestions alone, for script that fetches them while somebody types."""
    form = Form(visit)
    plate = read_plate(form)
    return visit.page("suggestions.html", form=form, **_suggested(visit, form, plate))


def show_booked(visit: Visit) -> Response:
    """What was booked in; the job itself goes on from here."""
    state = visit.bench.store.state(visit.part("job"))
    booked = state.booked
    if booked is None:
        return visit.go("in-shop")
    return visit.page(
        "booked.html",
        state=state,
        booked=booked,
        design=design_named(visit.bench, state.design),
        bases=bases_named(visit.bench, state.bases),
        names=dict(_people(visit)),
    )


def _page(
    visit: Visit,
    form: Form,
    plate: Plate,
    *,
    code: str = "",
    found: tuple[HoistRow, ...] = (),
    hoist: HoistRow | None = None,
    status: int = 200,
) -> Response:
    if not form.sent:
        plate = _plate_of(form)
    once = visit.field("once")
    return visit.page(
        "book_in.html",
        status=status,
        form=form,
        code=code,
        found=found,
        hoist=hoist,
        kinds=KINDS,
        services=SERVICES,
        founds=FOUND,
        bases_said=[
            (basis.key, visit.language.sentence(basis.head.title))
            for basis in bases_named(visit.bench, basis_keys(visit.bench))
        ],
        languages=list(LANGUAGES.items()),
        workers=_workers(visit),
        once=once if _ONCE.fullmatch(once) else uuid.uuid4().hex,
        **_suggested(visit, form, plate),
    )


def _plate_of(form: Form) -> Plate:
    """The plate of a form that is only shown: of a hoist that came back."""
    return read_plate(form) if form.start.get("maker") or form.start.get("model") else Plate()


def _suggested(visit: Visit, form: Form, plate: Plate) -> dict[str, Any]:
    found = list(suggestions(plate, _all(visit)))
    chosen = form.value("design")
    if chosen not in ("", BEGIN, LATER, *(s.name for s in found)):
        design = design_named(visit.bench, chosen)
        if design is not None:
            found.insert(0, Suggestion(name=chosen, design=design, fits={}))
    return {"suggested": found, "chosen": chosen, "plate": plate}


def _all(visit: Visit) -> list[tuple[str, Design]]:
    return [(named.name, named.design) for named in all_designs(visit.bench)]


def _people(visit: Visit) -> list[tuple[str, str]]:
    with reading(visit.bench.engine) as conn:
        return [(account.key, account.name) for account in all_accounts(conn)]


def _workers(visit: Visit) -> list[tuple[str, str]]:
    """Those who can be given a job."""
    with reading(visit.bench.engine) as conn:
        people = all_accounts(conn)
    return [(p.key, p.name) for p in people if may(p, "work")]


def _usual_bases(visit: Visit) -> tuple[str, ...]:
    """Those the shop has adopted; before that, the widest two that are for hand hoists."""
    with reading(visit.bench.engine) as conn:
        adopted = {adoption.basis for adoption in shop_of(conn).adoptions}
    return tuple(key for key in basis_keys(visit.bench) if key in adopted) or ("workshop-practice",)


def _bases_of(visit: Visit, hoist: HoistRow) -> tuple[str, ...]:
    last = visit.bench.store.job(hoist.last_job)
    return tuple(json.loads(last.bases)) if last and last.bases else ()


def _photos(visit: Visit) -> list[bytes]:
    files = [f for f in visit.form.getlist("photo") if isinstance(f, UploadFile) and f.filename]
    return [f.file.read() for f in files[:12]]


PAGES = (
    Page(name="book-in", path="/book-in", show=show, take=take, see="book in", do="book in"),
    Page(name="book-in-suggest", path="/book-in/suggest", take=suggest, do="book in"),
    Page(name="booked", path="/booked/{job}", show=show_booked),
)
