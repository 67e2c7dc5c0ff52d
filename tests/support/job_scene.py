"""Jobs for the tests of the bench's job pages."""

from __future__ import annotations

from bench_live import PASSWORD, LiveBench
from playwright.sync_api import Page

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.shop_files import demo_sheets
from hoistwright.hoist.library import shipped
from hoistwright.job.entry import Draft
from hoistwright.job.events import BookedIn, ExtentChosen, LookAnswered, ReadingEntered
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.job.stages import Facts, stands_at
from hoistwright.job.state import JobState
from hoistwright.quantity import in_unit
from hoistwright.sheet import read_sheet
from hoistwright.sheet.figures import usual_unit
from hoistwright.store.connect import reading
from hoistwright.web.records.shop_records import shop_of

DESIGN = "ardle-2000"
BASES = ("b30-hand-hoists", "workshop-practice")


def booked_job(
    shop: LiveBench, job: str, *, strip_to: tuple[str, ...] = (), by: str = "cora", serial: str = ""
) -> str:
    """A job that has just been booked in; how it was found is still to be said."""
    enter(
        shop,
        job,
        BookedIn(
            hoist=HoistIdentity(
                maker="Ardle", model="2000", serial=serial or f"S-{job}", rated_load=2000.0
            ),
            customer=Customer(name="Saltmarsh Boatyard (invented)"),
            design=DESIGN,
            bases=BASES,
        ),
        by=by,
    )
    if strip_to:
        enter(shop, job, ExtentChosen(parts=strip_to), by=by)
    return job


def enter(
    shop: LiveBench, job: str, *bodies: object, by: str = "tim", seen: int | None = None
) -> JobState:
    """Enter events as somebody at another tablet."""
    drafts = [Draft(body=body, by=by, seen=seen) for body in bodies]  # type: ignore[arg-type]
    return shop.bench.store.append(job, drafts).state


def facts_of(shop: LiveBench, job: str) -> Facts:
    with reading(shop.bench.engine) as conn:
        kept = shop_of(conn)
    bases = tuple(shipped_basis(key) for key in BASES)
    return Facts(state=shop.bench.store.state(job), design=shipped(DESIGN), bases=bases, shop=kept)


def stage_of(shop: LiveBench, job: str) -> str:
    return stands_at(facts_of(shop, job))


def feature_values(shop: LiveBench, job: str) -> dict[tuple[str, str, str], str]:
    """For each measured point a figure of a sound hoist, as a caliper in millimetres types it."""
    sound = read_sheet(demo_sheets()[0])
    read = {(r.part, r.feature, r.place): r.values[0] for r in sound.readings}
    out = {}
    for point in facts_of(shop, job).points:
        if point.measured and point.address in read:
            unit = usual_unit(point.dimension, "mm")
            figure = in_unit(read[point.address], point.dimension, unit)
            out[point.address] = f"{figure:.7g}"
    return out


def all_answers(shop: LiveBench, job: str) -> list[ReadingEntered | LookAnswered]:
    """Every reading and look of a sound hoist, as events."""
    sound = read_sheet(demo_sheets()[0])
    readings = [
        ReadingEntered(part=r.part, feature=r.feature, place=r.place, values=r.values, unit=r.unit,
                       gauge=r.gauge, links=r.links)
        for r in sound.readings
    ]  # fmt: skip
    looks = [
        LookAnswered(part=a.part, feature=a.feature, place=a.place, answer=a.answer)
        for a in sound.looks
    ]
    return [*readings, *looks]


def at_bench(page: Page, shop: LiveBench, who: str) -> None:
    """Sign somebody in, and wait until they are."""
    shop.forget_attempts()
    page.goto(f"{shop.address}/sign-in")
    page.fill("#name", who)
    page.fill("#password", PASSWORD)
    page.press("#password", "Enter")
    page.wait_for_url(lambda url: "/sign-in" not in url)
