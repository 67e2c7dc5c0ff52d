"""A property-based attack on every route of the bench, from its own description.

Whatever stands in the parts of an address, in its query, in the fields of a form or in the body:
the answer says so in words, and is never a failure of the bench (5xx).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Protocol
from urllib.parse import quote

import attrs
from bench_client import Visitor, visitor
from bench_live import PASSWORD
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from interface import FORM

from hoistwright.store.connect import writing
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import ROLES, change_account, find_account
from hoistwright.web.records.tables import attempts
from hoistwright.web.security.secrets import hashed

LIKELY = [
    "", "0", "-1", "1e400", "nan", "9" * 400, "2026-02-30", "2999-01-01", "yes", "mm", "1/4 in",
    "\x00", "../../x.toml", "<script>", "{{ 7*7 }}", "%s", "' OR 1=1 --", "١٢", "²", "f" * 32,
    "\ud800", "a\r\nb: c", "later", "ardle-2000",
]  # fmt: skip
WORDS = st.sampled_from(LIKELY) | st.text(max_size=60)


class Answer(Protocol):
    """What came back."""

    @property
    def status_code(self) -> int: ...

    @property
    def text(self) -> str: ...


Send = Callable[[str, str, Mapping[str, Any]], Answer]
"""Method, address, and `params` or `data` and `headers` as an HTTP client takes them."""


@attrs.define
class Attacker:
    """Somebody with every role, who signs in again when an attack has signed them out."""

    bench: Bench
    _visitor: Visitor | None = None

    def read(self, path: str) -> str:
        return str(self._here().get(path).text)

    def send(self, method: str, at: str, words: Mapping[str, Any]) -> Answer:
        here = self._here()
        if method == "POST":
            words = {**words, "data": {**words["data"], "_token": here.token()}}
        answer = here.client.request(method, at, **words)
        if answer.status_code in (303, 401, 403):
            self._visitor = None if here.get("/me").status_code != 200 else here
        return answer

    def _here(self) -> Visitor:
        if self._visitor is None:
            with writing(self.bench.engine) as connection:
                connection.execute(attempts.delete())
                was = find_account(connection, "ada")
                assert was is not None
                secret = hashed(PASSWORD)
                whole = attrs.evolve(was, roles=ROLES, active=True, password=secret, language="en")
                change_account(connection, whole)
            self._visitor = visitor(self.bench, "ada")
        return self._visitor


def attack(described: Mapping[str, Any], send: Send, count: int) -> dict[str, int]:
    """Attack each method of each path so often; how many answers of each kind there were.

    Raises AssertionError with the smallest request that made the bench fail.
    """
    kinds: dict[str, int] = {}
    for path, about in described["paths"].items():
        for method in ("get", "post"):
            if method in about:
                _attack_one(path, method, about, send, count, kinds)
    return kinds


def _attack_one(
    path: str,
    method: str,
    about: Mapping[str, Any],
    send: Send,
    count: int,
    kinds: dict[str, int],
) -> None:
    fields = _fields(about, method)
    endless = "text/event-stream" in about[method]["responses"]["default"]["content"]
    parts = {
        part["name"]: WORDS if endless else _one_of(part["schema"].get("examples", ()))
        for part in about["parameters"]
    }

    @settings(
        max_examples=count,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.fixed_dictionaries(parts), _some(fields), st.booleans(), WORDS)
    def request(named: dict[str, str], said: dict[str, Any], script: bool, more: str) -> None:
        at = path
        for name, value in named.items():
            coded = quote(value.encode("utf-8", "replace"), safe="~") or "~"
            at = at.replace(f"{{{name}}}", coded)
        headers = {"accept": "application/json" if script else "text/html"}
        safe = {key: _sendable(value) for key, value in said.items()}
        if method == "get":
            answer = send("GET", at, {"params": {**safe, "x": _sendable(more)}, "headers": headers})
        else:
            answer = send("POST", at, {"data": safe, "headers": headers})
        kind = f"{answer.status_code // 100}xx"
        kinds[kind] = kinds.get(kind, 0) + 1
        assert answer.status_code < 500, (method, at, safe, answer.status_code, answer.text[:300])

    request()


def _fields(about: Mapping[str, Any], method: str) -> Mapping[str, Any]:
    if method == "get":
        return {item["name"]: item["schema"] for item in about["get"].get("parameters", ())}
    found: Mapping[str, Any] = about["post"]["requestBody"]["content"][FORM]["schema"]["properties"]
    return found


def _some(fields: Mapping[str, Any]) -> st.SearchStrategy[dict[str, Any]]:
    """Any of the fields, each with what it offers or with anything; now and then one more."""
    each = {name: _one_of(schema.get("examples", ())) for name, schema in fields.items()}
    return st.fixed_dictionaries({}, optional={**each, "other": WORDS})


def _one_of(examples: Any) -> st.SearchStrategy[str]:
    kept = list(examples)
    return st.sampled_from(kept) | WORDS if kept else WORDS


def _sendable(value: str) -> str:
    return value.encode("utf-8", "replace").decode()
