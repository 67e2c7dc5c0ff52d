"""A blank job sheet to fill in by hand: every look and measure with room to write."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Any

from hoistwright import __version__
from hoistwright.certificate.cautions import general_cautions
from hoistwright.certificate.typeset import Paper, typeset
from hoistwright.job.shop import Shop
from hoistwright.language import Language
from hoistwright.sheet.blank import BlankRow, BlankSection, BlankSheet

_NOT_ON_PAPER = (
    "format", "sheet.decimal", "sheet.units", "work.bases", "design", "job", "customer.language",
)  # fmt: skip
"""Header lines that only a file needs, or that are printed elsewhere on the paper."""


def blank_data(blank: BlankSheet, shop: Shop | None = None) -> dict[str, Any]:
    """Everything that a blank job sheet prints, as plain JSON values. Pure.

    Args:
        blank: from `hoistwright.sheet.blank.blank_rows`; the paper is in its language.
        shop: for its name and the list of gauges; None where there is no shop file.
    """
    filled = {line.key: value for line, value in blank.header}
    own = blank.language
    return {
        "lang": own.code,
        "title": own.say("Job sheet"),
        "job": filled.get("job", ""),
        "design": blank.title,
        "design_key": filled.get("design", blank.design.key),
        "invented": blank.design.identity.invented,
        "bases": list(blank.bases_said),
        "base_keys": filled.get("work.bases", ""),
        "on": blank.day.isoformat(),
        "on_said": own.date(blank.day, long=True),
        "units": blank.units,
        "software": f"Hoistwright {__version__}",
        "shop": {"name": shop.name if shop else "", "address": shop.address if shop else ""},
        "gauges": [f"{gauge.key}: {gauge.name}" for gauge in shop.gauges] if shop else [],
        "header": [
            {"label": line.label, "hint": line.hint, "value": value, "required": line.required}
            for line, value in blank.header
            if line.key not in _NOT_ON_PAPER
        ],
        "sections": [_section(section, own) for section in blank.sections],
        "cautions": general_cautions(own),
    }


def render_blank(data: Mapping[str, Any], paper: Paper = "a4") -> bytes:
    """The blank sheet as PDF. `data` comes from `blank_data`."""
    return typeset("job_sheet", data, day=datetime.date.fromisoformat(data["on"]), paper=paper)


def _section(section: BlankSection, own: Language) -> dict[str, Any]:
    return {"name": section.name, "caution": section.caution, "rows": list(_rows(section, own))}


def _rows(section: BlankSection, own: Language) -> Iterator[dict[str, Any]]:
    """The rows; what is asked and how is printed once for all places of a feature."""
    before = ""
    for row in section.rows:
        yield _row(row, own, first=row.feature != before)
        before = row.feature


def _row(row: BlankRow, own: Language, *, first: bool) -> dict[str, Any]:
    return {
        "name": row.name,
        "place": row.place_name,
        "measured": row.measured,
        "reference": not row.required,
        "ask": row.ask if first else "",
        "how": row.how if first else "",
        "stage": "" if row.stage == "stripped" else own.say(row.stage),
        "instruments": own.say(" or ").join(row.instruments),
        "as_new": row.as_new,
        "limit": row.limit,
        "unit": row.unit,
        "links": "" if row.links is None else str(row.links),
        "boxes": list(row.boxes),
    }
