"""The large record that the benchmarks fill is one like any other."""

from __future__ import annotations

from pathlib import Path

from fill_store import fill

from hoistwright.store.sql_store import open_store


def test_a_filled_record_verifies_and_compares(tmp_path: Path) -> None:
    fill(tmp_path / "shop.db", 30, 6)
    store = open_store(tmp_path / "shop.db")
    assert store.head().number == 30 * 7
    assert store.verify() == ()
    assert store.compare() == ()
    assert [row.serial for row in store.search("000017")] == ["A-000017"]
    store.close()
