"""A booking put right: the fields of one of its forms, as a correction of what was booked in."""

from __future__ import annotations

import attrs

from hoistwright.job.events import Body, BookedIn, Corrected
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.language import LANGUAGES
from hoistwright.quantity import Quantity
from hoistwright.web.booking_form import FOUND, SERVICES, found_parts, found_said
from hoistwright.web.forms import Form
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.question import Question, ask
from hoistwright.web.plate_load import load_asked, typed_load

LOAD = "value"
"""The field of the rated load: it is asked back like every figure of a job."""


def booking_said(case: Case) -> Body | Question:
    """The booking with what a form says anew; a field that the form does not have stays."""
    booked = case.state.booked
    if booked is None:
        return ask("serial", case.visit.say("The hoist is not booked in yet."))
    form = Form(case.visit)
    load = _load(case, booked)
    if isinstance(load, Question):
        return load
    anew = attrs.evolve(
        _visit_said(form, booked),
        hoist=attrs.evolve(_hoist_said(form, booked.hoist), rated_load=load),
        customer=_customer_said(form, booked.customer),
    )
    _held_together(form, booked, anew)
    for field, words in form.faults.items():
        return ask(field, words)
    return Corrected(corrects=case.state.by_topic[booked.topic].event.id, replacement=anew)


def _text(form: Form, name: str, standing: str, most: int, needed: str = "") -> str:
    return form.text(name, most=most, needed=needed) if name in form.visit.form else standing


def _load(case: Case, booked: BookedIn) -> float | Question | None:
    """The rated load; asked back where it is new and no hoist, or not this design, has it."""
    visit, standing = case.visit, booked.hoist.rated_load
    if LOAD not in visit.form or (standing and visit.field(LOAD) == visit.load(standing)):
        return standing  # as it was shown, which may be rounded
    found = typed_load(visit, visit.field(LOAD))
    if isinstance(found, str):
        return ask(LOAD, found)
    if found is None or found.si == standing:
        return standing if found else None
    return _asked(case, found) or found.si


def _asked(case: Case, found: Quantity) -> Question | None:
    designs = [case.design] if case.design else []
    asked = load_asked(case.visit, case.visit.field(LOAD), found, designs)
    if asked is None:
        return None
    return Question(field=LOAD, words=asked.words, offers=asked.offers, sure=asked.sure)


def _hoist_said(form: Form, hoist: HoistIdentity) -> HoistIdentity:
    return attrs.evolve(
        hoist,
        maker=_text(form, "maker", hoist.maker, 80),
        model=_text(form, "model", hoist.model, 80),
        serial=_text(form, "serial", hoist.serial, 80),
        manufactured=_text(form, "manufactured", hoist.manufactured, 40),
        tag=_text(form, "tag", hoist.tag, 80),
    )


def _customer_said(form: Form, customer: Customer) -> Customer:
    wanted = form.value("paper_language") if "paper_language" in form.visit.form else None
    whose = form.visit.say("Whose hoist is it?")
    return Customer(
        name=_text(form, "customer", customer.name, 120, whose),
        address=_text(form, "address", customer.address, 400),
        premises=_text(form, "premises", customer.premises, 400),
        language=wanted if wanted in ("", *LANGUAGES) else customer.language,
    )


def _visit_said(form: Form, booked: BookedIn) -> BookedIn:
    sent = form.visit.form
    wanted = form.value("service")
    service = next((key for key, _ in SERVICES if key == wanted), booked.service)
    return attrs.evolve(
        booked,
        found=_found(form, booked.found),
        complaint=_text(form, "complaint", booked.complaint, 4000),
        received_on=form.date("received_on") if "received_on" in sent else booked.received_on,
        last_examined_on=(
            form.date("last_examined_on") if "last_examined_on" in sent else booked.last_examined_on
        ),
        service=service,
    )


def _found(form: Form, standing: str) -> str:
    """How it was found: one of the choices, words, or both. The form may have either alone."""
    sent = form.visit.form
    if "found" not in sent and "found_words" not in sent:
        return standing
    chosen, words = found_parts(standing)
    chosen = form.value("found") if "found" in sent else chosen
    if chosen and chosen not in {key for key, _ in FOUND}:
        chosen, words = "", chosen  # in words alone, as an older page sends it
    said = found_said(chosen, _text(form, "found_words", words, 4000))
    if not said:
        form.wrong("found", form.visit.say("Say how the hoist was found."))
    return said


def _held_together(form: Form, before: BookedIn, anew: BookedIn) -> None:
    """What one field alone cannot show to be wrong."""
    say = form.visit.say
    if not (anew.hoist.serial or anew.hoist.tag) and (before.hoist.serial or before.hoist.tag):
        form.wrong(
            "serial",
            say("A serial number is needed to know the hoist again, or the customer's own tag. "
                "If both are missing, hang a tag on it and type that."),
        )  # fmt: skip
    received, last = anew.received_on, anew.last_examined_on
    if received and received > form.visit.bench.today and received != before.received_on:
        form.wrong("received_on", say("This day is still to come."))
    if last and received and last > received:
        form.wrong("last_examined_on", say("Later than it was received."))
