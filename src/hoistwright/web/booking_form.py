"""The book-in form: what was typed off the data plate, about the customer and the visit."""

from __future__ import annotations

import attrs

from hoistwright.hoist.design import Kind
from hoistwright.job.events import BookedIn
from hoistwright.job.job_sheet import Customer, HoistIdentity, ServiceClass
from hoistwright.language import LANGUAGES, marked
from hoistwright.quantity import Dimension, Quantity
from hoistwright.web.booking_before import Before
from hoistwright.web.forms import Form
from hoistwright.web.plate import Plate
from hoistwright.web.plate_load import typed_load

KINDS: tuple[tuple[Kind, str], ...] = (
    ("hand chain hoist", marked("hand chain hoist")),
    ("lever hoist", marked("lever hoist")),
)
SERVICES: tuple[tuple[ServiceClass, str], ...] = (
    ("normal", marked("normal service")),
    ("heavy", marked("heavy service")),
    ("severe", marked("severe service")),
)
FOUND: tuple[tuple[str, str], ...] = (
    ("lifts and holds", marked("lifts and holds")),
    ("slips or creeps", marked("slips or creeps")),
    ("jams or does not lift", marked("jams or does not lift")),
    ("not tried", marked("not tried: unsafe or in pieces")),
)
_AND = "; "
"""Between what was chosen of FOUND and what was added in words."""
BEGIN, LATER = "begin", "later"
"""Choices beside the suggested designs: begin a design file, or choose later."""


def start_of(form_date: str, units: str, bases: tuple[str, ...]) -> dict[str, str]:
    """An empty form."""
    return {
        "received_on": form_date,
        "service": "normal",
        "bases": ",".join(bases),
        "kind": "hand chain hoist",
        "design": "",
        "units": units,
    }


def start_again(before: Before, start: dict[str, str]) -> dict[str, str]:
    """The form of a hoist that has been here before: what its last visit said still stands."""
    hoist, booked = before.hoist, before.booked
    load = "" if hoist.rated_load is None else f"{hoist.rated_load:.10g} kg"
    again = {
        **start,
        "kind": before.design.identity.kind if before.design else start["kind"],
        "maker": hoist.maker,
        "model": hoist.model,
        "serial": hoist.serial,
        "tag": hoist.tag,
        "rated_load": load,
        "customer": hoist.customer,
        "premises": hoist.premises,
        "design": hoist.design or LATER,
        "bases": ",".join(before.bases) or start["bases"],
        "last_examined_on": before.examined_on.isoformat() if before.examined_on else "",
    }
    if booked is not None:
        again["manufactured"] = booked.hoist.manufactured
        again["address"] = booked.customer.address
        again["paper_language"] = booked.customer.language
        again["service"] = booked.service
    return again


def read_plate(form: Form) -> Plate:
    """The figures by which a design is found."""
    inch = form.visit.units == "in"
    length = "in" if inch else "mm"
    load = typed_load(form.visit, form.value("rated_load"))
    if isinstance(load, str):
        form.wrong("rated_load", load)
    wire = form.quantity("wire", Dimension.LENGTH, length)
    pitch = form.quantity("pitch", Dimension.LENGTH, length)
    say = form.visit.say
    for name, found, most in (("wire", wire, 0.1), ("pitch", pitch, 1)):
        if found is not None and not 0 < found.si <= most:
            form.wrong(name, say("This cannot be so. Look at the figure and its unit again."))
    kind = form.choice("kind", [key for key, _ in KINDS])
    return Plate(
        maker=form.text("maker", most=80),
        model=form.text("model", most=80),
        kind=next((key for key, _ in KINDS if key == kind), ""),
        rated_load=load.si if isinstance(load, Quantity) else None,
        falls=form.whole("falls", 1, 16),
        wire=wire.si if wire else None,
        pitch=pitch.si if pitch else None,
    )


def read_booking(form: Form, plate: Plate, bases: tuple[str, ...]) -> BookedIn:
    """The event, but for its design; every fault is noted in the form."""
    say = form.visit.say
    serial = form.text("serial", most=80)
    tag = form.text("tag", most=80)
    if not serial and not tag:
        form.wrong(
            "serial",
            say("A serial number is needed to know the hoist again, or the customer's own tag. "
                "If both are missing, hang a tag on it and type that."),
        )  # fmt: skip
    chosen = tuple(key for key in form.values("bases") if key in bases)
    if not chosen:
        form.wrong("bases", say("Choose at least one basis: without one nothing can be judged."))
    service = form.choice("service", [key for key, _ in SERVICES])
    received, last = form.date("received_on"), form.date("last_examined_on")
    today = form.visit.bench.today
    if received and received > today:
        form.wrong("received_on", say("This day is still to come."))
    if last and received and last > received:
        form.wrong("last_examined_on", say("Later than it was received."))
    hoist = HoistIdentity(
        maker=plate.maker,
        model=plate.model,
        serial=serial,
        manufactured=form.text("manufactured", most=40),
        rated_load=plate.rated_load,
        tag=tag,
    )
    customer = Customer(
        name=form.text("customer", needed=say("Whose hoist is it?"), most=120),
        address=form.text("address", most=400),
        premises=form.text("premises", most=400),
        language=form.choice("paper_language", ["", *LANGUAGES]),
    )
    return BookedIn(
        hoist=hoist,
        customer=customer,
        bases=chosen,
        complaint=form.text("complaint", most=4000),
        found=found_said(
            form.choice("found", [key for key, _ in FOUND]), form.text("found_words", most=4000)
        ),
        received_on=received,
        last_examined_on=last,
        service=next((key for key, _ in SERVICES if key == service), "normal"),
        units=form.visit.units,
    )


def found_said(chosen: str, words: str) -> str:
    """The function as found as one text: what was chosen, and what was added in words."""
    return _AND.join(text for text in (chosen, words) if text)


def found_parts(found: str) -> tuple[str, str]:
    """The choice and the words of a function as found.

    >>> found_parts("slips or creeps; with the load half up")
    ('slips or creeps', 'with the load half up')
    >>> found_parts("would not lift")
    ('', 'would not lift')
    """
    chosen, _, words = found.partition(_AND)
    return (chosen, words) if chosen in {key for key, _ in FOUND} else ("", found)


def with_design(booked: BookedIn, design: str) -> BookedIn:
    return attrs.evolve(booked, design=design)
