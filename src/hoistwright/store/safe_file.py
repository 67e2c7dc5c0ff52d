"""A file that is there whole or not at all, whatever happens while it is written."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from hoistwright.faults import Fault, FaultsError, Place


@contextmanager
def written(path: Path, *, newline: str = "\n") -> Iterator[TextIO]:
    """A text file to write; put in place, on disk, when the block ends well.

    Raises FaultsError where it cannot be written; what stood there before still stands.
    """
    beside = path.with_name(path.name + ".part")
    try:
        with beside.open("w", encoding="utf-8", newline=newline) as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
        on_disk(path.parent)
    except OSError as error:
        beside.unlink(missing_ok=True)
        said = error.strerror or str(error)
        place = Place(file=str(path))
        raise FaultsError([Fault(place, said, "a place with room that can be written")]) from None
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def on_disk(folder: Path) -> None:
    """Make the names in a folder survive a power cut."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
