"""Gauges and test weights with their due dates; adding and changing them."""

from __future__ import annotations

import datetime
from typing import Any

from starlette.responses import Response

from hoistwright.job.gauges import gauge_of
from hoistwright.job.shop import GaugeEntry, Shop
from hoistwright.quantity import Dimension
from hoistwright.store.connect import reading, writing
from hoistwright.web.forms import Form
from hoistwright.web.gauge_form import (
    GAUGE_MEASURES,
    gauge_start,
    read_gauge,
    read_weight,
    weight_start,
)
from hoistwright.web.keys import free_key
from hoistwright.web.page import Page
from hoistwright.web.records.shop_records import Kind, item, keep_item, shop_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

SOON = datetime.timedelta(days=30)


def show(visit: Visit) -> Response:
    shop = _shop(visit)
    return visit.page(
        "gauges.html",
        gauges=[(g, _due(visit, g.due_on)) for g in shop.gauges],
        figures=lambda gauge: _figures(visit, gauge),
        mass=lambda kilograms: visit.figure(kilograms, Dimension.MASS, "kg"),
        weights=[(w, _due(visit, w.due_on)) for w in shop.test_weights],
    )


def _figures(visit: Visit, entry: GaugeEntry) -> tuple[str, str]:
    """Resolution and calibration uncertainty as texts."""
    gauge = gauge_of(entry)
    unit = {Dimension.LENGTH: "mm", Dimension.ANGLE: "°", Dimension.FORCE: "N"}[gauge.measures]
    return (
        visit.figure(gauge.resolution, gauge.measures, unit),
        visit.figure(gauge.calibration_uncertainty, gauge.measures, unit),
    )


def _due(visit: Visit, day: datetime.date | None) -> str:
    """Whether something is in date: "in date", "soon", "over" or "unknown"."""
    today = visit.bench.today
    if day is None:
        return "unknown"
    if day < today:
        return "over"
    return "soon" if day - today <= SOON else "in date"


def show_gauge(visit: Visit) -> Response:
    body = _item(visit, "gauges", "gauge")
    return _gauge(visit, Form(visit, gauge_start(body)), body)


def take_gauge(visit: Visit) -> Response:
    return _take(visit, "gauges", _item(visit, "gauges", "gauge"))


def show_new_gauge(visit: Visit) -> Response:
    return _gauge(visit, Form(visit, {"measures": "length", "coverage_factor": "2"}), None)


def take_new_gauge(visit: Visit) -> Response:
    return _take(visit, "gauges", None)


def show_weight(visit: Visit) -> Response:
    body = _item(visit, "test_weights", "weight")
    return _weight(visit, Form(visit, weight_start(body)), body)


def take_weight(visit: Visit) -> Response:
    return _take(visit, "test_weights", _item(visit, "test_weights", "weight"))


def show_new_weight(visit: Visit) -> Response:
    return _weight(visit, Form(visit, {"count": "1"}), None)


def take_new_weight(visit: Visit) -> Response:
    return _take(visit, "test_weights", None)


def _take(visit: Visit, kind: Kind, before: dict[str, Any] | None) -> Response:
    form = Form(visit)
    body = (read_gauge if kind == "gauges" else read_weight)(form)
    if not form.sound:
        page = _gauge if kind == "gauges" else _weight
        return page(visit, form, before, 422)
    shop = _shop(visit)
    if before is None:
        taken = [g.key for g in shop.gauges] + [w.key for w in shop.test_weights]
        name = str(body.get("name") or f"w{str(body['mass']).split()[0]}")
        key = free_key(name, taken, other="gauge")
    else:
        key = str(before["key"])
    with writing(visit.bench.engine) as conn:
        keep_item(conn, kind, key, {**body, "key": key})
    visit.tell(visit.say("Kept. It holds for readings from now on."))
    return visit.go("gauges")


def _gauge(visit: Visit, form: Form, body: dict[str, Any] | None, status: int = 200) -> Response:
    return visit.page("gauge.html", form=form, body=body, measures=GAUGE_MEASURES, status=status)


def _weight(visit: Visit, form: Form, body: dict[str, Any] | None, status: int = 200) -> Response:
    return visit.page("weight.html", form=form, body=body, status=status)


def _item(visit: Visit, kind: Kind, part: str) -> dict[str, Any]:
    with reading(visit.bench.engine) as conn:
        body = item(conn, kind, visit.part(part))
    if body is None:
        raise Refused(404, visit.say("There is no such gauge or weight here."))
    return body


def _shop(visit: Visit) -> Shop:
    with reading(visit.bench.engine) as conn:
        return shop_of(conn)


PAGES = (
    Page(name="gauges", path="/gauges", show=show),
    Page(name="new-gauge", path="/gauges/new", show=show_new_gauge, take=take_new_gauge,
         see="keep gauges", do="keep gauges"),
    Page(name="gauge", path="/gauges/of/{gauge}", show=show_gauge, take=take_gauge,
         see="keep gauges", do="keep gauges"),
    Page(name="new-weight", path="/weights/new", show=show_new_weight, take=take_new_weight,
         see="keep gauges", do="keep gauges"),
    Page(name="weight", path="/weights/of/{weight}", show=show_weight, take=take_weight,
         see="keep gauges", do="keep gauges"),
)  # fmt: skip
