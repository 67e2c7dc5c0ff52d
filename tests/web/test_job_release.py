"""The release: chosen, signed, revised, withdrawn; by the right person only, and found changed."""

from __future__ import annotations

import datetime
import io
import json
import re
import threading
import time
import zipfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import attrs
import pytest
from bench_client import Visitor, visitor
from bench_live import PASSWORD, PIN
from browser import TABLET, TELEPHONE, accessibility_faults, complaints, opened, scrolls_sideways
from job_scene import BASES, DESIGN, at_bench
from playwright.sync_api import Browser, FilePayload, expect
from release_bench import READY, live_signing, signing_bench
from starlette.responses import Response
from starlette.testclient import TestClient

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.release.record import record_bytes
from hoistwright.certificate.release.render import render
from hoistwright.certificate.signing.contents import record_in
from hoistwright.certificate.signing.sign_pdf import sign_pdf
from hoistwright.cli.main import main
from hoistwright.demo.signed_job import PASSPHRASE
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import Draft
from hoistwright.job.events import BookedIn, Remarked
from hoistwright.job.events_release import CertificateIssued
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.job.stages import Facts
from hoistwright.store.connect import reading, writing
from hoistwright.web.app import bench_app
from hoistwright.web.bench import Bench
from hoistwright.web.leaving import Leaving, sign
from hoistwright.web.pages import verify as verify_page
from hoistwright.web.records.accounts import change_account, find_account
from hoistwright.web.records.issued import register_of, serials
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.records.tables import attempts
from hoistwright.web.shop_keys import keys_of
from hoistwright.web.visit import Visit

SECRETS = {"secret": PASSWORD, "passphrase": PASSPHRASE}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = signing_bench(tmp_path, READY)
    yield made
    made.store.close()


def signed(bench: Bench, who: str = "odile", job: str = READY) -> CertificateIssued:
    """The job's certificate, signed through the page."""
    answer = visitor(bench, who).post(f"/jobs/{job}/release/sign", SECRETS)
    assert answer.status_code == 303, _told(answer.text)
    issued = bench.store.state(job).certificate
    assert issued is not None
    return issued


def _pdf(bench: Bench, issued: CertificateIssued) -> bytes:
    kept = bench.store.attachment(issued.content)
    assert kept is not None
    return kept[1]


def _told(page: str) -> list[str]:
    """What a page says is to be mended."""
    wrongs = re.findall(r'<div class="wrongs".*?</div>', page, re.DOTALL)
    return re.findall(r"<a [^>]*>([^<]*)</a>", " ".join(wrongs))


def _checked(guest: Visitor, data: bytes, name: str = "paper.pdf") -> str:
    answer = guest.client.post(
        "/verify", data={"_token": guest.token()}, files={"file": (name, data)}
    )
    return answer.text


# signing


def test_signed_certificate_verifies_with_the_command_alone(bench: Bench, tmp_path: Path) -> None:
    """A stranger with the file and the shop's public certificate, and nothing else."""
    issued = signed(bench)
    paper, public = tmp_path / "paper.pdf", tmp_path / "keys/shop-certificate.pem"
    paper.write_bytes(_pdf(bench, issued))
    assert main(["verify", str(paper), "--trust", str(public)]) == 0
    record = json.loads(record_in(paper.read_bytes()) or b"")
    assert record["authenticated_by"]["name"] == "Odile Brannagh"
    assert record["decision"] == "released"
    assert record["shop"]["demo"] is True
    assert any(test["load"] for test in record["tests"])
    assert {"pawl", "pawl_spring"} <= {item["part"] for item in record["work"]}


def test_pin_signs_where_the_passphrase_is_given(bench: Bench) -> None:
    answer = visitor(bench, "odile").post(
        f"/jobs/{READY}/release/sign", {"secret": PIN, "passphrase": PASSPHRASE}
    )
    assert answer.status_code == 303


@pytest.mark.parametrize("who", ["tim", "kim", "ron"])
def test_others_may_not_sign_nor_withdraw(bench: Bench, who: str) -> None:
    for what in ("sign", "withdraw"):
        answer = visitor(bench, who).post(f"/jobs/{READY}/release/{what}", {**SECRETS, "why": "x"})
        assert answer.status_code == 403
    assert bench.store.state(READY).certificate is None


def test_technician_sees_who_signs_and_no_form(bench: Bench) -> None:
    page = visitor(bench, "tim").get(f"/jobs/{READY}/release").text
    assert "Only a competent person of the shop signs." in page
    assert 'name="secret"' not in page


def test_without_a_key_the_page_says_how_to_make_one(bench: Bench) -> None:
    cora = visitor(bench, "cora")
    assert "hoistwright keys make" in cora.get(f"/jobs/{READY}/release").text
    answer = cora.post(f"/jobs/{READY}/release/sign", SECRETS)
    assert _told(answer.text) == ["There is no signing key for you on this bench."]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"secret": "not mine"}, "neither your password nor your PIN"),
        ({"secret": ""}, "Type your password or PIN."),
        ({"passphrase": "of another key"}, "A key does not open"),
    ],
)
def test_a_wrong_secret_signs_nothing(bench: Bench, changed: dict[str, str], words: str) -> None:
    answer = visitor(bench, "odile").post(f"/jobs/{READY}/release/sign", {**SECRETS, **changed})
    assert answer.status_code == 422
    assert words in " ".join(_told(answer.text))
    assert bench.store.state(READY).certificate is None


def test_guessing_is_slowed_down(bench: Bench) -> None:
    odile = visitor(bench, "odile")
    for _ in range(5):
        odile.post(f"/jobs/{READY}/release/sign", {**SECRETS, "secret": "guess"})
    answer = odile.post(f"/jobs/{READY}/release/sign", SECRETS)
    assert "Too many attempts" in " ".join(_told(answer.text))
    with writing(bench.engine) as conn:
        conn.execute(attempts.delete())


def test_clock_set_back_is_refused(bench: Bench) -> None:
    """Before the day of the examination, and before the last line of the register."""
    early = attrs.evolve(bench, now=lambda: datetime.datetime(2026, 2, 1, 9, tzinfo=datetime.UTC))
    answer = visitor(early, "odile").post(f"/jobs/{READY}/release/sign", SECRETS)
    assert answer.status_code == 422
    assert "check the dates and the clock" in " ".join(_told(answer.text))


def test_expired_key_is_refused(bench: Bench) -> None:
    later = datetime.datetime(2043, 1, 2, 9, tzinfo=datetime.UTC)
    answer = visitor(attrs.evolve(bench, now=lambda: later), "odile").post(
        f"/jobs/{READY}/release/sign", SECRETS
    )
    told = " ".join(_told(answer.text))
    assert "valid from 2026-01-01" in told
    assert bench.store.state(READY).certificate is None


def test_what_is_missing_forbids_the_signature(bench: Bench) -> None:
    """Renewed no longer: the seized pawl would leave as it came."""
    tim = visitor(bench, "tim")
    tim.post(f"/jobs/{READY}/renew", {"do": "choose", "part": "pawl", "renew": "no",
                                      "reason": "it will do"})  # fmt: skip
    page = visitor(bench, "odile").get(f"/jobs/{READY}/release").text
    assert "It can be signed once nothing is missing." in page
    assert f"/jobs/{READY}/parts/pawl" in page
    answer = visitor(bench, "odile").post(f"/jobs/{READY}/release/sign", SECRETS)
    assert answer.status_code == 422
    assert bench.store.state(READY).certificate is None


def test_nobody_signs_what_was_not_on_the_page(bench: Bench) -> None:
    """Somebody enters a remark while the page with the draft is open."""
    stood = bench.store.state(READY).seq
    bench.store.append(READY, [Draft(body=Remarked(text="the hook squeaks"), by="tim")])
    odile = visitor(bench, "odile")
    answer = odile.post(f"/jobs/{READY}/release/sign", {**SECRETS, "seen": str(stood)})
    assert answer.status_code == 422
    assert "Look at it, then sign." in " ".join(_told(answer.text))
    assert f'name="seen" value="{stood + 1}"' in answer.text
    assert bench.store.state(READY).certificate is None


def test_two_touches_make_one_certificate(bench: Bench) -> None:
    """Both requests have read the job before either has signed it."""
    state = bench.store.state(READY)
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    facts = Facts(
        state=state,
        design=shipped(state.design),
        bases=tuple(shipped_basis(key) for key in state.bases),
        shop=shop,
    )
    pens = keys_of(bench).opened("odile", PASSPHRASE, PASSPHRASE)
    sign(Leaving(bench=bench, facts=facts), "odile", pens, bench.now())
    with pytest.raises(FaultsError, match="meanwhile"):
        sign(Leaving(bench=bench, facts=facts), "odile", pens, bench.now())
    assert len(register_of(bench.engine).entries) == 1


def test_a_certificate_that_would_be_refused_says_so_before(bench: Bench) -> None:
    """Without a qualification nobody's name may stand on a report (LOLER, schedule 1: who made
    it, and their qualification)."""
    with writing(bench.engine) as conn:
        odile = find_account(conn, "odile")
        assert odile is not None
        change_account(conn, attrs.evolve(odile, qualification=""))
    page = visitor(bench, "odile").get(f"/jobs/{READY}/release").text
    assert "qualification is not stated" in page
    assert "It can be signed once nothing is missing." in page


# revision, withdrawal


def test_revision_supersedes_and_withdrawal_ends_it(bench: Bench) -> None:
    first = signed(bench)
    odile = visitor(bench, "odile")
    again = odile.post(f"/jobs/{READY}/release/sign", SECRETS)
    assert "Say what was changed and why." in " ".join(_told(again.text))
    odile.post(f"/jobs/{READY}/release", {"exit": "released", "occasion": "within 12 months",
                                          "remarks": "premises put right"})  # fmt: skip
    assert "sign a revision" in odile.get(f"/jobs/{READY}/release").text
    odile.post(f"/jobs/{READY}/release/sign", {**SECRETS, "reason": "remark added"})
    second = bench.store.state(READY).certificate
    assert second is not None
    assert (second.number, second.revision) == (first.number, 1)
    guest = visitor(bench)
    assert "Superseded" in _checked(guest, _pdf(bench, first))
    assert "Valid" in _checked(guest, _pdf(bench, second))
    assert _told(odile.post(f"/jobs/{READY}/release/withdraw", SECRETS).text) == [
        "Say why it is withdrawn."
    ]
    gone = odile.post(f"/jobs/{READY}/release/withdraw", {**SECRETS, "why": "wrong test load"})
    assert gone.status_code == 303
    assert bench.store.state(READY).certificate is None
    assert "wrong test load" in _checked(guest, _pdf(bench, second))
    assert "wrong test load" in odile.get("/register").text


def test_a_signed_certificate_is_not_taken_back_like_a_reading(bench: Bench) -> None:
    signed(bench)
    entry = next(
        key
        for key, item in bench.store.state(READY).entries.items()
        if isinstance(item.event.body, CertificateIssued)
    )
    answer = visitor(bench, "odile").post(
        f"/jobs/{READY}/booking", {"do": "withdraw", "entry": entry}
    )
    assert answer.status_code == 422
    assert bench.store.state(READY).certificate is not None


# other ways out


def test_condemned_hoist_needs_no_proof_but_its_end(bench: Bench) -> None:
    job = _booked(bench)
    odile = visitor(bench, "odile")
    bare = {"exit": "condemned", "occasion": "exceptional circumstances", "reason": "ran away"}
    odile.post(f"/jobs/{job}/release", bare)
    page = odile.get(f"/jobs/{job}/release").text
    assert "Say how the hoist was made unusable." in page
    assert "Take off the data plate, or deface it." in page
    odile.post(f"/jobs/{job}/release", {
        **bare, "made_unusable": "load sheave sawn through", "made_unusable_by": "Tim Tech",
        "plate_removed": "yes",
    })  # fmt: skip
    issued = signed(bench, job=job)
    assert (issued.decision, issued.rated_load, issued.next_due) == ("condemned", 0.0, None)
    record = json.loads(record_in(_pdf(bench, issued)) or b"")
    assert record["made_unusable"] == "load sheave sawn through; by Tim Tech"
    assert record["safe_to_operate"] is False


def test_lower_load_must_lie_below_and_nothing_typed_is_lost(bench: Bench) -> None:
    odile = visitor(bench, "odile")
    answer = odile.post(f"/jobs/{READY}/release", {
        "exit": "released with lower rated load", "occasion": "within 12 months",
        "lowered_to": "900 kg", "allowed_by": "maker's letter",
    })  # fmt: skip
    assert answer.status_code == 422
    assert "It must lie below 750 kg and above 0." in " ".join(_told(answer.text))
    assert 'value="900 kg"' in answer.text
    assert "maker&#39;s letter" in answer.text


def _booked(bench: Bench) -> str:
    """A hoist that has just come in."""
    body = BookedIn(
        hoist=HoistIdentity(maker="Ardle", model="2000", serial="S-77", rated_load=2000.0),
        customer=Customer(name="Saltmarsh Boatyard (invented)", address="1 Creek Lane"),
        design=DESIGN, bases=BASES, found="ran away under load",
    )  # fmt: skip
    bench.store.append("KQ-0460", [Draft(body=body, by="odile")])
    return "KQ-0460"


# papers


def test_papers_of_a_release(bench: Bench) -> None:
    issued = signed(bench)
    tim = visitor(bench, "tim")
    paper = tim.get(f"/jobs/{READY}/certificates/{issued.content}")
    assert paper.content == _pdf(bench, issued)
    assert tim.get(f"/jobs/{READY}/certificates/{'0' * 64}").status_code == 404
    tag = tim.get(f"/jobs/{READY}/release/tag/62x29/png")
    assert tag.content.startswith(b"\x89PNG")
    assert tim.get(f"/jobs/{READY}/release/tag/62x29/pdf").content.startswith(b"%PDF-")
    with zipfile.ZipFile(io.BytesIO(tim.get(f"/jobs/{READY}/release/mail/fr").content)) as mail:
        assert "message-fr.txt" in mail.namelist()
        assert mail.read(f"{issued.number}-0.pdf") == _pdf(bench, issued)
        message = mail.read("message-fr.txt").decode()
    assert "Bonjour" in message
    assert "750 kg" in message
    archive = tim.get(f"/jobs/{READY}/release/auditor").content
    with zipfile.ZipFile(io.BytesIO(archive)) as folder:
        names = set(folder.namelist())
        told = json.loads(folder.read("index.json"))
        for item in told["files"]:
            assert item["bytes"] == len(folder.read(item["name"]))
    assert {
        "journal.jsonl", "register.json", "shop-certificate.pem", "report-of-examination.pdf",
        "certificate-record.json", "sheets/job-sheet.toml", f"{issued.number}-0.pdf",
    } <= names  # fmt: skip


def test_code_of_the_label_is_read_by_the_verify_page(bench: Bench) -> None:
    """From the picture of the label, as a camera would bring it; then with one letter changed."""
    issued = signed(bench)
    label = visitor(bench, "tim").get(f"/jobs/{READY}/release/tag/100x50/png").content
    guest = visitor(bench)
    page = _checked(guest, label, "label.png")
    assert "Valid" in page
    assert "AL-9000" in page
    forged = issued.code.replace('"AL-9000",750', '"AL-9000",950')
    page = guest.post("/verify", {"code": forged}).text
    assert "Changed after signing" in page


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda pdf: pdf[: len(pdf) // 2], "Cut off"),
        (lambda pdf: pdf[: len(pdf) // 2] + b"?" + pdf[len(pdf) // 2 + 1 :], "Changed"),
        (lambda pdf: pdf + b" ", "Changed"),
        (lambda _: b"%PDF-1.7\nnot ours\n%%EOF", "Damaged"),
        (lambda _: b"a letter", "Not one of our papers"),
    ],
)
def test_verify_page_refuses_with_the_reason(bench: Bench, change: object, words: str) -> None:
    pdf = _pdf(bench, signed(bench))
    assert callable(change)
    page = _checked(visitor(bench), change(pdf))
    heading = re.search(r'<h2 class="refused">.*?</svg>(.*?)</h2>', page, re.DOTALL)
    assert heading is not None
    assert words in heading[1]


def test_verify_page_stands_a_record_that_lacks_what_it_shows(bench: Bench) -> None:
    """Anybody can sign a paper with a record of their own and send it."""
    issued = signed(bench)
    record = json.loads(record_in(_pdf(bench, issued)) or b"")
    poor = {key: value for key, value in record.items() if key not in ("hoist", "rated_load")}
    paper = render(record, code=issued.code, written=record_bytes(poor))
    pens = keys_of(bench).opened("odile", PASSPHRASE, PASSPHRASE)
    answer = _checked(visitor(bench), sign_pdf(paper, pens.signer, bench.now()))
    assert "The register names another file" in answer


def test_the_register_asks_for_any_number_of_jobs(tmp_path: Path) -> None:
    """More than a database takes in one question."""
    bench = signing_bench(tmp_path, READY, "KQ-0451")
    with reading(bench.engine) as conn:
        found = serials(conn, {READY, "KQ-0451", *(f"J-{n}" for n in range(70_000))})
    assert found == {READY: "AL-9000", "KQ-0451": "AL-9001"}
    bench.store.close()


def test_verify_page_is_open_and_the_register_is_not(bench: Bench) -> None:
    guest = visitor(bench)
    assert guest.get("/verify").status_code == 200
    assert guest.get("/register").status_code == 303
    assert guest.get("/register/register.json").status_code == 404
    assert guest.get("/register/shop-certificate.pem").text.startswith("-----BEGIN CERTIFICATE")
    assert "Choose a file" in guest.post("/verify", {"code": ""}).text


# in a browser


def test_the_last_metre_in_a_browser(tmp_path: Path, browser: Browser) -> None:
    """Odile at a tablet, by touch: what is there, the signature; then a stranger checks it."""
    with live_signing(tmp_path, READY) as shop:
        context = opened(browser, TABLET, touch=True)
        page = context.new_page()
        said = complaints(page)
        at_bench(page, shop, "odile")
        page.goto(f"{shop.address}/jobs/{READY}/release")
        expect(page.locator("#missing")).to_contain_text("Nothing is missing but the signature.")
        page.locator(".draft img").scroll_into_view_if_needed()
        expect(page.locator(".draft img")).to_have_js_property("complete", True)
        assert page.locator(".draft img").evaluate("image => image.naturalWidth") > 500
        assert accessibility_faults(page) == []
        page.fill("#secret", PASSWORD)
        page.fill("#passphrase", PASSPHRASE)
        page.get_by_role("button", name="Sign the certificate").tap()
        expect(page.locator(".paper.stands")).to_contain_text("revision 0")
        assert accessibility_faults(page) == []
        assert not scrolls_sideways(page)
        page.get_by_role("button", name="Release: finished").tap()
        expect(page.locator("#now")).to_contain_text("Left the shop")
        assert said == []
        context.close()
        issued = shop.bench.store.state(READY).certificate
        assert issued is not None
        _stranger_checks(shop.address, _pdf(shop.bench, issued), browser)


def _stranger_checks(address: str, pdf: bytes, browser: Browser) -> None:
    context = opened(browser, TELEPHONE)
    page = context.new_page()
    for data, word in ((pdf, "Valid"), (pdf.replace(b"/Count", b"/Counr", 1), "Changed")):
        page.goto(f"{address}/verify")
        page.set_input_files("#file", FilePayload(name="paper.pdf", mimeType="application/pdf",
                                                  buffer=data))  # fmt: skip
        page.get_by_role("button", name="Check it").click()
        expect(page.locator("#outcome h2")).to_contain_text(word)
        assert accessibility_faults(page) == []
        assert not scrolls_sideways(page)
    context.close()


def test_certificate_signed_on_paper_is_listed_without_its_file(bench: Bench) -> None:
    """As those of the years before the bench."""
    body = CertificateIssued(
        number="P-0042", revision=0, content="", decision="released", rated_load=750.0,
        issued_on=datetime.date(2026, 10, 9), next_due=datetime.date(2027, 10, 9),
    )  # fmt: skip
    bench.store.append(READY, [Draft(body=body, by="odile")])
    odile = visitor(bench, "odile")
    page = odile.get(f"/jobs/{READY}/release")
    assert page.status_code == 200
    assert "P-0042" in page.text
    assert "Signed PDF" not in page.text
    assert odile.get(f"/jobs/{READY}/release/auditor").status_code == 200
    assert odile.get(f"/jobs/{READY}/release/mail/en").status_code == 404
    answer = odile.post(f"/jobs/{READY}/release/withdraw", {**SECRETS, "why": "wrong load"})
    assert "not kept here" in " ".join(_told(answer.text))
    assert "P-0042" in odile.get("/register").text


def test_strangers_files_are_looked_at_a_few_at_a_time(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Eight send a file at once; the threads that the shop's own people need stay free."""
    now, most, lock = 0, 0, threading.Lock()

    def slowly(visit: Visit, _sent: verify_page.Sent) -> Response:
        nonlocal now, most
        with lock:
            now += 1
            most = max(most, now)
        time.sleep(0.05)
        with lock:
            now -= 1
        return visit.page("verify.html", result=None, title="", facts=(), wrong="", code="",
                          name="", own=False, shop="")  # fmt: skip

    monkeypatch.setattr(verify_page, "_checked", slowly)
    with TestClient(bench_app(bench)) as client:
        token = Visitor(client).token()

        def send(_number: int) -> int:
            files = {"file": ("paper.pdf", b"%PDF-1.7")}
            return client.post("/verify", data={"_token": token}, files=files).status_code

        with ThreadPoolExecutor(8) as many:
            assert set(many.map(send, range(8))) == {200}
    assert 0 < most <= verify_page.AT_ONCE
