"""Writing a booked-in hoist: its job number, its design file, its photos, its events."""

from __future__ import annotations

import datetime

from sqlalchemy import Connection

from hoistwright.hoist.design import Design
from hoistwright.job.entry import Draft
from hoistwright.job.events import Body, BookedIn, GivenTo, PhotoAttached, StageFinished
from hoistwright.job.stages import Facts, missing_of
from hoistwright.job.state import JobState
from hoistwright.store.connect import reading, writing
from hoistwright.store.errors import PictureError
from hoistwright.web.bases import bases_named
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_from_text, design_named
from hoistwright.web.keys import short_name
from hoistwright.web.plate import Plate, begun_design
from hoistwright.web.records.own_designs import keep_design, own_texts
from hoistwright.web.records.settings import keep_setting, locked_setting, setting
from hoistwright.web.records.shop_records import shop_of


def job_number(bench: Bench, once: str) -> str:
    """The next free job number; the same for the same `once`, so that a form sent twice is one."""
    with writing(bench.engine) as conn:
        locked_setting(conn, "job number")
        before = setting(conn, f"booked {once}")
        if before:
            return before
        number = _next(conn, bench)
        keep_setting(conn, f"booked {once}", number)
        return number


def _next(conn: Connection, bench: Bench) -> str:
    year = f"{bench.today:%y}"
    last_year, _, last = setting(conn, "job number").partition("-")
    count = int(last) + 1 if last_year == year and last.isdigit() else 1
    while bench.store.job(f"{year}-{count:04d}") is not None:
        count += 1
    keep_setting(conn, "job number", f"{year}-{count:04d}")
    return f"{year}-{count:04d}"


def begin_design(bench: Bench, plate: Plate, once: str, by: str) -> tuple[str, Design]:
    """A partial design file from the plate, kept in the database; its name and the design."""
    stem = short_name(f"{plate.maker} {plate.model}") or "unknown-maker"
    key = f"{stem}-{once[:6]}"
    text = begun_design(plate, key)
    design = design_from_text(bench, f"{key}.toml", text)
    with writing(bench.engine) as conn:
        if f"{key}.toml" not in own_texts(conn):
            keep_design(conn, f"{key}.toml", text, by=by, at=bench.now())
    return f"{key}.toml", design


def photographed(bench: Bench, pictures: list[bytes]) -> tuple[list[Body], int]:
    """Photos kept, as events, and how many could not be taken."""
    bodies: list[Body] = []
    refused = 0
    for data in pictures:
        try:
            kept = bench.store.attach(data)
        except PictureError:
            refused += 1
            continue
        bodies.append(
            PhotoAttached(content=kept.content, media_type=kept.media_type, caption="booked in")
        )
    return bodies, refused


def write_booking(
    bench: Bench,
    booked: BookedIn,
    photos: list[Body],
    *,
    once: str,
    by: str,
    given_to: str,
    told_at: datetime.datetime,
) -> str:
    """Enter the job; its number. Sent twice, it is entered once."""
    job = job_number(bench, once)
    bodies: list[Body] = [booked, *photos]
    if given_to:
        bodies.append(GivenTo(person=given_to))
    if bench.store.state(job).seq:
        return job
    drafts = [Draft(body=body, by=by, id=f"{once}-{at}") for at, body in enumerate(bodies)]
    state = bench.store.append(job, drafts, now=told_at).state
    if not missing_of("book in", _facts(bench, state)):
        done = Draft(body=StageFinished(stage="book in"), by=by, id=f"{once}-done")
        bench.store.append(job, [done], now=told_at)
    return job


def _facts(bench: Bench, state: JobState) -> Facts:
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    return Facts(
        state=state,
        design=design_named(bench, state.design),
        bases=bases_named(bench, state.bases),
        shop=shop,
    )
