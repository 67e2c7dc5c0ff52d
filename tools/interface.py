"""The bench's own description of its interface, in the form of OpenAPI 3.1.

Addresses, methods and parts of addresses come from the routes of the application; the fields of
its forms, with what they offer to choose from, from the forms on its own pages, as somebody who
follows every link finds them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from html.parser import HTMLParser
from typing import Any
from urllib.parse import unquote, urlsplit

import attrs
from starlette.routing import Route

from hoistwright.web.app import bench_app
from hoistwright.web.bench import Bench

MOST_PAGES = 400
MOST_OF_ONE = 4
"""Addresses of one page that are looked at."""
MOST_EXAMPLES = 20
ENDLESS = ("job-stream",)
"""Pages that go on telling until somebody leaves."""
FORM = "application/x-www-form-urlencoded"

Fields = dict[str, dict[str, Any]]


def description(bench: Bench, read: Callable[[str], str]) -> dict[str, Any]:
    """The description; `read` gives the page at an address, as somebody signed in sees it."""
    routes = [route for route in bench_app(bench).routes if isinstance(route, Route)]
    found = _Walk(routes)
    found.walk(read)
    return {
        "openapi": "3.1.0",
        "info": {"title": "The bench", "version": "1"},
        "paths": {route.path: _path(route, found) for route in routes},
    }


def _path(route: Route, found: _Walk) -> dict[str, Any]:
    parts = [
        {
            "name": name,
            "in": "path",
            "required": True,
            "schema": {"type": "string", "examples": sorted(found.parts.get(name, ()))},
        }
        for name in route.param_convertors
    ]
    asked = [
        {"name": name, "in": "query", "schema": {"type": "string"}}
        for name in sorted(found.queries.get(route.path, ()))
    ]
    out: dict[str, Any] = {"parameters": parts}
    for method in sorted((route.methods or set()) - {"HEAD"}):
        kind = "text/event-stream" if route.name in ENDLESS else "text/html"
        about: dict[str, Any] = {
            "responses": {"default": {"description": "", "content": {kind: {}}}}
        }
        if method == "GET":
            about["parameters"] = asked
        else:
            schema = {"type": "object", "properties": found.fields.get(route.path, {})}
            about["requestBody"] = {"content": {FORM: {"schema": schema}}}
        out[method.lower()] = about
    return out


@attrs.define
class _Walk:
    """Follows the links of the pages and notes what it comes by."""

    routes: list[Route]
    parts: dict[str, set[str]] = attrs.Factory(dict)
    queries: dict[str, set[str]] = attrs.Factory(dict)
    fields: dict[str, Fields] = attrs.Factory(dict)

    def walk(self, read: Callable[[str], str]) -> None:
        waiting, seen, of_one = ["/"], {"/"}, dict[str, int]()
        while waiting and len(seen) < MOST_PAGES:
            at = waiting.pop(0)
            page = _Page()
            page.feed(read(at))
            for action, fields in page.forms:
                self._note_form(action or at, fields)
            for link in page.links:
                path, query = self._known(link)
                if path and query:
                    self.queries.setdefault(path, set()).update(query)
                if not path or link in seen or of_one.get(path, 0) >= MOST_OF_ONE:
                    continue
                of_one[path] = of_one.get(path, 0) + 1
                seen.add(link)
                waiting.append(link)

    def _known(self, link: str) -> tuple[str, list[str]]:
        """The route of an address, with the names of its query; its parts are noted."""
        split = urlsplit(link)
        for route in self.routes:
            match = route.path_regex.match(split.path)
            if match and split.path.startswith("/") and not split.netloc:
                for name, value in match.groupdict().items():
                    kept = self.parts.setdefault(name, set())
                    if len(kept) < MOST_EXAMPLES:
                        kept.add(unquote(value))
                return route.path, re.findall(r"(?:^|&)([^=&]+)=", split.query)
        return "", []

    def _note_form(self, action: str, fields: Fields) -> None:
        path, _ = self._known(action)
        kept = self.fields.setdefault(path, {}) if path else {}
        for name, schema in fields.items():
            old = kept.setdefault(name, {"type": "string", "examples": []})
            more = [value for value in schema["examples"] if value not in old["examples"]]
            old["examples"] += more[: MOST_EXAMPLES - len(old["examples"])]


class _Page(HTMLParser):
    """The links and forms of one page."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.forms: list[tuple[str, Fields]] = []
        self._in_form = False
        self._select = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "a" and said.get("href", "").startswith("/"):
            self.links.append(said["href"].partition("#")[0])
        if tag == "form":
            if said.get("method", "").lower() == "post":
                self.forms.append((said.get("action", ""), {}))
            self._in_form = said.get("method", "").lower() == "post"
        if tag == "select":
            self._select = said.get("name", "")
        if self._in_form:
            self._field(tag, said)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._in_form = False
        if tag == "select":
            self._select = ""

    def _field(self, tag: str, said: Mapping[str, str]) -> None:
        name = self._select if tag == "option" else said.get("name", "")
        if not name or name == "_token" or tag not in ("input", "select", "option", "textarea",
                                                       "button"):  # fmt: skip
            return
        schema = self.forms[-1][1].setdefault(name, {"type": "string", "examples": []})
        if "value" in said and said["value"] not in schema["examples"]:
            schema["examples"].append(said["value"])
