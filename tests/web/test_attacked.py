"""Every own form with anything in its fields: plain answers, never a failure of ours."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from attack import Attacker, attack
from bench_client import Visitor, visitor
from bench_live import LiveBench, made_bench
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from interface import FORM, description

from hoistwright.web.pages import all_pages

FORMS: dict[str, tuple[str, ...]] = {
    "/sign-in": ("name", "password", "next"),
    "/me": ("language", "units"),
    "/me/secrets": ("present", "pin", "password", "again"),
    "/change-person": ("person", "pin", "next"),
    "/book-in": ("act", "once", "kind", "maker", "model", "serial", "rated_load", "falls",
                 "manufactured", "wire", "pitch", "design", "customer", "tag", "premises",
                 "address", "found", "found_words", "complaint", "received_on",
                 "last_examined_on", "service", "given_to", "bases", "hoist"),
    "/book-in/suggest": ("hoist", "design", "kind", "maker", "model", "rated_load", "falls", "wire",
                         "pitch"),
    "/gauges/new": ("name", "kind", "measures", "resolution", "uncertainty", "coverage_factor",
                    "reads_from", "reads_to", "calibrated_on", "due_on", "certificate"),
    "/weights/new": ("mass", "uncertainty", "count", "due_on"),
    "/bases/uk-loler": ("compared_with", "compared", "digest"),
    "/people/new": ("name", "qualification", "roles", "language"),
    "/people/of/tim": ("name", "qualification", "roles", "language", "active"),
    "/first/no-such-token": ("name", "roles", "password", "again"),
}  # fmt: skip
READ = ("/?who={}", "/hoists?q={}", "/book-in?code={}", "/book-in?hoist={}", "/sign-in?next={}",
        "/hoists/{}", "/designs/{}", "/designs/{}/drawing.svg", "/bases/{}", "/people/of/{}",
        "/gauges/of/{}", "/weights/of/{}", "/booked/{}", "/first/{}", "/language/{}")  # fmt: skip

LIKELY = ["", "later", "begin", "ardle-2000", "2 t", "1/4 in", "9" * 400, "1e400", "-1", "0",
          "2", "2 kg!", "ardle/a211873",
          "nan", "2026-02-30", "2026-11-25", "yes", "technician", "length", "0.01 mm", "\x00",
          "../../x.toml", "<script>", "{{ 7*7 }}", "%(name)s", "%s", "' OR 1=1 --", "mm", "en",
          "١٢", "²", "hand chain hoist", "find", "f" * 32, "tim", "uk-loler"]  # fmt: skip
words = st.sampled_from(LIKELY) | st.text(max_size=40)

_quiet = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


@pytest.fixture(scope="module")
def everybody(shop: LiveBench) -> Visitor:
    """Somebody with all roles."""
    import attrs

    from hoistwright.store.connect import writing
    from hoistwright.web.records.accounts import ROLES, change_account, find_account

    with writing(shop.bench.engine) as conn:
        account = find_account(conn, "ada")
        assert account is not None
        change_account(conn, attrs.evolve(account, roles=ROLES))
    shop.forget_attempts()
    return visitor(shop.bench, "ada")


@pytest.mark.parametrize("path", FORMS)
def test_forms_never_make_the_bench_fail(shop: LiveBench, everybody: Visitor, path: str) -> None:
    if path in {"/me/secrets", "/change-person"}:
        everybody = visitor(shop.bench, "cora")
    token = everybody.token()

    @_quiet
    @given(st.dictionaries(st.sampled_from(FORMS[path]), words))
    def attack(fields: dict[str, Any]) -> None:
        answer = everybody.client.post(path, data={"_token": token, **fields})
        assert answer.status_code < 500, answer.text
        assert "<script>{" not in answer.text

    attack()
    shop.forget_attempts()


@_quiet
@given(st.sampled_from(READ), words)
def test_addresses_never_make_the_bench_fail(everybody: Visitor, pattern: str, word: str) -> None:
    from urllib.parse import quote

    answer = everybody.get(pattern.format(quote(word, safe="", errors="replace") or "x"))
    assert answer.status_code < 500


def test_no_route_of_the_own_description_makes_the_bench_fail(tmp_path: Path) -> None:
    """A few requests for each; the tool `tools/reliability.py` sends many."""
    bench = made_bench(tmp_path)
    attacker = Attacker(bench)
    described = description(bench, attacker.read)
    assert {page.path for page in all_pages()} == {*described["paths"]}
    taken = described["paths"]["/jobs/{job}/parts/{part}"]["post"]["requestBody"]
    assert {"do", "value", "unit", "gauge"} <= {*taken["content"][FORM]["schema"]["properties"]}
    kinds = attack(described, attacker.send, 2)
    assert kinds["2xx"] and kinds["3xx"] and kinds["4xx"]
    assert "5xx" not in kinds
    bench.store.close()


def test_what_is_typed_is_never_taken_for_markup(shop: LiveBench, everybody: Visitor) -> None:
    nasty = "<img src=x onerror=alert(1)>"
    answer = everybody.post(
        "/book-in", {"serial": nasty, "customer": nasty, "act": "find", "maker": nasty}
    )
    assert nasty not in answer.text
    assert "&lt;img" in answer.text
    found = everybody.get("/hoists?q=" + nasty)
    assert re.search(r"<img src=x", found.text) is None
