"""A page: its address, what shows it, what takes its form, and who may."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

import attrs
from starlette.responses import Response

from hoistwright.web.rights import Right
from hoistwright.web.visit import Visit

Act = Callable[[Visit], Response] | Callable[[Visit], Awaitable[Response]]
"""A plain function runs on a thread of its own; a coroutine (a stream) on the event loop."""


@attrs.frozen(kw_only=True)
class Page:
    """`show` answers GET, `take` answers POST. Registered in `pages/__init__.py`.

    `open` pages need nobody signed in. Every POST has its form token checked before `take`.
    """

    name: str
    path: str
    show: Act | None = None
    take: Act | None = None
    see: Right = "see"
    do: Right = "work"
    open: bool = False
    password_only: bool = False
    """Not for somebody who came by PIN."""

    @property
    def methods(self) -> list[str]:
        return [m for m, act in (("GET", self.show), ("POST", self.take)) if act is not None]
