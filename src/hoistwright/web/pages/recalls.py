"""Recalls: which hoists carry a batch or number, and which verdicts leaned on a gauge."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from starlette.responses import Response

from hoistwright.examine.words import unit_for
from hoistwright.fleet.csv_text import csv_text
from hoistwright.fleet.gauge_recall import Leaned
from hoistwright.fleet.recall import FITTED_HEADS, Doubted, Fitted, fitted_row, fitted_with
from hoistwright.metrology import Gauge
from hoistwright.quantity import Dimension
from hoistwright.store.connect import reading
from hoistwright.web.forms import Form
from hoistwright.web.gauge_recalls import CSV_HEADS, csv_rows, touched_by
from hoistwright.web.page import Page
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.visit import Visit
from hoistwright.web.whole_fleet import whole_fleet

_UNITS = {Dimension.LENGTH: "mm", Dimension.ANGLE: "°", Dimension.FORCE: "N"}


def show(visit: Visit) -> Response:
    """The two questions; with one of a batch answered."""
    text = visit.query("trace")[:120]
    found = _fitted(visit, text)
    return _page(visit, Form(visit), text=text, fitted=found)


def _fitted(visit: Visit, text: str) -> tuple[Fitted, ...]:
    every = [v for many in whole_fleet(visit.bench).visits.values() for v in many]
    return fitted_with(every, text)


def table(visit: Visit) -> Response:
    """The answer about a batch as CSV."""
    found = _fitted(visit, visit.query("trace")[:120])
    return _file("recall-parts.csv", csv_text(FITTED_HEADS, [fitted_row(item) for item in found]))


def take(visit: Visit) -> Response:
    """The question about a gauge, answered on the page or as CSV. Nothing is changed by it."""
    form = Form(visit)
    doubted = _doubted(visit, form)
    if doubted is None:
        return _page(visit, form, status=422)
    found = touched_by(visit.bench, doubted)
    if visit.field("as") == "csv":
        return _file("recall-gauge.csv", csv_text(CSV_HEADS, csv_rows(found)))
    return _page(visit, form, doubted=doubted, touched=found)


def _file(name: str, text: str) -> Response:
    return Response(
        text.encode("utf-8-sig"),
        media_type="text/csv; charset=utf-8",
        headers={"content-disposition": f'attachment; filename="{name}"'},
    )


def _gauges(visit: Visit) -> Sequence[Gauge]:
    with reading(visit.bench.engine) as conn:
        return shop_of(conn).all_gauges()


def _doubted(visit: Visit, form: Form) -> Doubted | None:
    gauges = {gauge.key: gauge for gauge in _gauges(visit)}
    key = form.choice("gauge", tuple(gauges), needed=visit.say("Choose the gauge."))
    since, until = form.date("since"), form.date("until")
    if since is None:
        form.wrong("since", visit.say("Since when it may have been wrong: its last good check."))
    if since and until and until < since:
        form.wrong("until", visit.say("That is before the first day."))
    dimension = gauges[key].measures if key else Dimension.LENGTH
    unit = _UNITS[dimension]
    if visit.units == "in" and dimension is Dimension.LENGTH:
        unit = "in"
    error = form.quantity("error", dimension, unit)
    spread = form.quantity("spread", dimension, unit)
    if spread is not None and spread.si < 0:
        form.wrong("spread", visit.say("An uncertainty is not below nought."))
    if error is None and spread is None:
        form.wrong("error", visit.say("Say how much it read too much, or how unsure it was."))
    if not form.sound or since is None:
        return None
    return Doubted(
        gauge=key,
        since=since,
        until=until or visit.bench.today,
        error=error.si if error else 0.0,
        u=spread.si / 2 if spread else None,
    )


def _page(
    visit: Visit,
    form: Form,
    *,
    status: int = 200,
    text: str = "",
    fitted: Sequence[Fitted] = (),
    doubted: Doubted | None = None,
    touched: Sequence[object] = (),
) -> Response:
    fleet = whole_fleet(visit.bench)
    return visit.page(
        "recalls.html",
        status=status,
        form=form,
        text=text,
        fitted=fitted,
        gauges=[(gauge.key, gauge.name) for gauge in _gauges(visit)],
        doubted=doubted,
        touched=touched,
        part_name=lambda item: _part_name(visit, fleet.known.designs.get(item.visit.design), item),
        value=lambda pair, after: _value(visit, pair, after=after),
        today=visit.bench.today,
        year_ago=visit.bench.today - datetime.timedelta(days=365),
    )


def _part_name(visit: Visit, design: object, item: Fitted) -> str:
    from hoistwright.hoist.design import Design

    names = {p.key: p.name for p in design.parts} if isinstance(design, Design) else {}
    return visit.language.name(names.get(item.part, item.part.replace("_", " ")))


def _value(visit: Visit, pair: Leaned, *, after: bool) -> str:
    """What was read, before and after the correction."""
    verdict = pair.after if after else pair.before
    judged = verdict.judgement
    if judged is None:
        return "–"
    return visit.figure(judged.reading, verdict.dimension, unit_for(verdict.dimension))


PAGES = (
    Page(name="recalls", path="/recalls", show=show, take=take, do="see"),
    Page(name="recalls-table", path="/recalls/parts.csv", show=table),
)
