"""What a request without a browser meets: headers, forged forms, sizes, errors, the store."""

from __future__ import annotations

import re
import uuid

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from starlette.testclient import TestClient

from hoistwright.store.errors import FullError
from hoistwright.web.app import bench_app
from hoistwright.web.bench import Bench
from hoistwright.web.pages import all_pages
from hoistwright.web.security.headers import HEADERS, LARGEST_BODY


@pytest.fixture
def bench(shop: LiveBench) -> Bench:
    shop.forget_attempts()
    return shop.bench


@pytest.mark.parametrize("path", ["/sign-in", "/", "/nothing", "/static/bench.css", "/static/x"])
def test_every_answer_bears_the_headers(bench: Bench, path: str) -> None:
    answer = visitor(bench).get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value


def test_the_policy_allows_no_inline_script_or_style() -> None:
    """CSP level 3: without 'unsafe-inline', a nonce or a hash nothing inline runs."""
    policy = HEADERS["content-security-policy"]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy


def test_cookies_are_out_of_reach_of_script(bench: Bench) -> None:
    client = TestClient(bench_app(bench), base_url="https://bench.example")
    cookie = client.get("/sign-in").headers["set-cookie"]
    for word in ("HttpOnly", "SameSite=lax", "Secure"):
        assert word in cookie


def test_pages_are_not_kept_by_the_browser_but_files_are(bench: Bench) -> None:
    page = visitor(bench).get("/sign-in")
    assert page.headers["cache-control"] == "no-store"
    css = re.search(r"/static/bench\.css\?\w+", page.text)
    assert css is not None
    assert "immutable" in visitor(bench).get(css[0]).headers["cache-control"]


def test_every_page_wants_somebody_signed_in(bench: Bench) -> None:
    """But those that say they are open."""
    nobody = visitor(bench)
    for page in all_pages():
        path = re.sub(r"\{[^}]+\}", "x", page.path)
        if page.open or page.show is None:
            continue
        answer = nobody.get(path)
        assert answer.status_code == 303, path
        assert answer.headers["location"].startswith("/sign-in"), path


def test_no_form_is_taken_without_its_token(bench: Bench) -> None:
    """Each POST of every page, by somebody signed in, without and with a wrong token."""
    ada = visitor(bench, "ada")
    cora = visitor(bench, "cora")
    for page in all_pages():
        path = re.sub(r"\{[^}]+\}", "x", page.path)
        if page.take is None:
            continue
        for who in (ada, cora):
            for fields in ({}, {"_token": "0" * 64}):
                assert who.client.post(path, data=fields).status_code == 403, path


def test_another_sessions_token_does_not_fit(bench: Bench) -> None:
    ada, cora = visitor(bench, "ada"), visitor(bench, "cora")
    answer = ada.client.post("/me", data={"_token": cora.token(), "language": "fr", "units": "mm"})
    assert answer.status_code == 403


@pytest.mark.parametrize(
    "headers", [{"sec-fetch-site": "cross-site"}, {"origin": "https://elsewhere.example"}]
)
def test_a_form_from_another_site_is_refused(bench: Bench, headers: dict[str, str]) -> None:
    ada = visitor(bench, "ada")
    fields = {"_token": ada.token(), "language": "en", "units": "mm"}
    assert ada.client.post("/me", data=fields).status_code == 303
    assert ada.client.post("/me", data=fields, headers=headers).status_code == 403


def test_a_forged_or_borrowed_cookie_is_nobody(bench: Bench) -> None:
    ada = visitor(bench, "ada")
    good = ada.client.cookies["bench"]
    for cookie in (good[:-2] + "xx", good.split(".")[0], "", "x" * 5000):
        client = TestClient(bench_app(bench), follow_redirects=False, cookies={"bench": cookie})
        assert client.get("/").status_code == 303


def test_the_id_changes_at_signing_in(bench: Bench) -> None:
    """A session id that somebody planted before is worth nothing after."""
    who = visitor(bench)
    who.get("/sign-in")
    before = who.client.cookies["bench"]
    who.post("/sign-in", {"name": "tim", "password": "kelp rope anvil"})
    assert who.client.cookies["bench"] != before


@pytest.mark.parametrize("path", ["//evil.example", "https://evil.example", "/\\evil", "evil"])
def test_signing_in_leads_nowhere_else(bench: Bench, path: str) -> None:
    fields = {"name": "tim", "password": "kelp rope anvil", "next": path}
    assert visitor(bench).post("/sign-in", fields).headers["location"] == "/"


def test_more_than_a_photo_is_refused_unread(bench: Bench) -> None:
    ada = visitor(bench, "ada")
    answer = ada.client.post("/me", content=b"x", headers={"content-length": str(LARGEST_BODY + 1)})
    assert answer.status_code == 413


def test_script_gets_its_refusals_as_json(bench: Bench) -> None:
    asking = {"accept": "application/json"}
    answer = visitor(bench).client.post("/me", json={}, headers=asking)
    assert answer.status_code == 401
    assert answer.json()["sign_in"] == "/sign-in"
    refused = visitor(bench, "ron").client.post("/book-in", json={}, headers=asking)
    assert refused.status_code == 403
    assert refused.json()["refused"]


def test_a_fault_of_ours_shows_no_traceback(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    ada = visitor(bench, "cora")
    ada.client = TestClient(
        bench_app(bench), raise_server_exceptions=False, cookies=ada.client.cookies
    )

    def fails(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(type(bench.store), "jobs", fails)
    answer = ada.get("/")
    assert answer.status_code == 500
    assert "not your doing" in answer.text
    for word in ("Traceback", "ZeroDivision", "secret detail"):
        assert word not in answer.text


def test_a_full_disk_says_what_is_safe(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    words = "The disk that holds the record is full. Nothing of this was saved."

    def full(*_: object, **__: object) -> None:
        raise FullError(words)

    monkeypatch.setattr(type(bench.store), "append", full)
    who = visitor(bench, "tim")
    answer = who.post("/book-in", _booking("F-1"))
    assert answer.status_code == 503
    assert words in answer.text


def _booking(serial: str) -> dict[str, str | list[str]]:
    return {
        "once": uuid.uuid4().hex,
        "serial": serial,
        "customer": "Saltmarsh Boatyard",
        "bases": ["workshop-practice", "b30-hand-hoists"],
        "design": "later",
        "service": "normal",
    }


def test_a_form_sent_twice_is_one_job(bench: Bench) -> None:
    """Over a bad line the answer may be lost and the tablet send again."""
    who = visitor(bench, "tim")
    fields = _booking("D-3003")
    first, second = who.post("/book-in", fields), who.post("/book-in", fields)
    assert first.headers["location"] == second.headers["location"]
    assert [row.visits for row in bench.store.search("D-3003")] == [1]


def test_jobs_get_numbers_of_their_own(bench: Bench) -> None:
    who = visitor(bench, "tim")
    places = {who.post("/book-in", _booking(f"N-{n}")).headers["location"] for n in range(5)}
    assert len(places) == 5


def test_a_file_that_is_no_photo_does_not_stop_the_booking(bench: Bench) -> None:
    who = visitor(bench, "tim")
    fields = {**_booking("P-1"), "_token": who.token()}
    answer = who.client.post(
        "/book-in", data=fields, files={"photo": ("plate.jpg", b"no picture", "image/jpeg")}
    )
    assert answer.status_code == 303
    assert "left out" in Visitor(who.client).get("/help").text


def test_the_drawing_is_sent_once(bench: Bench) -> None:
    who = visitor(bench, "tim")
    first = who.get("/designs/ardle-500/drawing.svg")
    assert first.headers["content-type"].startswith("image/svg+xml")
    again = who.client.get(
        "/designs/ardle-500/drawing.svg", headers={"if-none-match": first.headers["etag"]}
    )
    assert again.status_code == 304
    assert again.content == b""
