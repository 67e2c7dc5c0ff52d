"""From a request to a page function and back: session, rights, token, thread."""

from __future__ import annotations

import inspect
import json
from collections.abc import Awaitable, Callable
from typing import Any, cast

from sqlalchemy import Connection
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from hoistwright.language import LANGUAGES, Language, language
from hoistwright.store.connect import writing
from hoistwright.store.errors import ClashError, StoreError
from hoistwright.web.bench import Bench
from hoistwright.web.page import Act, Page
from hoistwright.web.records.accounts import Account, find_account
from hoistwright.web.records.sessions import IDLE, NOTED, Session, find_session, note_use
from hoistwright.web.refused import Refused
from hoistwright.web.rights import may
from hoistwright.web.security.tokens import FIELD, HEADER, SAID, same_site
from hoistwright.web.visit import Visit

LANGUAGE_COOKIE = "bench-language"
MOST_FIELDS = 2_000


def endpoint(page: Page) -> Callable[[Request], Awaitable[Response]]:
    """The function that answers every request to a page."""

    async def answer(request: Request) -> Response:
        visit = await arrive(request)
        try:
            response = await _answer(page, visit)
        except Refused as refused:
            response = await run_in_threadpool(refusal, visit, refused)
        except ClashError as error:  # an id that somebody else's entry has
            response = await run_in_threadpool(refusal, visit, Refused(409, str(error)))
        except StoreError as error:  # its words say what is safe and what to do
            response = await run_in_threadpool(refusal, visit, Refused(503, str(error)))
        finally:
            await visit.form.close()
        return _leave(visit, response)

    return answer


async def arrive(request: Request) -> Visit:
    """Who it is that asks."""
    bench = cast("Bench", request.app.state.bench)
    id_ = bench.tokens.read(request)
    session, account = bench.kept.at_hand(bench.engine, ("who", id_)) or (None, None)
    if not (session and account and account.active and bench.now() - session.used_at < NOTED):
        session, account = await run_in_threadpool(_who, bench, id_)
    return Visit(
        request=request,
        bench=bench,
        id=id_ or bench.tokens.new_visitor(),
        is_new=not id_,
        new_id="",
        session=session,
        account=account,
        language=_language(request, account),
    )


def _who(bench: Bench, id_: str) -> tuple[Session | None, Account | None]:
    if not id_ or id_.startswith("v"):
        return None, None
    now = bench.now()

    def ask(conn: Connection) -> tuple[Session | None, Account | None]:
        session = find_session(conn, id_, now)
        return session, find_account(conn, session.person) if session else None

    session, account = bench.kept.get(bench.engine, ("who", id_), ask)
    if session is None or account is None or not account.active or now - session.used_at > IDLE:
        return None, None
    if now - session.used_at > NOTED:
        with writing(bench.engine) as conn:
            note_use(conn, session, now)
    return session, account


def _language(request: Request, account: Account | None) -> Language:
    if account is not None:
        return language(account.language if account.language in LANGUAGES else "en")
    chosen = request.cookies.get(LANGUAGE_COOKIE, "")
    if chosen in LANGUAGES:
        return language(chosen)
    wanted = request.headers.get("accept-language", "").split(",")
    codes = [entry.split(";")[0].strip().split("-")[0].lower() for entry in wanted]
    return language(next((code for code in codes if code in LANGUAGES), "en"))


async def _answer(page: Page, visit: Visit) -> Response:
    taking = visit.request.method == "POST"
    if not page.open and visit.account is None:
        return _sign_in_first(visit, taking)
    right = page.do if taking else page.see
    if not page.open and not may(visit.account, right):
        raise Refused(
            403,
            visit.say("This is not among the things you may do here."),
            visit.say("Somebody with the role for it can, or an administrator gives you the role."),
        )
    if page.password_only and visit.session and not visit.session.by_password:
        raise Refused(
            403,
            visit.say("This page needs your password; you came by PIN."),
            visit.say("Sign out, and sign in with your password."),
        )
    if taking:
        await _read(visit)
    act = page.take if taking else page.show
    if act is None:
        raise Refused(405, visit.say("This page takes no form."))
    return await _run(act, visit)


async def _run(act: Act, visit: Visit) -> Response:
    if inspect.iscoroutinefunction(act):
        return cast("Response", await act(visit))
    return cast("Response", await run_in_threadpool(cast("Callable[[Visit], Any]", act), visit))


def _sign_in_first(visit: Visit, taking: bool) -> Response:
    if wants_json(visit.request):
        words = visit.say("You are signed out. Sign in again; nothing you entered is lost.")
        return JSONResponse({"refused": words, "sign_in": visit.url("sign-in")}, status_code=401)
    path = "/" if taking else visit.request.url.path
    return RedirectResponse(f"{visit.url('sign-in')}?next={path}", status_code=303)


async def _read(visit: Visit) -> None:
    """The form or JSON of a request, once it is certain that our own page sent it."""
    request = visit.request
    if request.headers.get("content-type", "").startswith("application/json"):
        visit.json = await _json(visit)
    else:
        visit.form = await request.form(max_fields=MOST_FIELDS)
    sent = request.headers.get(HEADER) or visit.field(FIELD)
    if not same_site(request) or not visit.bench.tokens.fits(visit.id, sent):
        raise Refused(
            403,
            visit.say("This form did not come from a page of this bench, or the page is too old."),
            visit.say("Go back, load the page again, and send the form once more."),
        )


async def _json(visit: Visit) -> Any:
    try:
        return json.loads(await visit.request.body())
    except (ValueError, RecursionError):
        raise Refused(400, visit.say("What was sent cannot be read.")) from None


def wants_json(request: Request) -> bool:
    """Whether script asks, and not a person's browser for a page."""
    return "application/json" in request.headers.get("accept", "")


def refusal(visit: Visit, refused: Refused) -> Response:
    """A refusal as a page, or as JSON for script."""
    if wants_json(visit.request):
        body = {"refused": refused.why, "next": refused.next_step}
        return JSONResponse(body, status_code=refused.status)
    return visit.page("refused.html", status=refused.status, refused=refused)


def _leave(visit: Visit, response: Response) -> Response:
    request, tokens = visit.request, visit.bench.tokens
    if visit.new_id or visit.is_new:
        tokens.write(request, response, visit.new_id or visit.id)
    if visit.next_words:
        tokens.say_next(request, response, visit.next_words)
    elif SAID in request.cookies and response.status_code == 200:
        response.delete_cookie(SAID)
    return response
