"""Asking a person who is signed in for their password or PIN once more, before a signature."""

from __future__ import annotations

from hoistwright.store.connect import reading, writing
from hoistwright.web.forms import Form
from hoistwright.web.records.attempts import forget_failures, note_failure, too_many
from hoistwright.web.security.secrets import matches

FIELD = "secret"


def proves_self(form: Form) -> str:
    """The password or PIN that was typed; empty where it is not theirs, which the form tells.

    Failures count as those of signing in do.
    """
    visit, say = form.visit, form.visit.say
    secret = str(visit.form.get(FIELD, ""))[:1000]
    if not secret:
        form.wrong(FIELD, say("Type your password or PIN."))
        return ""
    account = visit.person
    with reading(visit.bench.engine) as conn:
        locked = too_many(conn, account.key, visit.address, visit.now)
    if locked:
        form.wrong(FIELD, say("Too many attempts that failed. Wait a quarter of an hour."))
        return ""
    if matches(account.password, secret) or (account.pin and matches(account.pin, secret)):
        with writing(visit.bench.engine) as conn:
            forget_failures(conn, account.key)
        return secret
    with writing(visit.bench.engine) as conn:
        note_failure(conn, account.key, visit.address, visit.now)
    form.wrong(FIELD, say("This is neither your password nor your PIN. Nothing was signed."))
    return ""
