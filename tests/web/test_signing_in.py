"""Signing in: the first administrator, passwords, PINs, rate limits, forged forms."""

from __future__ import annotations

import datetime

import pytest
from bench_live import PASSWORD, PIN, LiveBench
from browser import opened, sign_in
from playwright.sync_api import Browser, Page, expect

from hoistwright.store.connect import reading, writing
from hoistwright.web.records.accounts import find_account
from hoistwright.web.records.attempts import WINDOW, too_many
from hoistwright.web.records.invitations import LASTS, invite, invited
from hoistwright.web.records.tables import accounts, invitations, sessions
from hoistwright.web.serving import first_link


def test_the_first_link_makes_one_administrator_once(fresh: LiveBench, page: Page) -> None:
    link = fresh.address + first_link(fresh.bench)
    page.goto(link)
    page.fill("#name", "Imke Tolland")
    page.fill("#password", "short")
    page.fill("#again", "short")
    page.click("main button")
    expect(page.locator(".wrongs")).to_contain_text("at least 10 characters")
    assert page.input_value("#name") == "Imke Tolland"  # what was typed is kept
    page.fill("#password", PASSWORD)
    page.fill("#again", PASSWORD)
    page.click("main button")
    expect(page.locator(".who")).to_have_text("Imke Tolland")
    assert page.goto(link) is not None
    expect(page.locator("h1")).to_contain_text("used already")
    assert first_link(fresh.bench) == ""


def test_nobody_can_sign_in_before_that(fresh: LiveBench, page: Page) -> None:
    """No default password: not even an empty one for the people of the shop file."""
    for password in ("odile", "password", " "):
        sign_in(page, fresh.address, "odile", password)
        expect(page.locator("h1")).to_have_text("Sign in")


def test_a_wrong_password_says_nothing_of_the_account(shop: LiveBench, page: Page) -> None:
    shop.forget_attempts()
    said = []
    for name in ("tim", "nobody-of-this-name"):
        sign_in(page, shop.address, name, "wrong password")
        said.append(page.locator(".wrongs").inner_text())
    assert said[0] == said[1]
    shop.forget_attempts()


def test_after_five_failures_the_right_password_waits(shop: LiveBench, page: Page) -> None:
    shop.forget_attempts()
    for _ in range(5):
        sign_in(page, shop.address, "tim", "wrong password")
    sign_in(page, shop.address, "tim")
    expect(page.locator(".wrongs")).to_contain_text("Too many attempts")
    shop.forget_attempts()
    sign_in(page, shop.address, "Tim Tech")  # by full name as well
    expect(page.locator(".who")).to_have_text("Tim Tech")


def test_an_account_opens_again_after_the_window(shop: LiveBench) -> None:
    from hoistwright.web.records.attempts import note_failure

    now = datetime.datetime(2026, 3, 1, 9, tzinfo=datetime.UTC)
    with writing(shop.bench.engine) as conn:
        for _ in range(5):
            note_failure(conn, "somebody", "10.0.0.1", now)
        assert too_many(conn, "somebody", "10.0.0.2", now)
        assert not too_many(conn, "another", "10.0.0.1", now)
        assert not too_many(conn, "somebody", "10.0.0.2", now + WINDOW)
        for at in range(30):
            note_failure(conn, f"guess {at}", "10.0.0.3", now)
        assert too_many(conn, "another", "10.0.0.3", now)
    shop.forget_attempts()


def test_a_pin_takes_over_a_tablet_opened_by_password_today(shop: LiveBench, at_desk: Page) -> None:
    page = at_desk
    page.goto(shop.address + "/change-person")
    page.get_by_text("Tim Tech").click()
    page.fill("#pin", "9999")
    page.click("main button.button")
    expect(page.locator(".wrongs")).to_contain_text("not the PIN")
    page.fill("#pin", PIN)
    page.click("main button.button")
    expect(page.locator(".who")).to_have_text("Tim Tech")
    page.goto(shop.address + "/me")  # by PIN one does not change one's secrets
    expect(page.locator("body")).not_to_contain_text("Present password")


def test_a_pin_is_not_enough_the_day_after(shop: LiveBench, at_desk: Page) -> None:
    yesterday = (shop.bench.now() - datetime.timedelta(days=1)).isoformat()
    with writing(shop.bench.engine) as conn:
        conn.execute(sessions.update().values(opened_at=yesterday))
    at_desk.goto(shop.address + "/change-person")
    expect(at_desk.locator("main")).to_contain_text("not opened by password today")
    expect(at_desk.locator("#pin")).to_have_count(0)


def test_signing_out_ends_the_session_at_the_server(
    shop: LiveBench, browser: Browser, at_desk: Page
) -> None:
    kept = at_desk.context.storage_state()
    at_desk.goto(shop.address + "/me")
    at_desk.get_by_role("button", name="Sign out").click()
    expect(at_desk.locator("h1")).to_have_text("Sign in")
    again = browser.new_context(storage_state=kept)  # the old cookie, kept by somebody
    page = again.new_page()
    page.goto(shop.address + "/")
    expect(page.locator("h1")).to_have_text("Sign in")
    again.close()


def test_secrets_are_kept_as_hashes_only(fresh: LiveBench) -> None:
    now = fresh.bench.now()
    with writing(fresh.bench.engine) as conn:
        token = invite(conn, "odile", now)
    with reading(fresh.bench.engine) as conn:
        assert token not in str(conn.execute(invitations.select()).all())
        assert invited(conn, token, now) == "odile"
        assert invited(conn, token, now + LASTS + datetime.timedelta(seconds=1)) is None
        kept = conn.execute(accounts.select()).mappings().all()
    assert all(row["password"] == "" or row["password"].startswith("$argon2id$") for row in kept)


def test_a_new_link_lets_somebody_choose_a_password(
    shop: LiveBench, browser: Browser, page: Page
) -> None:
    shop.forget_attempts()
    sign_in(page, shop.address, "ada")
    page.goto(shop.address + "/people/new")
    page.fill("#name", "Nell Newcomer")
    page.click("main button.button")
    link = page.locator(".linkbox").inner_text()
    other = opened(browser)
    theirs = other.new_page()
    theirs.goto(link)
    theirs.fill("#password", PASSWORD)
    theirs.fill("#again", PASSWORD)
    theirs.click("main button")
    expect(theirs.locator(".who")).to_have_text("Nell Newcomer")
    other.close()
    with reading(shop.bench.engine) as conn:
        account = find_account(conn, "nell")
    assert account is not None
    assert account.roles == ("technician",)


def test_the_last_administrator_stays(shop: LiveBench, page: Page) -> None:
    shop.forget_attempts()
    sign_in(page, shop.address, "ada")
    page.goto(shop.address + "/people/of/ada")
    page.get_by_text("administrator", exact=True).click()
    page.get_by_text("technician", exact=True).click()
    page.get_by_role("button", name="Keep").click()
    expect(page.locator(".wrongs")).to_contain_text("Nobody would be left")


@pytest.mark.parametrize(("name", "path"), [("tim", "/people"), ("ron", "/book-in")])
def test_roles_are_kept_apart(shop: LiveBench, page: Page, name: str, path: str) -> None:
    shop.forget_attempts()
    sign_in(page, shop.address, name)
    answer = page.goto(shop.address + path)
    assert answer is not None
    assert answer.status == 403
    expect(page.locator("h1")).to_contain_text("not among the things you may do")
