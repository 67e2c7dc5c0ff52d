"""Every figure of the shipped bases against a second transcription, `pins.toml`.

The pins were typed from the source lines, not from the criterion files: a slip of the finger in
either shows. A figure without a pin fails, and so does a pin without a figure.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.model import Criterion
from hoistwright.hoist.feature import catalogue

PINS: dict[str, Any] = tomllib.loads(
    Path(__file__).with_name("pins.toml").read_text(encoding="utf-8")
)
CRITERIA = [c for key in shipped_bases() for c in shipped_basis(key).criteria]

Row = tuple[object, ...]


def _pinned() -> list[Row]:
    rows: list[Row] = [
        (p["id"], p["since"], p.get("until"), p["value"], p["source"], p["clause"])
        for p in PINS["limits"]
    ]
    for group in PINS["looks"]:
        rows += [
            (i, group["since"], None, "", group["source"], group["clause"]) for i in group["ids"]
        ]
    practice = PINS["practice"]
    for role, found in catalogue().items():
        for look in found.look:
            name = f"practice-{role}-{look.key}".replace("_", "-")
            rows.append((name, practice["since"], None, "", practice["source"], practice["clause"]))
    return rows


def _shipped() -> list[Row]:
    return [
        (c.id, limit.since, limit.until, limit.value, limit.source, limit.clause)
        for c in CRITERIA
        for limit in c.limit
    ]


def test_every_limit_has_its_pin_and_every_pin_its_limit() -> None:
    pinned, shipped = _pinned(), _shipped()
    assert [row for row in shipped if row not in pinned] == [], "limits without a pin"
    assert [row for row in pinned if row not in shipped] == [], "pins without a limit"
    assert len(pinned) == len(set(pinned)) == len(shipped)


@pytest.mark.parametrize("criterion", [c for c in CRITERIA if c.table], ids=lambda c: c.id)
def test_every_cell_of_a_table_has_its_pin(criterion: Criterion) -> None:
    pinned = {f"{size} in": f"{value} in" for size, value in PINS["tables"][criterion.id].items()}
    assert {row.size: row.value for row in criterion.table} == pinned
    assert len(criterion.table) == len(pinned)


def test_every_pinned_table_is_shipped() -> None:
    assert set(PINS["tables"]) == {c.id for c in CRITERIA if c.table}


@pytest.mark.parametrize("key", shipped_bases())
def test_every_interval_has_its_pin(key: str) -> None:
    shipped = [
        [
            i.name,
            i.kind,
            f"{i.months} months" if i.months else f"{i.days} days",
            i.source,
            i.clause,
        ]
        for i in shipped_basis(key).head.interval
    ]
    assert shipped == [r for g in PINS["intervals"] if g["basis"] == key for r in g["rows"]]


@pytest.mark.parametrize("key", shipped_bases())
def test_every_load_test_has_its_pin(key: str) -> None:
    shipped = [
        [t.name, _percent(t.load_from), _percent(t.load_to), (t.hold or 0) / 60, t.source]
        for t in shipped_basis(key).head.load_test
    ]
    assert shipped == [r for g in PINS["load_tests"] if g["basis"] == key for r in g["rows"]]


def _percent(share: float | None) -> str:
    return "" if share is None else f"{100 * share:g} %"
