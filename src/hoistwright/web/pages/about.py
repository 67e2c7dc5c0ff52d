"""Help, and what the bench is and is not."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright import __version__
from hoistwright.web.page import Page
from hoistwright.web.visit import Visit


def show(visit: Visit) -> Response:
    return visit.page("about.html", version=__version__)


PAGES = (Page(name="about", path="/help", show=show, open=True),)
