"""A gauge or a test weight between its form and the table of a shop file."""

from __future__ import annotations

from typing import Any

from hoistwright.datafile import structure_table
from hoistwright.faults import FaultsError
from hoistwright.job.gauges import GaugeError, gauge_of
from hoistwright.job.shop import GaugeEntry, TestWeight
from hoistwright.language import marked
from hoistwright.quantity import Dimension, in_unit
from hoistwright.web.fault_words import fault_words
from hoistwright.web.forms import Form

GAUGE_MEASURES = {
    "length": marked("a length"),
    "angle": marked("an angle"),
    "force": marked("a force"),
}
_DIMENSIONS = {
    "length": (Dimension.LENGTH, "", "mm"),
    "angle": (Dimension.ANGLE, "_angle", "°"),
    "force": (Dimension.FORCE, "_force", "N"),
}
_TEXTS = ("name", "kind", "certificate", "calibrated_on", "due_on", "reads_from", "reads_to")


def gauge_start(body: dict[str, Any]) -> dict[str, str]:
    """A gauge's table as the fields of its form."""
    suffix = next(
        (s for _, s, _ in _DIMENSIONS.values() if f"resolution{s}" in body),
        "",
    )
    start = {name: str(body.get(name) or "") for name in _TEXTS}
    start["measures"] = next(name for name, (_, s, _) in _DIMENSIONS.items() if s == suffix)
    for name in ("resolution", "uncertainty"):
        start[name] = str(body.get(name + suffix) or "")
    start["coverage_factor"] = f"{body.get('coverage_factor', 2):g}"
    return start


def read_gauge(form: Form) -> dict[str, Any]:
    """The table of a gauge; with every fault noted in the form."""
    say = form.visit.say
    body: dict[str, Any] = {
        "name": form.text("name", needed=say("Give the gauge a name."), most=80),
        "kind": form.text("kind", needed=say("Say what kind of gauge it is."), most=80),
        "certificate": form.text("certificate"),
    }
    measures = form.choice("measures", tuple(_DIMENSIONS), needed=say("Say what it measures."))
    dimension, suffix, unit = _DIMENSIONS.get(measures, _DIMENSIONS["length"])
    for name in ("resolution", "uncertainty"):
        if not form.value(name):
            form.wrong(name, say("Needed: every verdict leans on it."))
        body[name + suffix] = _quantity(form, name, dimension, unit)
    if measures == "length":
        for name in ("reads_from", "reads_to"):
            body[name] = _quantity(form, name, Dimension.LENGTH, unit)
    factor = form.quantity("coverage_factor", Dimension.NUMBER, None)
    body["coverage_factor"] = factor.si if factor else 2.0
    for name in ("calibrated_on", "due_on"):
        body[name] = form.date(name)
    body = {key: value for key, value in body.items() if value not in (None, "")}
    if form.sound:
        _check_gauge(form, body, suffix)
    return body


def _check_gauge(form: Form, body: dict[str, Any], suffix: str) -> None:
    try:
        entry = structure_table({**body, "key": "new"}, GaugeEntry, file="", text="")
        gauge_of(entry)
    except GaugeError as error:
        form.wrong(
            error.key.removesuffix(suffix) if suffix else error.key,
            form.visit.say("%(read)s; expected %(expected)s.", read=error.read,
                           expected=error.expected),
        )  # fmt: skip
    except FaultsError as error:
        form.wrong("name", fault_words(error.faults[0], form.visit.language))


def weight_start(body: dict[str, Any]) -> dict[str, str]:
    """A test weight's table as the fields of its form."""
    names = ("mass", "uncertainty", "count", "due_on")
    return {name: str(body.get(name) or "") for name in names}


def read_weight(form: Form) -> dict[str, Any]:
    """The table of a test weight; with every fault noted in the form."""
    say = form.visit.say
    mass = form.quantity("mass", Dimension.MASS, "kg")
    spread = form.quantity("uncertainty", Dimension.MASS, "kg")
    if mass is None:
        form.wrong("mass", say("Needed: the mass that is marked on it."))
    elif mass.si <= 0:
        form.wrong("mass", say("A mass above zero is needed."))
    if spread is None:
        form.wrong("uncertainty", say("Needed: from its calibration, at k = 2."))
    elif mass is not None and not 0 <= spread.si < mass.si:
        form.wrong("uncertainty", say("From zero to below the mass."))
    count = form.whole("count", 1, 10_000)
    body = {
        "mass": _quantity(form, "mass", Dimension.MASS, "kg"),
        "uncertainty": _quantity(form, "uncertainty", Dimension.MASS, "kg"),
        "count": count or 1,
        "due_on": form.date("due_on"),
    }
    body = {key: value for key, value in body.items() if value is not None}
    if form.sound:
        try:
            structure_table({**body, "key": "new"}, TestWeight, file="", text="")
        except FaultsError as error:
            form.wrong("mass", fault_words(error.faults[0], form.visit.language))
    return body


def _quantity(form: Form, name: str, dimension: Dimension, unit: str) -> str | None:
    """A figure as a shop file writes it: with its unit."""
    found = form.quantity(name, dimension, unit)
    if found is None:
        return None
    return f"{in_unit(found.si, dimension, found.unit):.12g} {found.unit}".strip()
