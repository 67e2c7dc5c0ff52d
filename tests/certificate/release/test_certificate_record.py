"""The record against its published schema; the same record gives the same paper."""

from __future__ import annotations

import copy
import datetime
import json
from typing import Any

import attrs
import jsonschema
import pytest
from release_scene import ROOT, Scene, end_states

from hoistwright.certificate.release.record import record_bytes, signatory_of, withdrawal_record
from hoistwright.certificate.release.render import render
from hoistwright.certificate.release.values import Supersedes, Withdrawal

SCHEMA = json.loads(
    (ROOT / "docs/schemas/certificate-record.schema.json").read_text(encoding="utf-8")
)
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def parsed(record: dict[str, Any]) -> Any:
    return json.loads(record_bytes(record))


def withdrawal(scene: Scene) -> dict[str, Any]:
    stated = Withdrawal(
        number="KQ-2026-0042",
        revision=0,
        file_sha256="0" * 64,
        issued_on=scene.day,
        withdrawn_on=scene.day,
        reason="wrong hoist",
        by=signatory_of(scene.shop, "odile"),
    )
    return withdrawal_record(stated, scene.shop)


def test_the_schema_is_itself_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("state", end_states(), ids=lambda s: str(s.get("decision", "released")))
def test_every_way_out_fits_the_schema(scene: Scene, state: dict[str, Any]) -> None:
    VALIDATOR.validate(parsed(scene.record(**state)))


def test_revision_and_withdrawal_fit_the_schema(scene: Scene) -> None:
    old = Supersedes(
        number="KQ-2026-0042",
        revision=0,
        file_sha256="a" * 64,
        issued_on=scene.day,
        reason="serial number misread",
    )
    VALIDATOR.validate(parsed(scene.record(revision=1, supersedes=old)))
    VALIDATOR.validate(parsed(withdrawal(scene)))


def test_schema_refuses_what_is_too_much_and_what_is_missing(scene: Scene) -> None:
    """So that the schema really holds something: each key at the top is needed, none may come."""
    whole = parsed(scene.record())
    for key in whole:
        less = copy.deepcopy(whole)
        del less[key]
        assert not VALIDATOR.is_valid(less), key
    assert not VALIDATOR.is_valid({**whole, "extra": 1})
    assert not VALIDATOR.is_valid({**whole, "decision": "passed"})


def test_every_figure_names_readings_gauge_formula_and_clause(scene: Scene) -> None:
    """Design of the project: every number can be traced to its reading, gauge, formula, clause."""
    record = scene.record()
    gauges = {item["name"] for item in record["gauges"]}
    keys = {item["key"] for item in record["gauges"]}
    assert len(record["figures"]) > 30
    for row in record["figures"]:
        assert row["gauge"] in gauges
        assert row["formula"]
        assert row["criterion"]["source"]
        assert row["judged"]["budget"]
        assert any(reading["values"] for reading in row["readings"])
        assert {reading["gauge"] for reading in row["readings"]} <= keys


def test_judged_value_follows_from_the_readings_by_the_printed_formula(scene: Scene) -> None:
    """The printed formulas, worked out here by hand from the single readings of the record."""
    done = 0
    for row in scene.record()["figures"]:
        values = [v for reading in row["readings"] for v in reading["values"]]
        x, new = sum(values) / len(values), row["as_new"]
        by_hand = {
            "x": x,
            "(x − x_new) / x_new": (x - new) / new if new else None,
            "(x_new − x) / x_new": (new - x) / new if new else None,
            "x − x_new": x - new if new is not None else None,
        }.get(row["formula"])
        if by_hand is not None and len(row["readings"]) == 1:
            assert row["judged"]["value"] == pytest.approx(by_hand, abs=1e-9), row["id"]
            done += 1
    assert done > 30


@pytest.mark.parametrize("lang", ["en", "fr"])
def test_same_record_same_bytes(scene: Scene, lang: Any) -> None:
    record = scene.record()
    again = json.loads(record_bytes(record))
    assert render(record, code="x", lang=lang) == render(again, code="x", lang=lang)


def test_record_is_written_in_one_way(scene: Scene) -> None:
    record = scene.record()
    backwards = dict(reversed(list(record.items())))
    assert record_bytes(record) == record_bytes(backwards)


def test_unknown_figures_are_null_never_nan(scene: Scene) -> None:
    """JSON (RFC 8259) knows neither infinity nor not-a-number."""
    record = scene.record()
    with pytest.raises(ValueError, match="JSON compliant"):
        record_bytes({**record, "rated_load": float("nan")})
    assert "NaN" not in record_bytes(record).decode()


def test_part_that_was_renewed_is_told_apart(scene: Scene) -> None:
    work = attrs.evolve(scene.certificate.work[0], part="load_chain", name="Load chain")
    rows = scene.record(work=(work,))["figures"]
    assert {r["state"] for r in rows if r["part"] == "load_chain"} == {"as found, since renewed"}
    assert {r["state"] for r in rows if r["part"] != "load_chain"} == {"as found and as left"}


def test_dates_are_those_of_the_job(scene: Scene) -> None:
    dates = scene.record()["dates"]
    assert dates["examined_on"] == scene.sheet.work.examined_on.isoformat()
    assert datetime.date.fromisoformat(dates["issued_on"]) == scene.day
