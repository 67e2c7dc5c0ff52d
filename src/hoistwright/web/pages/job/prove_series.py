"""A pull over time from a load cell: taken as a CSV file, shown as a plot."""

from __future__ import annotations

import functools
import math

import attrs
from markupsafe import Markup
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events_prove import PullRecorded
from hoistwright.job.state import Standing
from hoistwright.job.to_proof import Proof
from hoistwright.prove import expected
from hoistwright.prove.machine import Machine
from hoistwright.prove.pull_csv import read_pull_series
from hoistwright.prove.record import PullSeries
from hoistwright.prove.series import series_figures
from hoistwright.quantity import Dimension, show
from hoistwright.store.errors import PictureError
from hoistwright.store.figures import text_of
from hoistwright.web.endpoint import wants_json
from hoistwright.web.fault_words import fault_words
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import append, known, same_person
from hoistwright.web.pages.job.papers import plain_name
from hoistwright.web.pages.job.prove_pictures import pull_plot
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.said import seen
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

MOST_TOLD = 4
"""Faults of a file that are told at once: the rest follow from them more often than not."""


@attrs.frozen(kw_only=True)
class SeriesLine:
    """One pull over time. `ripple` and `why_none` are words; the latter where there is none."""

    entry: Standing
    direction: str
    mean: str
    expected: str
    ripple: str
    why_none: str
    plot: Markup
    address: str


def texts_of(case: Case) -> dict[str, str]:
    """The CSV texts of the job's pulls over time, by their content."""
    found = {}
    for entry in case.state.pulls:
        body = entry.body
        if isinstance(body, PullRecorded):
            kept = case.visit.bench.store.attachment(body.content)
            if kept is not None:
                found[body.content] = text_of(kept[1])
    return found


def series_lines(case: Case, proof: Proof) -> tuple[SeriesLine, ...]:
    """The pulls over time with their plots."""
    entries = [
        entry
        for entry in case.state.pulls
        if isinstance(entry.body, PullRecorded) and entry.last.seq > proof.told.since
    ]
    by_content = {getattr(entry.body, "content", ""): entry for entry in entries}
    return tuple(
        _line(case, proof, by_content[series.source], series)
        for series in proof.record.series
        if series.source in by_content
    )


def _line(case: Case, proof: Proof, entry: Standing, series: PullSeries) -> SeriesLine:
    unit = "lbf" if case.visit.units == "in" else "N"
    mark = case.visit.language.decimal

    def named(pull: float) -> str:
        return show(pull, Dimension.FORCE, unit, decimal=mark)

    band = _band(proof.machine, series)
    figures = None if proof.machine is None else series_figures(series, proof.machine, 0.0)
    say = case.visit.say
    ripple = figures.ripple if figures else {}
    return SeriesLine(
        entry=entry,
        direction=say(series.direction),
        mean=named(figures.mean.value if figures else float(series.pull.mean())),
        expected=say("%(low)s to %(high)s", low=named(round(band[0])), high=named(round(band[1])))
        if band
        else "",
        ripple=", ".join(
            f"{case.visit.language.sentence(_RIPPLES[name])} {100 * one.value:.1f} %".replace(
                ".", mark)
            for name, one in ripple.items()
        ),
        why_none=case.visit.language.sentence(figures.why_none) if figures else "",
        plot=pull_plot(series.time, series.pull, band, (say("time"), say("pull")), named),
        address=case.visit.url("job-pull", job=case.job, content=series.source),
    )  # fmt: skip


_RIPPLES = {
    "ripple_shaft": "drive shaft",
    "ripple_layshaft": "layshafts",
    "ripple_pocket": "each pocket",
    "ripple_sheave": "load sheave",
    "ripple_mesh": "each tooth",
}


@functools.lru_cache(maxsize=64)
def _expected(machine: Machine, load: float, direction: str) -> tuple[float, float]:
    make = expected.pull_up if direction == "raising" else expected.pull_down
    band = make(machine, load)
    return float(round(band.low)), float(round(band.high))  # an expectation, no limit


def _band(machine: Machine | None, series: PullSeries) -> tuple[float, float] | None:
    if machine is None or not series.load > 0:
        return None
    return _expected(machine, series.load, series.direction)


# taking it


async def take(visit: Visit) -> Response:
    """Keep a CSV file and enter it. Sent twice, it is entered once."""
    from starlette.concurrency import run_in_threadpool

    upload = visit.upload("photo")
    data = await upload.read() if upload else visit.field("text").encode()
    return await run_in_threadpool(_keep, visit, data)


def _keep(visit: Visit, data: bytes) -> Response:
    case = case_of(visit)
    same_person(visit)
    entered = known(case, visit.field("id"))
    if entered is None:
        made = append(case, _draft(case, data))
        if isinstance(made, Question):
            raise Refused(422, made.words)
        entered = made
    if wants_json(visit.request):
        return visit.answer({"entered": entered.id, "seq": entered.seq})
    return visit.go_to(f"{visit.url('job-prove', job=case.job)}#step-full_lift")


def _draft(case: Case, data: bytes) -> Draft:
    visit = case.visit
    load = _load(case)
    direction = "lowering" if visit.field("direction") == "lowering" else "raising"
    try:
        read_pull_series(text_of(data), load=load)
        kept = visit.bench.store.attach_figures(data)
    except PictureError as error:
        raise Refused(422, str(error)) from None
    except FaultsError as error:
        told = "; ".join(fault_words(f, visit.language) for f in error.faults[:MOST_TOLD])
        words = visit.say("The file cannot be read as a pull over time: %(told)s.", told=told)
        raise Refused(422, words) from None
    return Draft(
        id=visit.field("id") or new_id(),
        by=visit.person.key,
        seen=seen(visit),
        body=PullRecorded(
            step=visit.field("step")[:80],
            content=kept.content,
            direction=direction,  # type: ignore[arg-type]
            load=load,
            gauge=visit.field("gauge")[:80],
        ),
    )


def _load(case: Case) -> float:
    proof = case.facts.proof
    load = proof.load if proof else 0.0
    if not load > 0 or not math.isfinite(load):
        say = case.visit.say
        raise Refused(422, say("No test load is chosen yet."), say("Choose the test load first."))
    return load


def show_file(visit: Visit) -> Response:
    """The file of a pull of this job; no other."""
    case = case_of(visit)
    content = visit.part("content")
    mine = {getattr(entry.body, "content", "") for entry in case.state.pulls}
    found = visit.bench.store.attachment(content) if content in mine else None
    if found is None:
        raise Refused(404, visit.say("There is no such file in this job."))
    name = f"{plain_name(case.job)}-pull-{content[:8]}.csv"
    return Response(
        found[1],
        media_type="text/csv; charset=utf-8",
        headers={
            "content-disposition": f'attachment; filename="{name}"',
            "cache-control": "private, max-age=31536000, immutable",
        },
    )


PAGES = (
    Page(name="job-pulls", path="/jobs/{job}/pulls", take=take),
    Page(name="job-pull", path="/jobs/{job}/pulls/{content}", show=show_file),
)
