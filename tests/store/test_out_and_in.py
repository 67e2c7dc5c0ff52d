"""Export, import, backup: nothing changes on the way, and a damaged file is not taken."""

from __future__ import annotations

import csv
from pathlib import Path

import openpyxl
import pytest
from record_helpers import NOON, booking, draft, look, reading

from hoistwright.basis.loading import shipped_basis
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.job.events import PhotoAttached
from hoistwright.job.shop_file import shop_from_text
from hoistwright.job.to_entries import examine_job, job_sheet_of
from hoistwright.sheet import read_sheet
from hoistwright.sheet.examine_sheet import examine_sheet
from hoistwright.store.backup import backup
from hoistwright.store.errors import ClashError, StoreError
from hoistwright.store.import_sheet import import_sheet
from hoistwright.store.lines import export_lines, import_lines
from hoistwright.store.sql_store import SqlStore, open_store
from hoistwright.store.tables_out import export_csv, export_xlsx

DEMO = Path(__file__).parents[2] / "src" / "hoistwright" / "demo" / "data"


def test_a_record_exported_and_imported_has_the_same_hashes(
    filled: SqlStore, other: SqlStore, tmp_path: Path, photo: bytes
) -> None:
    kept = filled.attach(photo)
    body = PhotoAttached(content=kept.content, media_type=kept.media_type, caption="Ære, 8 µm ½")
    filled.append("KQ-2", [draft(body)])
    path, again = tmp_path / "shop.jsonl", tmp_path / "again.jsonl"
    count = export_lines(filled, path)
    assert import_lines(other, path) == count == filled.head().number
    assert other.head() == filled.head()
    assert other.since(limit=9999) == filled.since(limit=9999)
    assert other.attachment(kept.content) == filled.attachment(kept.content)
    assert other.compare() == ()
    assert other.verify() == ()
    export_lines(other, again)
    assert again.read_bytes() == path.read_bytes()


def test_an_import_may_be_repeated_and_goes_on(
    filled: SqlStore, other: SqlStore, tmp_path: Path
) -> None:
    path = tmp_path / "shop.jsonl"
    count = export_lines(filled, path)
    assert import_lines(other, path) == count
    assert import_lines(other, path) == 0
    filled.append("KQ-2", [draft(look())])
    export_lines(filled, path)
    assert import_lines(other, path) == 1
    assert other.state("KQ-2") == filled.state("KQ-2")


def test_records_that_parted_ways_do_not_mix(
    filled: SqlStore, other: SqlStore, tmp_path: Path
) -> None:
    path = tmp_path / "shop.jsonl"
    other.append("KQ-1", [draft(booking(serial="Z-1"))])
    export_lines(filled, path)
    with pytest.raises(StoreError, match=r"Job KQ-1, entry 1: .* parted ways"):
        import_lines(other, path)
    assert other.head().number == 1


def test_the_same_id_with_other_content_is_not_imported(
    filled: SqlStore, other: SqlStore, tmp_path: Path
) -> None:
    path = tmp_path / "shop.jsonl"
    first = filled.events("KQ-1")[0]
    other.append("KQ-7", [draft(reading(), id_=first.id)])
    export_lines(filled, path)
    with pytest.raises(ClashError, match="another entry with the id"):
        import_lines(other, path)


def test_of_a_damaged_export_nothing_is_taken(
    filled: SqlStore, other: SqlStore, tmp_path: Path
) -> None:
    path = tmp_path / "shop.jsonl"
    export_lines(filled, path)
    path.write_text(path.read_text().replace("tomasz", "thomas", 1))
    with pytest.raises(FaultsError, match=r"job KQ-1, entry 2 .* it was altered"):
        import_lines(other, path)
    assert other.head().number == 0


def test_the_tables_as_csv_and_workbook(filled: SqlStore, tmp_path: Path) -> None:
    filled.append("KQ-4", [draft(booking(serial="=1+1", customer="@Quarry"))])
    paths = export_csv(filled, tmp_path / "csv")
    assert [path.name for path in paths] == ["jobs.csv", "hoists.csv", "readings.csv", "looks.csv"]
    rows = {p.stem: list(csv.DictReader(p.read_text().splitlines())) for p in paths}
    assert len(rows["readings"]) == 12
    assert float(rows["readings"][0]["mean"]) == filled.earlier_readings("ardle/a2041")[0].mean
    assert rows["jobs"][3]["serial"] == "'=1+1"  # no spreadsheet takes it for a formula
    book = openpyxl.load_workbook(export_xlsx(filled, tmp_path / "shop.xlsx"))
    assert book.sheetnames == ["jobs", "hoists", "readings", "looks"]
    assert book["readings"].max_row == 13
    serial = [cell.value for cell in book["jobs"][1]].index("serial") + 1
    assert book["jobs"].cell(5, serial).value == "=1+1"
    assert book["jobs"].cell(5, serial).data_type == "s"


def test_a_backup_is_the_record_at_that_moment(
    filled: SqlStore, other: SqlStore, tmp_path: Path, photo: bytes
) -> None:
    kept = filled.attach(photo)
    path = tmp_path / "shop.backup"
    noted = backup(filled, path)
    assert noted == filled.head()
    filled.append("KQ-1", [draft(look())])
    copy = other
    if filled.engine.dialect.name == "sqlite":
        copy = open_store(path)
    else:
        import_lines(copy, path)
    assert copy.head() == noted
    assert copy.verify(noted=noted) == ()
    assert copy.compare() == ()
    assert copy.attachment(kept.content) is not None
    copy.close()
    assert not list(tmp_path.glob("*.part*"))


@pytest.mark.parametrize(
    "name", ["01-sound.toml", "02-worn-chain.csv", "03-overstrained-chain.xlsx"]
)
def test_a_whole_sheet_enters_and_examines_as_the_sheet_does(store: SqlStore, name: str) -> None:
    shop = shop_from_text((DEMO / "shop.toml").read_text())
    sheet = read_sheet(DEMO / "sheets" / name, shop=shop)
    done = import_sheet(store, sheet)
    assert import_sheet(store, sheet).fresh == frozenset()
    state = store.state(sheet.job)
    bases = [shipped_basis(key) for key in sheet.work.bases]
    job = examine_job(state, shipped(sheet.design), bases, shop)
    direct = examine_sheet(sheet, shop)
    assert [(v.part, v.feature, v.place, v.outcome) for v in job.verdicts] == [
        (v.part, v.feature, v.place, v.outcome) for v in direct.verdicts
    ]
    again = job_sheet_of(state)
    assert (again.hoist, again.customer, again.design) == (
        sheet.hoist,
        sheet.customer,
        sheet.design,
    )
    assert len(again.readings) == len([r for r in sheet.readings if r.values])
    assert len(done.fresh) == state.seq
    assert store.compare() == ()


def test_a_sheet_on_a_job_already_begun_only_adds(store: SqlStore) -> None:
    shop = shop_from_text((DEMO / "shop.toml").read_text())
    sheet = read_sheet(DEMO / "sheets" / "01-sound.toml", shop=shop)
    store.append(sheet.job, [draft(reading("section 9"))], now=NOON)
    import_sheet(store, sheet)
    assert ("load_chain", "load_chain.link_pitch", "section 9") in store.state(sheet.job).readings
