"""The proof at the test stand: by touch and by keys, with and without script or connection."""

from __future__ import annotations

import json
from collections.abc import Iterator

import attrs
import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench
from browser import (
    DESK,
    TABLET,
    TELEPHONE,
    accessibility_faults,
    complaints,
    opened,
    scrolls_sideways,
)
from job_scene import at_bench, booked_job, enter, facts_of
from playwright.sync_api import Browser, FilePayload, Page, expect
from proof_scene import WEIGHTS, look, proof_bodies, series_text

from hoistwright.job.events import PartChosen, StepTicked
from hoistwright.job.events_prove import ProofLooked, ProofMeasured, TestLoadChosen, TestSettled
from hoistwright.job.stages import missing_of
from hoistwright.job.to_proof import Proof
from hoistwright.quantity import Dimension, in_unit
from hoistwright.store.connect import writing
from hoistwright.web.addresses import as_part
from hoistwright.web.records.accounts import change_account, find_account

_DIMENSIONS = {"N": Dimension.FORCE, "mm": Dimension.LENGTH, "m": Dimension.LENGTH}


def rebuilt_job(shop: LiveBench, job: str, *renew: str) -> str:
    """A job whose hoist is together again, with nothing of its proof entered."""
    booked_job(shop, job)
    enter(shop, job, *(PartChosen(part=part) for part in renew or ("pawl",)))
    plan = facts_of(shop, job).rebuild
    assert plan is not None
    enter(shop, job, *(StepTicked(way="rebuild", step=step.key) for step in plan.steps))
    return job


def proof_of(shop: LiveBench, job: str) -> Proof:
    found = facts_of(shop, job).proof
    assert found is not None
    return found


def missing(shop: LiveBench, job: str) -> list[str]:
    return [item.sentence for item in missing_of("prove", facts_of(shop, job))]


def typed(body: ProofMeasured) -> list[str]:
    """What a technician types for the figures of an entry."""
    dimension = _DIMENSIONS.get(body.unit)
    if dimension is None:
        return [f"{value:g}" for value in body.values]
    return [f"{in_unit(value, dimension, body.unit):.5g}" for value in body.values]


@pytest.fixture
def cora(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "cora")


@pytest.fixture
def tim(shop: LiveBench) -> Visitor:
    shop.forget_attempts()
    return visitor(shop.bench, "tim")


@pytest.fixture
def tablet(browser: Browser, shop: LiveBench) -> Iterator[Page]:
    context = opened(browser, TABLET, touch=True)
    page = context.new_page()
    said = complaints(page)
    at_bench(page, shop, "cora")
    yield page
    context.close()
    assert not [text for text in said if "ERR_INTERNET_DISCONNECTED" not in text]


# the whole way


def test_a_hoist_is_proved_by_touch_and_by_keys(tablet: Page, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-1")
    tablet.goto(f"{shop.address}/jobs/{job}/prove")
    expect(tablet.locator("#tests")).to_contain_text("100 % to 125 % = 2000 kg – 2500 kg")
    tablet.locator("#load form:has([name=way]) button.great").tap()
    expect(tablet.locator("#load .chosen")).to_contain_text("2250.0 ± 1.1 kg")
    bodies = proof_bodies(proof_of(shop, job))
    for step in proof_of(shop, job).steps:
        piece = tablet.locator(f"#step-{step.key}")
        figures = [b for b in bodies if isinstance(b, ProofMeasured) and b.step == step.key]
        for body in figures:
            _type(tablet, f"{step.key}-{body.what.replace(' ', '-')}", typed(body)[:1])
        piece.locator(".question form.answers button[value=yes]").tap()
        expect(piece.locator("summary .mark")).to_be_visible()
    expect(tablet.locator("#proveend form.finish button")).to_be_visible()
    assert missing(shop, job) == []
    assert accessibility_faults(tablet) == []


def _open_steps(page: Page) -> None:
    """Open what is folded away, as with a touch on each step."""
    page.evaluate("document.querySelectorAll('main details').forEach(d => d.open = true)")


def _type(page: Page, ident: str, figures: list[str]) -> None:
    for figure in figures:
        page.locator(f"#{ident}-value").focus()
        page.keyboard.type(figure)
        page.keyboard.press("Enter")
        expect(page.locator(f"#{ident} .kept-figure")).to_be_visible()


def test_a_caliper_goes_from_figure_to_figure(at_desk: Page, shop: LiveBench) -> None:
    """Figure, Enter, figure, Enter: each lands where the focus went."""
    job = rebuilt_job(shop, "PRV-2")
    proof = proof_of(shop, job)
    enter(shop, job, WEIGHTS, *(look(s) for s in proof.steps[:7]), by="cora")
    at_desk.goto(f"{shop.address}/jobs/{job}/prove")
    at_desk.locator("#pawls-lift-value").focus()
    path = proof.machine.velocity_ratio / 2 if proof.machine else 0
    clicks = round(proof.machine.clicks_per_lift / 2) if proof.machine else 0
    for figure in ("0.5", f"{clicks}", "2", f"{path:.3f}"):
        at_desk.keyboard.type(figure)
        at_desk.keyboard.press("Enter")
    expect(at_desk.locator("#pawls-hand-path .kept-figure")).to_be_visible()
    state = shop.bench.store.state(job)
    read = {what: entry.body.values[0] for (_, what), entry in state.measured.items()
            if isinstance(entry.body, ProofMeasured)}  # fmt: skip
    assert read == pytest.approx({"lift": 0.5, "clicks": clicks, "pawls heard": 2,
                                  "hand path": round(path, 3)})  # fmt: skip
    expect(at_desk.locator("#found-clicks")).to_contain_text("as expected")


def test_the_stop_watch_enters_no_more_than_it_ran(at_desk: Page, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-3", "warning_tag")
    proof = proof_of(shop, job)
    enter(shop, job, *(look(s) for s in proof.steps[:7]), by="cora")
    at_desk.clock.install()
    at_desk.goto(f"{shop.address}/jobs/{job}/prove")
    _open_steps(at_desk)
    watch = at_desk.locator("button.watch:visible")
    watch.click()
    at_desk.clock.run_for(64_400)
    watch.click()
    expect(at_desk.locator("#hold_hand_load-hold-time .kept-figure")).to_contain_text("64 s")


def test_answers_wait_on_the_tablet_through_a_reload_without_connection(
    tablet: Page, shop: LiveBench
) -> None:
    job = rebuilt_job(shop, "PRV-4")
    tablet.goto(f"{shop.address}/jobs/{job}/prove")
    tablet.evaluate("navigator.serviceWorker.ready.then(() => true)")
    while not tablet.evaluate(_KEPT):  # wait_for_function does not wait for a promise
        tablet.wait_for_timeout(100)
    tablet.context.set_offline(True)
    tablet.locator("#step-clear button[value=yes]").tap()
    expect(tablet.locator("#waiting")).to_contain_text("1 entry waits on this tablet")
    tablet.reload()
    expect(tablet.locator("#waiting")).to_contain_text("1 entry waits on this tablet")
    clear = tablet.locator("#step-clear button[value=yes]")
    expect(clear).to_have_attribute("aria-pressed", "true")
    tablet.locator("#step-hang summary").tap()
    tablet.locator("#step-hang button[value=yes]").tap()
    expect(tablet.locator("#waiting")).to_contain_text("2 entries wait on this tablet")
    tablet.context.set_offline(False)
    expect(tablet.locator("#step-hang summary .mark")).to_be_visible(timeout=30_000)
    assert set(shop.bench.store.state(job).proof_looks) == {"clear", "hang"}


_KEPT = """caches.match(location.href.split("#")[0], {cacheName: "hoistwright-pages"})
  .then((found) => !!found)"""


# what goes wrong


def test_a_load_that_ran_stops_everything(tablet: Page, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-5")
    enter(shop, job, WEIGHTS, *(look(s) for s in proof_of(shop, job).steps[:5]), by="cora")
    tablet.goto(f"{shop.address}/jobs/{job}/prove")
    tablet.locator("#step-light button[value=ran]").tap()
    alert = tablet.locator("#provehead [role=alert]")
    expect(alert).to_contain_text("The brake did not hold: take the load off")
    expect(tablet.locator("#suspected details.ready")).to_have_count(0)
    # and where the hand is, for the head may be out of sight
    expect(tablet.locator("#step-light .great-caution")).to_contain_text("take the load off")
    names = tablet.locator("#suspected .likely h3").all_inner_texts()
    assert len(names) >= 2
    assert not any("nothing wrong" in name for name in names)
    expect(tablet.locator("#found-brake-holds")).to_contain_text("not passed")
    assert accessibility_faults(tablet) == []


def test_what_may_be_wrong_does_not_push_the_running_step_away(
    tablet: Page, shop: LiveBench
) -> None:
    """One pull says little: it stands folded at the end; the step stays under the hand."""
    job = rebuilt_job(shop, "PRV-30")
    proof = proof_of(shop, job)
    enter(shop, job, WEIGHTS, *(look(s) for s in proof.steps[:5]), by="cora")
    tablet.goto(f"{shop.address}/jobs/{job}/prove")
    light = next(b for b in proof_bodies(proof)
                 if isinstance(b, ProofMeasured) and b.step == "light")  # fmt: skip
    field = tablet.locator("#light-pull-up-value")
    field.scroll_into_view_if_needed()
    was = _top(tablet, "step-light")
    field.focus()
    tablet.keyboard.type(typed(attrs.evolve(light, values=(1.25 * light.values[0],)))[0])
    tablet.keyboard.press("Enter")
    expect(tablet.locator("#light-pull-up .kept-figure")).to_be_visible()
    assert abs(_top(tablet, "step-light") - was) < 2
    folded = tablet.locator("#suspected details.ready")
    expect(folded.locator("summary")).to_contain_text("nothing wrong")
    expect(folded.locator(".likely")).to_be_hidden()
    assert _top(tablet, "suspected") > _top(tablet, "found")
    tablet.locator("#step-light button[value=no]").tap()
    expect(tablet.locator("#provehead")).to_contain_text("Something did not pass.")
    expect(tablet.locator("#suspected section")).to_be_visible()
    assert accessibility_faults(tablet) == []


def _top(page: Page, ident: str) -> float:
    """Where on the screen a piece begins."""
    return float(page.evaluate(f"document.getElementById('{ident}').getBoundingClientRect().top"))


def test_a_figure_of_another_size_is_asked_back(at_desk: Page, shop: LiveBench) -> None:
    """A pull typed in kilograms-force where newtons stand is ten times too small."""
    job = rebuilt_job(shop, "PRV-6")
    enter(shop, job, WEIGHTS, *(look(s) for s in proof_of(shop, job).steps[:8]), by="cora")
    at_desk.goto(f"{shop.address}/jobs/{job}/prove")
    _open_steps(at_desk)
    field = at_desk.locator("#full_lift-pull-up-value")
    field.fill("41")
    field.press("Enter")
    asked = at_desk.locator("#full_lift-pull-up .asked:not(:empty)")
    expect(asked).to_contain_text("far from what is expected")
    asked.get_by_role("button").last.click()
    field.fill("41 kgf")
    field.press("Enter")
    expect(at_desk.locator("#full_lift-pull-up .kept-figure")).to_contain_text("41 kgf")
    body = shop.bench.store.state(job).measured["full_lift", "pull up"].body
    assert isinstance(body, ProofMeasured)
    assert body.values == pytest.approx((41 * 9.80665,))


def _post(who: Visitor, job: str, do: str, **fields: str) -> int:
    return who.post(f"/jobs/{job}/prove", {"do": do, **fields}).status_code


def test_no_step_is_signed_before_its_hold_point(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-7")
    yes = {"answer": "yes", "name": "cora"}
    assert _post(cora, job, "proof-look", step="hang", **yes) == 422
    assert _post(cora, job, "proof-look", step="clear", answer="yes", name="tim") == 422
    assert _post(cora, job, "proof-look", step="clear", **yes) == 303
    assert _post(cora, job, "proof-look", step="hang", **yes) == 303
    assert set(shop.bench.store.state(job).proof_looks) == {"clear", "hang"}


def test_after_a_load_ran_no_further_step_is_answered(cora: Visitor, shop: LiveBench) -> None:
    """At the lowering, too, which is no hold point by itself."""
    job = rebuilt_job(shop, "PRV-23")
    steps = {step.key: step for step in proof_of(shop, job).steps}
    before = list(steps)[: list(steps).index("lower")]
    enter(shop, job, WEIGHTS, *(look(steps[key]) for key in before), by="cora")
    assert _post(cora, job, "proof-look", step="lower", answer="ran") == 303
    assert _post(cora, job, "proof-look", step="hold", answer="yes", name="cora") == 422
    assert _post(cora, job, "proof-look", step="hold", answer="no", name="cora") == 303


def test_nothing_heavy_is_lifted_before_a_load_is_chosen(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-8")
    enter(shop, job, *(look(s) for s in proof_of(shop, job).steps[:6]), by="cora")
    fields = {"step": "lift_a_little", "answer": "yes", "name": "cora"}
    assert _post(cora, job, "proof-look", **fields) == 422
    enter(shop, job, WEIGHTS, by="cora")
    assert _post(cora, job, "proof-look", **fields) == 303


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"count-w500": "5"},
        {"count-w500": "-1"},
        {"count-w500": "two"},
        {"count-w500": "4", "tackle": "heavy"},
        {"way": "test bed", "gauge": "cal-1", "bed_reading": "22"},
        {"way": "test bed", "gauge": "cell-1", "bed_reading": "0"},
        {"way": "test bed", "gauge": "cell-1", "bed_reading": "22 mm"},
    ],
)
def test_a_load_that_cannot_be_is_refused(
    cora: Visitor, shop: LiveBench, fields: dict[str, str]
) -> None:
    job = rebuilt_job(shop, "PRV-9")
    answer = cora.post(f"/jobs/{job}/prove", {"do": "test-load", **fields})
    assert answer.status_code == 422
    assert 'class="wrongs" role="alert"' in answer.text
    assert shop.bench.store.state(job).test_load is None


def test_floor_and_tackle_are_kept_with_the_load(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-10")
    page = cora.get(f"/jobs/{job}/prove?floor=2100&tackle=35").text
    assert "2000 kg to 2500 kg" in page
    answer = cora.post(
        f"/jobs/{job}/prove",
        {"do": "test-load", "way": "weights", "count-w500": "4", "tackle": "35", "floor": "2100"},
    )
    assert answer.status_code == 303
    chosen = shop.bench.store.state(job).test_load
    assert isinstance(chosen, TestLoadChosen)
    assert (chosen.tackle, chosen.floor) == (35.0, 2100.0)
    assert chosen.hung[0].mass == 500.0
    assert chosen.hung[0].due_on is not None


def test_only_a_competent_person_settles_a_test(
    cora: Visitor, tim: Visitor, shop: LiveBench
) -> None:
    job = rebuilt_job(shop, "PRV-11", "warning_tag")
    asks = {"basis": "b30-hand-hoists", "test": "load test after repair", "applies": "yes"}
    assert _post(tim, job, "test-settle", reason="brake was open", **asks) == 422
    assert _post(cora, job, "test-settle", **asks) == 422, "a reason is needed"
    assert proof_of(shop, job).permitted is None
    assert _post(cora, job, "test-settle", reason="brake was open", **asks) == 303
    assert proof_of(shop, job).permitted is not None
    (entry,) = shop.bench.store.state(job).settled.values()
    assert isinstance(entry.body, TestSettled)


@pytest.mark.parametrize(
    ("step", "what", "value"),
    [
        ("pawls", "clicks", "12.5"),
        ("pawls", "lift", "-1"),
        ("pawls", "lift", "far"),
        ("hold", "hold time", ""),
        ("full_lift", "pull up", "300 mm"),
        ("full_lift", "lift", "1"),
        ("nowhere", "pull up", "300"),
    ],
)
def test_what_is_no_figure_of_a_step_is_told_and_nothing_entered(
    cora: Visitor, shop: LiveBench, step: str, what: str, value: str
) -> None:
    job = rebuilt_job(shop, "PRV-12")
    assert _post(cora, job, "proof-figure", step=step, what=what, value=value) == 422
    assert not shop.bench.store.state(job).measured


def test_a_bed_is_read_in_the_unit_of_its_instrument(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-13")
    chosen = {"way": "test bed", "gauge": "cell-1", "bed_reading": "21.6"}
    assert _post(cora, job, "test-load", **chosen) == 303
    read = {"step": "lift_a_little", "what": "bed reading", "gauge": "cell-1"}
    assert _post(cora, job, "proof-figure", value="21.58 kN", **read) == 303
    applied = proof_of(shop, job).applied
    assert applied is not None
    assert applied.load == pytest.approx(21580 / 9.80665)


# a pull over time


def _csv(text: str) -> FilePayload:
    return {"name": "pull.csv", "mimeType": "text/csv", "buffer": text.encode()}


def test_a_load_cells_file_is_kept_and_drawn(at_desk: Page, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-14")
    proof = proof_of(shop, job)
    enter(shop, job, WEIGHTS, *(look(s) for s in proof.steps[:8]), by="cora")
    at_desk.goto(f"{shop.address}/jobs/{job}/prove")
    _open_steps(at_desk)
    file = at_desk.locator('#pulls input[type="file"]')
    file.set_input_files(_csv("time,pull\n1,2\n"))
    expect(at_desk.locator("#pulls .asked:not(:empty)")).to_contain_text("unit")
    assert not shop.bench.store.state(job).pulls
    assert proof.machine is not None
    text = series_text(proof.machine)
    at_desk.reload()
    _open_steps(at_desk)
    file.set_input_files(_csv(text))
    expect(at_desk.locator("#pulls .plot svg")).to_be_visible()
    expect(at_desk.locator("#pulls .plot")).to_contain_text("ripple: drive shaft")
    (entry,) = shop.bench.store.state(job).pulls
    kept = shop.bench.store.attachment(entry.body.content)  # type: ignore[union-attr]
    assert kept is not None
    assert kept[0].media_type == "text/csv"
    assert kept[1].decode() == text


def test_the_file_of_a_pull_is_shown_with_its_own_job_alone(cora: Visitor, shop: LiveBench) -> None:
    """A job may be called anything; headers hold Latin letters alone."""
    job, other = rebuilt_job(shop, 'Ω "15"'), rebuilt_job(shop, "PRV-16")
    here = f"/jobs/{as_part(job)}/pulls"
    enter(shop, job, WEIGHTS, by="cora")
    machine = proof_of(shop, job).machine
    assert machine is not None
    fields = {"do": "pull", "step": "full_lift", "direction": "raising", "gauge": "cell-2"}
    sent = cora.client.post(
        here,
        data={"_token": cora.token(), **fields},
        files={"photo": ("pull.csv", series_text(machine).encode(), "text/csv")},
    )
    assert sent.status_code == 303
    content = shop.bench.store.state(job).pulls[0].body.content  # type: ignore[union-attr]
    found = cora.get(f"{here}/{content}")
    assert found.headers["content-type"].startswith("text/csv")
    name = f"15-pull-{content[:8]}.csv"
    assert found.headers["content-disposition"] == f'attachment; filename="{name}"'
    assert cora.get(f"/jobs/{other}/pulls/{content}").status_code == 404


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xfe\x00bad", b"time [s],pull [N]\n0,1\n", b"%PDF-1.7"]
)
def test_what_is_no_pull_over_time_is_refused(cora: Visitor, shop: LiveBench, data: bytes) -> None:
    job = rebuilt_job(shop, "PRV-17")
    enter(shop, job, WEIGHTS, by="cora")
    sent = cora.client.post(
        f"/jobs/{job}/pulls",
        data={"_token": cora.token(), "step": "full_lift"},
        files={"photo": ("pull.csv", data, "text/csv")},
    )
    assert sent.status_code == 422
    assert not shop.bench.store.state(job).pulls


_PORT = """
const lines = %s;
navigator.serial ??= {};
Object.defineProperty(navigator, "serial", { value: { requestPort: async () => ({
  open: async () => {},
  readable: new ReadableStream({ async start(stream) {
    const ink = new TextEncoder();
    for (const line of lines) {
      stream.enqueue(ink.encode(line));
      await new Promise((go) => setTimeout(go, 20));
    }
  } }),
}) } });
"""


def test_a_serial_line_gives_its_figures(at_desk: Page, shop: LiveBench) -> None:
    """Lines as they come, cut anywhere, with words around the figure."""
    job = rebuilt_job(shop, "PRV-18")
    enter(shop, job, WEIGHTS, *(look(s) for s in proof_of(shop, job).steps[:8]), by="cora")
    at_desk.add_init_script(_PORT % json.dumps(["ST,+0040", "8.5 N\r\nST,+0409", ".0 N\r", "\n"]))
    at_desk.goto(f"{shop.address}/jobs/{job}/prove")
    _open_steps(at_desk)
    at_desk.locator("#line-open").click()
    expect(at_desk.locator("#line-value")).to_have_text("409 N")
    at_desk.locator("#line-take").click()
    expect(at_desk.locator("#full_lift-pull-up .kept-figure")).to_contain_text("409 N")


# seen by everybody

_SMALL = """[...document.querySelectorAll(
  "main button, main input:not([type=hidden]), main select")]
  .filter(e => e.offsetParent && e.type !== "file" && e.getBoundingClientRect().height < 55)
  .map(e => e.outerHTML.slice(0, 90))"""
"""Buttons and fields that are hard to touch with a glove."""


@pytest.mark.parametrize("size", [DESK, TABLET, TELEPHONE], ids=["desk", "tablet", "telephone"])
def test_the_page_is_accessible_at_each_size(
    browser: Browser, shop: LiveBench, size: tuple[int, int]
) -> None:
    jobs = [
        rebuilt_job(shop, f"PRV-A{size[0]}"),
        rebuilt_job(shop, f"PRV-B{size[0]}", "bottom_hook"),
    ]
    enter(shop, jobs[1], WEIGHTS, by="cora")
    enter(shop, jobs[1], *proof_bodies(proof_of(shop, jobs[1]), "dry_gears", 0.8), by="cora")
    context = opened(browser, size)
    page = context.new_page()
    said = complaints(page)
    at_bench(page, shop, "cora")
    faults: list[str] = []
    for job in jobs:
        page.goto(f"{shop.address}/jobs/{job}/prove")
        _open_steps(page)
        faults += [f"{job}: {fault}" for fault in accessibility_faults(page)]
        faults += [f"{job}: wider than the screen"] if scrolls_sideways(page) else []
        small = page.evaluate(_SMALL)
        faults += [f"too small for a glove: {item}" for item in small]
    context.close()
    assert faults == []
    assert said == []


def test_a_french_technician_proves_in_french(shop: LiveBench) -> None:
    import attrs

    job = rebuilt_job(shop, "PRV-19")
    enter(shop, job, WEIGHTS, by="cora")
    enter(shop, job, *proof_bodies(proof_of(shop, job), "oily_discs", 0.6), by="cora")
    shop.forget_attempts()
    with writing(shop.bench.engine) as conn:
        kept = find_account(conn, "tim")
        assert kept is not None
        change_account(conn, attrs.evolve(kept, language="fr"))
    page = visitor(shop.bench, "tim").get(f"/jobs/{job}/prove").text
    with writing(shop.bench.engine) as conn:
        change_account(conn, kept)
    for words in (
        "Charge d’épreuve", "Dégager le banc", "point d’arrêt", "Le frein n’a pas tenu",
        "huile ou graisse sur les disques de friction", "2250,0 ± 1,1 kg",
        "Montez 2250 kg sur la levée de 3 m",
    ):  # fmt: skip
        assert words in page
    for words in ("Clear the stand", "Look first", "hold point", "not answered", "guard band"):
        assert words not in page


def test_somebody_who_only_reads_sees_and_cannot_enter(shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-20")
    shop.forget_attempts()
    reader = visitor(shop.bench, "ron")
    page = reader.get(f"/jobs/{job}/prove")
    assert page.status_code == 200
    assert 'name="do"' not in page.text.split("<main", 1)[1]
    assert _post(reader, job, "proof-look", step="clear", answer="yes", name="ron") == 403


def test_the_history_tells_what_was_entered(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-22")
    enter(shop, job, WEIGHTS, by="cora")
    enter(shop, job, *proof_bodies(proof_of(shop, job)), by="cora")
    page = cora.get(f"/jobs/{job}/history").text
    for words in ("4 × 500 kg", "1 × 250 kg", "60 s"):
        assert words in page


def test_two_people_at_one_step_see_both_answers(cora: Visitor, shop: LiveBench) -> None:
    job = rebuilt_job(shop, "PRV-21")
    before = shop.bench.store.state(job).seq
    step = proof_of(shop, job).steps[0]
    enter(shop, job, look(step), by="cora", seen=before)
    enter(shop, job, look(step, "no"), by="tim", seen=before)
    assert "Two people, two answers" in cora.get(f"/jobs/{job}/prove").text
    entry = shop.bench.store.state(job).proof_looks["clear"]
    assert isinstance(entry.body, ProofLooked)
    assert _post(cora, job, "settle", entry=entry.event.id) == 303
    assert "Two people, two answers" not in cora.get(f"/jobs/{job}/prove").text
