"""One-time links: the first administrator, and people who choose their own password."""

from __future__ import annotations

import attrs
from starlette.responses import Response

from hoistwright.store.connect import reading, writing
from hoistwright.web.forms import Form
from hoistwright.web.keys import free_key
from hoistwright.web.page import Page
from hoistwright.web.passwords import read_password
from hoistwright.web.records.accounts import (
    Account,
    AccountRole,
    add_account,
    all_accounts,
    change_account,
    find_account,
)
from hoistwright.web.records.attempts import forget_failures
from hoistwright.web.records.invitations import FIRST, invited, use_up
from hoistwright.web.records.sessions import end_sessions_of, open_session
from hoistwright.web.refused import Refused
from hoistwright.web.security.secrets import hashed
from hoistwright.web.shop_keys import give_demo_keys
from hoistwright.web.visit import Visit

BENCH_ROLES: tuple[AccountRole, ...] = ("technician", "competent person")


def show(visit: Visit) -> Response:
    account = _meant(visit)
    start = {"roles": ",".join(BENCH_ROLES) if visit.bench.demo else ""}
    return _page(visit, Form(visit, start), account)


def take(visit: Visit) -> Response:
    account = _meant(visit)
    form = Form(visit)
    name = account.name if account else ""
    if account is None:
        name = form.text("name", needed=visit.say("Type your name: your entries bear it."), most=80)
    qualification = form.text("qualification", most=160)
    password = read_password(form, name)
    if not form.sound:
        return _page(visit, form, account, 422)
    secret = hashed(password)
    with writing(visit.bench.engine) as conn:
        if not use_up(conn, visit.part("token")):
            raise _void(visit)
        if account is None:
            account = Account(
                key=free_key(name, [a.key for a in all_accounts(conn)]),
                name=name,
                roles=("administrator", *(r for r in BENCH_ROLES if r in form.values("roles"))),
                qualification=qualification,
                language=visit.language.code,
                password=secret,
            )
            add_account(conn, account)
        else:
            change_account(conn, attrs.evolve(account, password=secret))
            end_sessions_of(conn, account.key)
        forget_failures(conn, account.key)
        visit.new_id = open_session(conn, account.key, visit.now).id
    give_demo_keys(visit.bench)
    visit.tell(visit.say("Welcome. Your short name for signing in is %(key)s.", key=account.key))
    return visit.go("in-shop")


def _meant(visit: Visit) -> Account | None:
    """The account of a link; None for the link of the first administrator."""
    with reading(visit.bench.engine) as conn:
        person = invited(conn, visit.part("token"), visit.now)
        account = find_account(conn, person) if person else None
    if person is None or (account is None and person != FIRST):
        raise _void(visit)
    if account is not None and not account.active:
        raise _void(visit)
    return account


def _void(visit: Visit) -> Refused:
    return Refused(
        410,
        visit.say("This link has been used already, or is too old."),
        visit.say(
            "Sign in with your name and password. If you have none yet, ask an administrator for "
            "a new link; the very first one is printed in the terminal when the bench starts."
        ),
    )


def _page(visit: Visit, form: Form, account: Account | None, status: int = 200) -> Response:
    return visit.page("first.html", form=form, account=account, roles=BENCH_ROLES, status=status)


PAGES = (Page(name="first", path="/first/{token}", show=show, take=take, open=True),)
