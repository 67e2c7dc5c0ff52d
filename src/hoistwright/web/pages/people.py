"""The people: adding them, their roles, and one-time links to choose a password."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.language import LANGUAGES
from hoistwright.store.connect import reading, writing
from hoistwright.web.forms import Form
from hoistwright.web.keys import free_key
from hoistwright.web.page import Page
from hoistwright.web.records.accounts import (
    ROLES,
    Account,
    add_account,
    administrators,
    all_accounts,
    change_account,
    find_account,
)
from hoistwright.web.records.attempts import forget_failures
from hoistwright.web.records.invitations import invite
from hoistwright.web.records.sessions import end_sessions_of
from hoistwright.web.refused import Refused
from hoistwright.web.shop_keys import give_demo_keys
from hoistwright.web.visit import Visit


def show_all(visit: Visit) -> Response:
    with reading(visit.bench.engine) as conn:
        people = all_accounts(conn)
    return visit.page("people.html", people=people)


def show_new(visit: Visit) -> Response:
    start = {"roles": "technician", "language": visit.language.code, "active": "yes"}
    return _page(visit, Form(visit, start), None)


def take_new(visit: Visit) -> Response:
    form = Form(visit)
    read = _read(form, Account(key="", name="", roles=()))
    if not form.sound:
        return _page(visit, form, None, status=422)
    with writing(visit.bench.engine) as conn:
        key = free_key(read.name, [account.key for account in all_accounts(conn)])
        account = attrs.evolve(read, key=key, active=True)
        add_account(conn, account)
        token = invite(conn, key, visit.now)
    give_demo_keys(visit.bench)
    return _linked(visit, account, token)


def show(visit: Visit) -> Response:
    account = _account(visit)
    start = {
        "name": account.name,
        "roles": ",".join(account.roles),
        "qualification": account.qualification,
        "language": account.language,
        "active": "yes" if account.active else "no",
    }
    return _page(visit, Form(visit, start), account)


def take(visit: Visit) -> Response:
    account = _account(visit)
    form = Form(visit)
    read = _read(form, account)
    active = form.choice("active", ("yes", "no"), needed=visit.say("Choose one.")) == "yes"
    changed = attrs.evolve(read, active=active)
    with writing(visit.bench.engine) as conn:
        others = [a for a in all_accounts(conn) if a.key != account.key]
        if not administrators([*others, changed]):
            form.wrong("roles", visit.say("Nobody would be left to administer. Keep this one."))
        if form.sound:
            change_account(conn, changed)
            if changed.roles != account.roles or not active:
                end_sessions_of(conn, account.key) if account.key != visit.person.key else None
    if not form.sound:
        return _page(visit, form, account, status=422)
    give_demo_keys(visit.bench)
    visit.tell(visit.say("%(name)s is kept.", name=changed.name))
    return visit.go("people")


def take_link(visit: Visit) -> Response:
    """A new one-time link: the password was forgotten, or the last link was lost."""
    account = _account(visit)
    with writing(visit.bench.engine) as conn:
        forget_failures(conn, account.key)
        token = invite(conn, account.key, visit.now)
    return _linked(visit, account, token)


def _read(form: Form, account: Account) -> Account:
    say = form.visit.say
    roles = tuple(role for role in ROLES if role in form.values("roles"))
    if not roles:
        form.wrong("roles", say("Choose at least one role."))
    return attrs.evolve(
        account,
        name=form.text("name", needed=say("Type the person's name."), most=80),
        qualification=form.text("qualification"),
        roles=roles,
        language=form.choice("language", tuple(LANGUAGES), needed=say("Choose a language.")),
    )


def _account(visit: Visit) -> Account:
    with reading(visit.bench.engine) as conn:
        account = find_account(conn, visit.part("person"))
    if account is None:
        raise Refused(404, visit.say("There is nobody of that name here."))
    return account


def _page(visit: Visit, form: Form, account: Account | None, *, status: int = 200) -> Response:
    return visit.page(
        "person.html",
        form=form,
        account=account,
        roles_said=visit.said((role, role) for role in ROLES),
        languages=LANGUAGES,
        status=status,
    )


def _linked(visit: Visit, account: Account, token: str) -> Response:
    """The link is shown once: only its hash is kept."""
    link = str(visit.request.base_url).rstrip("/") + visit.url("first", token=token)
    return visit.page("person_link.html", account=account, link=link)


PAGES = (
    Page(name="people", path="/people", show=show_all, see="administer"),
    Page(name="new-person", path="/people/new", show=show_new, take=take_new,
         see="administer", do="administer", password_only=True),
    Page(name="person", path="/people/of/{person}", show=show, take=take,
         see="administer", do="administer", password_only=True),
    Page(name="person-link", path="/people/of/{person}/link", take=take_link,
         see="administer", do="administer", password_only=True),
)  # fmt: skip
