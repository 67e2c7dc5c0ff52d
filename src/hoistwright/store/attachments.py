"""Photos and papers in the database, by the hash of their content: one content, one row."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Engine, insert, select

from hoistwright.store.connect import reading, writing
from hoistwright.store.errors import JournalError
from hoistwright.store.figures import checked
from hoistwright.store.model import Attachment
from hoistwright.store.pictures import Kept, cleaned
from hoistwright.store.tables import attachments

_ABOUT = ("content", "media_type", "size", "width", "height")


def attach(engine: Engine, data: bytes) -> Attachment:
    """Keep a file as `pictures.cleaned` leaves it; on disk when this returns."""
    return keep(engine, cleaned(data))


def attach_figures(engine: Engine, data: bytes) -> Attachment:
    """Keep a text of figures (CSV) as it came; on disk when this returns."""
    return keep(engine, checked(data))


def keep(engine: Engine, kept: Kept) -> Attachment:
    """Keep bytes as they are, as from a backup."""
    with writing(engine) as connection:
        if _row(connection, kept.about.content) is None:
            about = {name: getattr(kept.about, name) for name in _ABOUT}
            connection.execute(insert(attachments), [{**about, "data": kept.data}])
    return kept.about


def attachment(engine: Engine, content: str) -> tuple[Attachment, bytes] | None:
    """A kept file by its content hash, held against it."""
    with reading(engine) as connection:
        row = _row(connection, content)
    if row is None:
        return None
    about, data = _split(row)
    if hashlib.sha256(data).hexdigest() != content:
        raise JournalError(
            f"The stored file {content[:12]} is not what was stored: it was altered. Verify the "
            "record, and restore the last backup beside it."
        )
    return about, data


def every(engine: Engine) -> Iterator[tuple[Attachment, bytes]]:
    """All kept files, one at a time; not held against their hashes."""
    with reading(engine) as connection:
        found = list(connection.execute(select(attachments.c.content)).scalars())
    for content in sorted(found):
        with reading(engine) as connection:
            row = _row(connection, content)
        if row is not None:
            yield _split(row)


def _row(connection: Connection, content: str) -> Any:
    asked = select(attachments).where(attachments.c.content == content)
    return connection.execute(asked).mappings().one_or_none()


def _split(row: Any) -> tuple[Attachment, bytes]:
    return Attachment(**{name: row[name] for name in _ABOUT}), bytes(row["data"])
