"""Every page of the bench. A new page: a module here, its template beside, its name below."""

from __future__ import annotations

import importlib

from hoistwright.web.page import Page

MODULES = (
    "sign_in",
    "first",
    "me",
    "in_shop",
    "job",
    "book_in",
    "hoists",
    "returns",
    "load",
    "recalls",
    "gauges",
    "prices",
    "charges",
    "designs",
    "bases",
    "people",
    "register",
    "verify",
    "about",
)


def all_pages() -> tuple[Page, ...]:
    """The pages of all modules, in order; each module has them in `PAGES`."""
    modules = (importlib.import_module(f"{__name__}.{name}") for name in MODULES)
    return tuple(page for module in modules for page in module.PAGES)
