"""Templates, and what all of them can use."""

from __future__ import annotations

import functools
import hashlib
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from hoistwright.drawing.signs import ALL_SIGNS

if TYPE_CHECKING:
    from hoistwright.web.visit import Visit


def folder(name: str) -> Path:
    """A folder of this package."""
    return Path(str(resources.files("hoistwright.web"))) / name


@functools.cache
def environment() -> Environment:
    """The templates. Every text in them is escaped; a name that is not given is an error."""
    made = Environment(
        loader=FileSystemLoader(folder("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.do"],
    )
    made.globals["static"] = static
    made.globals["sign_of"] = sign_of
    return made


def render(visit: Visit, template: str, context: dict[str, Any]) -> str:
    """A page as text. Always at hand: visit, url, _, n_, name_,
    sentence_, colon, token, static, sign_of.
    """
    shared = {
        "visit": visit,
        "url": visit.url,
        "_": visit.say,
        "n_": visit.language.count,
        "name_": visit.language.name,
        "sentence_": visit.language.sentence,
        "colon": visit.language.colon,
        "token": visit.bench.tokens.form_token(visit.new_id or visit.id),
        "said": visit.bench.tokens.said(visit.request),
        "has_page": lambda name: name in page_names(),
        "here": visit.request.url.path,
    }
    return environment().get_template(template).render({**shared, **context})


@functools.cache
def page_names() -> frozenset[str]:
    """The names of all pages, for links to pages that may not be there."""
    from hoistwright.web.pages import all_pages

    return frozenset(page.name for page in all_pages())


@functools.cache
def path_of(name: str) -> str:
    """The address of a page, with its parts in braces. A page made a hundred links from it."""
    from hoistwright.web.pages import all_pages

    return {page.name: page.path for page in all_pages()}[name]


@functools.cache
def static(name: str) -> str:
    """The address of a file in `static/`, which changes with its content."""
    content = (folder("static") / name).read_bytes()
    return f"/static/{name}?{hashlib.sha256(content).hexdigest()[:12]}"


@functools.cache
def sign_of(state: str) -> Markup:
    """The sign of a verdict or a renewed part as a picture; the word must stand beside it."""
    path = ALL_SIGNS.get(state)
    if path is None:
        return Markup()
    return Markup(
        '<svg class="sign" viewBox="-2.4 -2.4 4.8 4.8" aria-hidden="true" focusable="false">'
        '<path d="{}" fill="none" stroke="currentColor" stroke-width="0.6"/></svg>'
    ).format(path)
