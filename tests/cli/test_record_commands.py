"""The record at the command line: out, in again, copied, checked; what is wrong with it is said."""

from __future__ import annotations

import csv
import json
import re
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from record_helpers import draft, fill, look, reading

from hoistwright.store.sql_store import open_store


def hoistwright(*words: str | Path) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "hoistwright", *map(str, words)],
        check=False,
        capture_output=True,
        text=True,
    )
    assert "Traceback" not in done.stdout + done.stderr
    return done


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.db"
    store = fill(open_store(path))
    store.append("KQ-1", [draft(reading("section 77")), draft(look("defect"))])
    store.close()
    return path


def test_out_and_in_again_gives_the_same_hashes(shop: Path, tmp_path: Path) -> None:
    lines, other = tmp_path / "shop.jsonl", tmp_path / "other.db"
    assert hoistwright("export", "--db", shop, "--to", lines).returncode == 0
    first = hoistwright("import", lines, "--db", other)
    again = hoistwright("import", lines, "--db", other)
    assert first.returncode == again.returncode == 0
    assert again.stdout.startswith("0 entries were new")
    heads = [open_store(path).head() for path in (shop, other)]
    assert heads[0] == heads[1]


def test_tables_as_csv_and_as_a_workbook(shop: Path, tmp_path: Path) -> None:
    from python_calamine import CalamineWorkbook

    assert hoistwright("export", "--db", shop, "--to", tmp_path / "tables").returncode == 0
    assert hoistwright("export", "--db", shop, "--to", tmp_path / "shop.xlsx").returncode == 0
    with (tmp_path / "tables" / "readings.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert "section 77" in {row["place"] for row in rows}
    book = CalamineWorkbook.from_path(str(tmp_path / "shop.xlsx"))
    assert len(book.get_sheet_by_name("readings").to_python()) == 1 + len(rows)


def test_a_copy_is_whole_and_its_label_proves_it(shop: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.db"
    done = hoistwright("backup", "--db", shop, "--to", copy)
    assert done.returncode == 0
    label = re.search(r"\d+:[0-9a-f]{64}", done.stdout)
    assert label is not None
    assert hoistwright("record", "check", "--db", copy, "--noted", label[0]).returncode == 0
    short = open_store(tmp_path / "short.db")
    short.append("KQ-1", [draft(reading())])
    short.close()
    other = hoistwright("record", "check", "--db", tmp_path / "short.db", "--noted", label[0])
    assert other.returncode == 1
    assert "it ends before that" in other.stdout


def test_a_changed_entry_is_named_by_job_and_number(shop: Path) -> None:
    raw = sqlite3.connect(shop)
    raw.execute("DROP TRIGGER journal_keeps")
    raw.execute(
        "UPDATE journal SET entry = replace(entry, 'section 77', 'section 78') "
        "WHERE entry LIKE '%section 77%'"
    )
    raw.commit()
    seq = raw.execute("SELECT seq FROM journal WHERE entry LIKE '%section 78%'").fetchone()[0]
    raw.close()
    done = hoistwright("record", "check", "--db", shop)
    assert done.returncode == 1
    assert f"job KQ-1, entry {seq}" in done.stdout


def test_tables_that_were_harmed_are_made_again(shop: Path) -> None:
    raw = sqlite3.connect(shop)
    raw.execute("UPDATE readings SET mean = 9.0 WHERE place = 'section 77'")
    raw.commit()
    raw.close()
    done = hoistwright("record", "check", "--db", shop)
    assert done.returncode == 1
    assert "record tables" in done.stdout
    assert hoistwright("record", "tables", "--db", shop).returncode == 0
    assert hoistwright("record", "check", "--db", shop).returncode == 0


def test_what_is_not_there_or_not_ours_is_refused_in_words(shop: Path, tmp_path: Path) -> None:
    strange = tmp_path / "strange.jsonl"
    strange.write_text(json.dumps({"hello": 1}) + "\n", encoding="utf-8")
    text = tmp_path / "text.db"
    text.write_text("not a database at all, " * 100, encoding="utf-8")
    for words in (
        ("backup", "--db", tmp_path / "none.db", "--to", tmp_path / "x.db"),
        ("export", "--db", shop, "--to", tmp_path / "x.pdf"),
        ("import", strange, "--db", tmp_path / "new.db"),
        ("record", "check", "--db", text),
        ("record", "check", "--db", "mysql://somewhere/x"),
        ("record", "check", "--db", shop, "--noted", "12"),
    ):
        done = hoistwright(*words)
        assert done.returncode == 2, (words, done.stdout, done.stderr)
        assert "nothing was done" in done.stderr
    assert not (tmp_path / "none.db").exists()
