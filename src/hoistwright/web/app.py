"""The bench as a web application."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from hoistwright.web.bench import Bench
from hoistwright.web.endpoint import arrive, endpoint, refusal
from hoistwright.web.pages import all_pages
from hoistwright.web.refused import Refused
from hoistwright.web.security.headers import BoundedBody, SafeHeaders
from hoistwright.web.templating import folder


class KeptFiles(StaticFiles):
    """Files whose address changes with their content: the browser may keep them."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        response.headers["cache-control"] = (
            "public, max-age=31536000, immutable" if scope["query_string"] else "no-cache"
        )
        return response


def bench_app(bench: Bench) -> Starlette:
    """The application of one bench."""
    routes: list[Route | Mount] = [
        Route(page.path, endpoint(page), methods=page.methods, name=page.name)
        for page in all_pages()
    ]
    routes.append(Mount("/static", KeptFiles(directory=folder("static")), name="static"))
    app = Starlette(
        routes=routes,
        middleware=[Middleware(SafeHeaders), Middleware(BoundedBody)],
        exception_handlers={HTTPException: _known, Exception: _failed},
    )
    app.state.bench = bench
    return app


async def _known(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    visit = await arrive(request)
    words = {
        404: visit.say("There is no such page here."),
        405: visit.say("This page cannot be used in this way."),
        400: visit.say("What was sent cannot be read."),
    }
    why = words.get(status, visit.say("The bench cannot answer this."))
    return await run_in_threadpool(
        refusal, visit, Refused(status, why, visit.say("Begin again from the first page."))
    )


async def _failed(request: Request, _error: Exception) -> Response:
    """A fault of ours. The details are in the terminal, never on the page."""
    try:
        visit = await arrive(request)
        refused = Refused(
            500,
            visit.say("The bench itself has failed here. It is not your doing."),
            visit.say(
                "What was acknowledged before is kept. Go back and try again; if it fails "
                "again, tell whoever looks after the bench: the details are in its terminal."
            ),
        )
        return await run_in_threadpool(refusal, visit, refused)
    except Exception:  # the database is gone, too: plain words still
        text = "The bench has failed and cannot reach its records. Tell whoever looks after it."
        return Response(text, status_code=500, media_type="text/plain")
