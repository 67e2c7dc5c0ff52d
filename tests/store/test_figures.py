"""Texts of figures: kept byte for byte, refused where they are none, missed where they are gone."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from record_helpers import NOON, draft
from sqlalchemy import delete

from hoistwright.job.events_prove import PullRecorded
from hoistwright.store import figures
from hoistwright.store.connect import writing
from hoistwright.store.errors import PictureError
from hoistwright.store.lines import export_lines, import_lines
from hoistwright.store.sql_store import SqlStore
from hoistwright.store.tables import attachments

CSV = b"time [s];pull [N]\r\n0,00;361,5\r\n0,04;364,0\r\n"


def pull(content: str) -> PullRecorded:
    return PullRecorded(step="full_lift", content=content, direction="raising", load=2250.0)


def test_every_byte_is_kept(store: SqlStore) -> None:
    kept = store.attach_figures(CSV)
    assert kept.content == hashlib.sha256(CSV).hexdigest()
    assert kept.media_type == "text/csv"
    found = store.attachment(kept.content)
    assert found == (kept, CSV)
    assert store.attach_figures(CSV) == kept, "one content, one row"


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xd8\xff\xe0 a photo", b"a\x00b", "é".encode("latin-1"), b"\x1b[2J"]
)
def test_what_is_no_text_is_refused(data: bytes) -> None:
    with pytest.raises(PictureError, match="Expected text"):
        figures.checked(data)


def test_a_file_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(figures, "MOST_BYTES", 10)
    with pytest.raises(PictureError, match="at most"):
        figures.checked(CSV)


def test_a_byte_order_mark_is_no_part_of_the_text() -> None:
    assert figures.text_of(b"\xef\xbb\xbf" + CSV) == CSV.decode()


def test_a_pull_whose_file_is_gone_is_found(store: SqlStore) -> None:
    kept = store.attach_figures(CSV)
    store.append("KQ-1", [draft(pull(kept.content))], now=NOON)
    assert store.verify() == ()
    with writing(store.engine) as connection:
        connection.execute(delete(attachments))
    (damage,) = store.verify()
    assert kept.content[:12] in damage.what
    assert (damage.job, damage.seq) == ("KQ-1", 1)


def test_it_goes_out_and_in(store: SqlStore, other: SqlStore, tmp_path: Path) -> None:
    kept = store.attach_figures(CSV)
    store.append("KQ-1", [draft(pull(kept.content))], now=NOON)
    export_lines(store, tmp_path / "record.jsonl")
    import_lines(other, tmp_path / "record.jsonl")
    assert other.attachment(kept.content) == (kept, CSV)
    assert other.verify() == ()
