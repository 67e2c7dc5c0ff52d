"""One's own page: language, units, password, PIN; and another person at this tablet."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.language import LANGUAGES, language
from hoistwright.store.connect import reading, writing
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.passwords import read_password, read_pin
from hoistwright.web.records.accounts import Account, all_accounts, change_account
from hoistwright.web.records.attempts import forget_failures, note_failure, too_many
from hoistwright.web.records.sessions import change_person, end_sessions_of, open_session
from hoistwright.web.security.secrets import hashed, matches
from hoistwright.web.visit import Visit

UNITS = ("mm", "in")


def show(visit: Visit) -> Response:
    return _me(visit, Form(visit, {"language": visit.person.language, "units": visit.units}))


def take(visit: Visit) -> Response:
    """Language and units."""
    form = Form(visit)
    code = form.choice("language", tuple(LANGUAGES), needed=visit.say("Choose a language."))
    units = form.choice("units", UNITS, needed=visit.say("Choose the units."))
    if not form.sound:
        return _me(visit, form, 422)
    changed = attrs.evolve(visit.person, language=code, units="in" if units == "in" else "mm")
    with writing(visit.bench.engine) as conn:
        change_account(conn, changed)
    visit.tell(language(code).say("Your language and units are kept."))
    return visit.go("me")


def take_secrets(visit: Visit) -> Response:
    """A new password or PIN, against the password that holds now."""
    form = Form(visit)
    wants_password = bool(visit.form.get("password"))
    password = read_password(form, visit.person.name) if wants_password else ""
    pin = read_pin(form)
    if not (wants_password or pin):
        form.wrong("pin", visit.say("Type a new PIN or a new password."))
    if form.sound and not _knows(visit, form):
        return _me(visit, form, 422)
    if not form.sound:
        return _me(visit, form, 422)
    changed = attrs.evolve(
        visit.person,
        password=hashed(password) if password else visit.person.password,
        pin=hashed(pin) if pin else visit.person.pin,
    )
    with writing(visit.bench.engine) as conn:
        change_account(conn, changed)
        if password:
            end_sessions_of(conn, changed.key)
            visit.new_id = open_session(conn, changed.key, visit.now).id
    visit.tell(visit.say("Kept. It holds from now on."))
    return visit.go("me")


def _knows(visit: Visit, form: Form) -> bool:
    """Whether the present password was given. Failures count against the account."""
    key = visit.person.key
    with reading(visit.bench.engine) as conn:
        locked = too_many(conn, key, visit.address, visit.now)
    if locked:
        form.wrong(
            "present", visit.say("Too many attempts that failed. Wait a quarter of an hour.")
        )
        return False
    if matches(visit.person.password, str(visit.form.get("present", ""))[:1000]):
        return True
    with writing(visit.bench.engine) as conn:
        note_failure(conn, key, visit.address, visit.now)
    form.wrong("present", visit.say("This is not your present password."))
    return False


def _me(visit: Visit, form: Form, status: int = 200) -> Response:
    return visit.page("me.html", form=form, languages=LANGUAGES, status=status)


# another person at this tablet


def show_change(visit: Visit) -> Response:
    return _change(visit, Form(visit))


def take_change(visit: Visit) -> Response:
    form = Form(visit)
    others = {person.key: person for person in _others(visit)}
    key = form.choice("person", tuple(others), needed=visit.say("Choose who you are."))
    session = visit.session
    if session is None or not session.may_change_by_pin(visit.now):
        form.wrong("pin", visit.say("Not on this tablet any more today: sign in by password."))
    if not form.sound or session is None:
        return _change(visit, form, 422)
    with reading(visit.bench.engine) as conn:
        locked = too_many(conn, f"pin {key}", visit.address, visit.now)
    if locked:
        form.wrong("pin", visit.say("Too many attempts that failed. Sign in by password."))
        return _change(visit, form, 429)
    if not matches(others[key].pin, form.value("pin")):
        with writing(visit.bench.engine) as conn:
            note_failure(conn, f"pin {key}", visit.address, visit.now)
        form.wrong("pin", visit.say("This is not the PIN of the person chosen."))
        return _change(visit, form, 422)
    with writing(visit.bench.engine) as conn:
        forget_failures(conn, f"pin {key}")
        visit.new_id = change_person(conn, session, key, visit.now).id
    return visit.go_to(form.value("next"))


def _others(visit: Visit) -> tuple[Account, ...]:
    """Those who can come by PIN."""
    with reading(visit.bench.engine) as conn:
        people = all_accounts(conn)
    return tuple(p for p in people if p.active and p.pin and p.key != visit.person.key)


def _change(visit: Visit, form: Form, status: int = 200) -> Response:
    session = visit.session
    allowed = session is not None and session.may_change_by_pin(visit.now)
    return visit.page(
        "change_person.html", form=form, people=_others(visit), allowed=allowed, status=status
    )


PAGES = (
    Page(name="me", path="/me", show=show, take=take, do="own"),
    Page(name="my-secrets", path="/me/secrets", show=show, take=take_secrets, do="own",
         password_only=True),
    Page(name="change-person", path="/change-person", show=show_change, take=take_change,
         do="own"),
)  # fmt: skip
