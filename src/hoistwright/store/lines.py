"""The whole record as JSON lines: exact, readable by anything, and good for a backup.

The first line says what the file is; then each entry with its hash and the chain over all,
each attachment, where each job stands, and last where the whole stands. Every line is canonical
JSON, so that a changed byte is found.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.codec import canonical
from hoistwright.job.entry import BEGINNING, Event, unseal
from hoistwright.store.attachments import keep
from hoistwright.store.model import Attachment, Progress
from hoistwright.store.pictures import Kept
from hoistwright.store.raw_lines import FIRST, entry_rows
from hoistwright.store.safe_file import written
from hoistwright.store.sql_store import SqlStore
from hoistwright.store.verify_lines import verify_lines


def export_lines(store: SqlStore, path: Path, *, progress: Progress | None = None) -> int:
    """Write the whole record to `path`, put in place once it is on disk; how many entries.

    Raises FaultsError where the file cannot be written, StoreError for a damaged record.
    """
    number, chain = 0, BEGINNING
    stands: dict[str, tuple[int, str]] = {}
    with written(path) as file:
        file.write(canonical(FIRST) + "\n")
        for row in entry_rows(store.engine):
            # the entry is canonical already: it goes over byte for byte
            file.write(f'{{"chain":"{row.chain}","entry":{row.entry},"hash":"{row.hash}"}}\n')
            number, chain = row.number, row.chain
            stands[row.job] = (row.seq, row.hash)
            if progress is not None and number % 1000 == 0:
                progress(number, 0)
        for about, data in store.attachments():
            file.write(_attachment_line(about, data))
        for job in sorted(stands):
            seq, hash_ = stands[job]
            file.write(canonical({"stands": job, "seq": seq, "hash": hash_}) + "\n")
        file.write(canonical({"head": number, "chain": chain}) + "\n")
    return number


def import_lines(store: SqlStore, path: Path, *, progress: Progress | None = None) -> int:
    """Enter the entries and attachments of an exported file; how many entries were new.

    The file is held against its hashes first: of a damaged one nothing is taken over.

    Errors:
        FaultsError: a file that cannot be read, or is damaged, with every damage.
        StoreError: entries that do not follow what the record already has.
    """
    damages = verify_lines(path)
    if damages:
        whole = "an export as it was written"
        raise FaultsError(
            Fault(Place(file=str(path), line=d.number or None), str(d), whole) for d in damages
        )
    for kept in _attachments(path):
        keep(store.engine, kept)
    return store.restore(_events(path), progress=progress)


def _attachment_line(about: Attachment, data: bytes) -> str:
    line = {
        "attachment": about.content,
        "media_type": about.media_type,
        "size": about.size,
        "width": about.width,
        "height": about.height,
        "data": base64.b64encode(data).decode("ascii"),
    }
    # one long text: canonical() would refuse its length
    return json.dumps(line, sort_keys=True, ensure_ascii=False, separators=(",", ":")) + "\n"


def _events(path: Path) -> Iterator[Event]:
    for line in tables(path):
        if "entry" in line:
            yield unseal(canonical(line["entry"]), line["hash"])


def _attachments(path: Path) -> Iterator[Kept]:
    for line in tables(path):
        if "attachment" in line:
            data = base64.b64decode(line["data"], validate=True)
            about = Attachment(
                content=line["attachment"],
                media_type=line["media_type"],
                size=line["size"],
                width=line["width"],
                height=line["height"],
            )
            yield Kept(about, data)


def tables(path: Path) -> Iterable[dict[str, Any]]:
    """The lines of a file that was verified."""
    with path.open(encoding="utf-8") as file:
        for line in file:
            yield json.loads(line)
