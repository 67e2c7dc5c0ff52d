"""`hoistwright returns` and `hoistwright recall` as typed in a shop."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Iterator
from pathlib import Path

import icalendar
import pytest
from bench_live import made_bench
from fleet_scene import Visit, enter, made_fleet

from hoistwright.cli.main import main

TODAY = datetime.datetime.now().date()


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("record")
    bench = made_bench(folder, people=False, jobs=False)
    for visit in made_fleet(12, TODAY):
        enter(bench.store, visit)
    day = TODAY - datetime.timedelta(days=10)
    enter(bench.store, Visit(job="G-1", serial="G", day=day, chain=0.8))
    enter(bench.store, Visit(job="T-1", serial="T", day=day, chain=0.99, new_chain=True,
                             trace="heat 26-777"))  # fmt: skip
    bench.store.close()
    yield str(folder / "bench.db")


def test_returns_as_table_csv_and_calendar(
    record: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table, days = tmp_path / "due.csv", tmp_path / "due.ics"
    words = ["returns", "--db", record, "--weeks", "0", "--csv", str(table), "--ics", str(days)]
    assert main(words) == 0
    said = capsys.readouterr().out
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    assert len(rows) == 14
    events = icalendar.Calendar.from_ical(days.read_text(encoding="utf-8")).walk("VEVENT")
    assert len(events) == 14
    assert all(row["serial"] in said for row in rows)


def test_a_batch_is_recalled(record: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recall", "--db", record, "--trace", "26-777"]) == 0
    said = capsys.readouterr().out
    assert "T-1" in said
    assert "G-1" not in said


def test_a_gauge_is_recalled(
    record: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    since = (TODAY - datetime.timedelta(days=30)).isoformat()
    out = tmp_path / "gauge.csv"
    words = ["recall", "--db", record, "--gauge", "long-1", "--since", since, "--error", "-2 mm"]
    assert main([*words, "--csv", str(out)]) == 1  # a verdict became worse
    rows = list(csv.DictReader(out.read_text(encoding="utf-8-sig").splitlines()))
    assert {row["would be"] for row in rows if row["job"] == "G-1"} == {"renew"}
    assert main([*words[:-1], "0 mm"]) == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--trace", "a", "--gauge", "long-1"], "one of the two"),
        ([], "one of the two"),
        (["--gauge", "nothing", "--since", "2026-01-01"], "a gauge of the shop"),
        (["--gauge", "long-1"], "last good check"),
        (["--gauge", "long-1", "--since", "2026-01-01", "--error", "2 kg"], "2 kg"),
    ],
)
def test_what_cannot_be_asked_is_said(
    record: str, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["recall", "--db", record, *words]) == 2
    assert told in capsys.readouterr().err


def test_a_record_that_is_not_there_is_not_made(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = tmp_path / "none.db"
    assert main(["returns", "--db", str(missing)]) == 2
    assert "the record of a shop" in capsys.readouterr().err
    assert not missing.exists()
