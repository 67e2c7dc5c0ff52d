"""Booking in: a scanned tag or a typed data plate, the design found or begun, the job made."""

from __future__ import annotations

import re
import uuid

from starlette.datastructures import UploadFile
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.language import LANGUAGES
from hoistwright.store.connect import reading
from hoistwright.store.model import HoistRow
from hoistwright.web.bases import bases_named, basis_keys
from hoistwright.web.booking import begin_design, photographed, write_booking
from hoistwright.web.booking_before import Before, before_of
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
from hoistwright.web.booking_suggest import suggested
from hoistwright.web.designs import design_named
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.plate import Plate
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.rights import may
from hoistwright.web.templating import page_names
from hoistwright.web.visit import Visit

_ONCE = re.compile(r"[0-9a-f]{32}")


def show(visit: Visit) -> Response:
    code = visit.query("code")[:200]
    found = visit.bench.store.search(code, limit=8) if code else ()
    before = before_of(visit.bench, visit.query("hoist"))
    start = start_of(visit.bench.today.isoformat(), visit.units, _usual_bases(visit))
    if before is not None:
        start = start_again(before, start)
    elif code and not found:
        start["tag"] = code
    return _page(visit, Form(visit, start), Plate(), code=code, found=found, before=before)


def take(visit: Visit) -> Response:
    form = Form(visit)
    plate = read_plate(form)
    before = before_of(visit.bench, visit.field("hoist"))
    if "find" in (visit.field("act"), visit.query("act")):
        return _page(visit, form, plate, before=before)
    booked = read_booking(form, plate, basis_keys(visit.bench))
    _choices(visit, form, plate, before)
    giver = form.choice("given_to", [key for key, _ in _workers(visit)])
    once = visit.field("once") if _ONCE.fullmatch(visit.field("once")) else uuid.uuid4().hex
    design = _design(visit, form, plate, once) if form.sound else ""
    if not form.sound:
        return _page(visit, form, plate, before=before, status=422)
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


def _choices(visit: Visit, form: Form, plate: Plate, before: Before | None) -> None:
    """Note where the design is not chosen, or the rated load is doubtful."""
    offered = suggested(visit, form, plate, before)
    choice = visit.field("design")
    if offered["load_asked"]:
        form.wrong("rated_load", offered["load_asked"].words)
    if not choice and offered["suggested"]:
        form.wrong("design", visit.say("Which design is it? Choose one, or choose to say later."))
    if choice not in ("", BEGIN, LATER) and design_named(visit.bench, choice) is None:
        form.wrong("design", visit.say("Choose one of those shown."))


def _design(visit: Visit, form: Form, plate: Plate, once: str) -> str:
    """The name of the design that was chosen, or of the one begun; empty for later."""
    choice = visit.field("design")
    if choice != BEGIN:
        return "" if choice == LATER else choice
    try:
        return begin_design(visit.bench, plate, once, visit.person.key)[0]
    except FaultsError as error:
        form.wrong("design", str(error.faults[0]))
        return ""


def suggest(visit: Visit) -> Response:
    """The suggestions alone, for script that fetches them while somebody types."""
    form = Form(visit)
    plate = read_plate(form)
    offered = suggested(visit, form, plate, before_of(visit.bench, visit.field("hoist")))
    return visit.page("suggestions.html", form=form, apart=True, **offered)


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
    before: Before | None = None,
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
        before=before,
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
        **suggested(visit, form, plate, before),
    )


def _plate_of(form: Form) -> Plate:
    """The plate of a form that is only shown: of a hoist that came back."""
    return read_plate(form) if form.start.get("maker") or form.start.get("model") else Plate()


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


def _photos(visit: Visit) -> list[bytes]:
    files = [f for f in visit.form.getlist("photo") if isinstance(f, UploadFile) and f.filename]
    return [f.file.read() for f in files[:12]]


PAGES = (
    Page(name="book-in", path="/book-in", show=show, take=take, see="book in", do="book in"),
    Page(name="book-in-suggest", path="/book-in/suggest", take=suggest, do="book in"),
    Page(name="booked", path="/booked/{job}", show=show_booked),
)
