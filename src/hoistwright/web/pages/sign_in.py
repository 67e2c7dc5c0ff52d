"""Signing in and out, and the language before anybody has."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.language import LANGUAGES
from hoistwright.store.connect import reading, writing
from hoistwright.web.endpoint import LANGUAGE_COOKIE
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.records.accounts import Account, all_accounts
from hoistwright.web.records.attempts import forget_failures, note_failure, too_many
from hoistwright.web.records.sessions import end_session, open_session
from hoistwright.web.security.secrets import matches
from hoistwright.web.visit import Visit


def show(visit: Visit) -> Response:
    if visit.account is not None:
        return visit.go("in-shop")
    return _page(visit, Form(visit, {"next": visit.query("next")}))


def take(visit: Visit) -> Response:
    form = Form(visit)
    name = form.text("name", needed=visit.say("Type your name, or your short name."))
    password = str(visit.form.get("password", ""))
    if not password:
        form.wrong("password", visit.say("Type your password."))
    if not form.sound:
        return _page(visit, form, 422)
    with reading(visit.bench.engine) as conn:
        account = _named(all_accounts(conn), name)
        key = account.key if account else name.casefold()
        locked = too_many(conn, key, visit.address, visit.now)
    if locked:
        form.wrong("name", _wait(visit))
        return _page(visit, form, 429)
    good = matches(account.password if account else "", password[:1000])
    if account is None or not account.active or not good:
        with writing(visit.bench.engine) as conn:
            note_failure(conn, key, visit.address, visit.now)
        form.wrong("password", visit.say("Name and password do not go together. Try again."))
        return _page(visit, form, 422)
    with writing(visit.bench.engine) as conn:
        forget_failures(conn, account.key)
        visit.new_id = open_session(conn, account.key, visit.now).id
    return visit.go_to(form.value("next"))


def leave(visit: Visit) -> Response:
    """Sign out; on a shared tablet the session is over for everybody."""
    if visit.session is not None:
        with writing(visit.bench.engine) as conn:
            end_session(conn, visit.session)
    visit.new_id = visit.bench.tokens.new_visitor()
    return visit.go("sign-in")


def speak(visit: Visit) -> Response:
    """Another language, before signing in."""
    response = visit.go_to(visit.query("back"))
    if visit.part("code") in LANGUAGES:
        response.set_cookie(LANGUAGE_COOKIE, visit.part("code"), samesite="lax", httponly=True)
    return response


def _page(visit: Visit, form: Form, status: int = 200) -> Response:
    return visit.page("sign_in.html", form=form, languages=LANGUAGES, status=status)


def _named(people: tuple[Account, ...], name: str) -> Account | None:
    """The person meant by a short name, or by a full name that only one person has."""
    wanted = " ".join(name.casefold().split())
    for account in people:
        if account.key.casefold() == wanted:
            return account
    same = [account for account in people if account.name.casefold() == wanted]
    return same[0] if len(same) == 1 else None


def _wait(visit: Visit) -> str:
    return visit.say(
        "Too many attempts that failed. Wait a quarter of an hour, or let an administrator "
        "make a new link for you."
    )


PAGES = (
    Page(name="sign-in", path="/sign-in", show=show, take=take, open=True),
    Page(name="sign-out", path="/sign-out", take=leave, open=True),
    Page(name="speak", path="/language/{code}", show=speak, open=True),
)
