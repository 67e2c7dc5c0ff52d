"""From a TOML file to a checked value, or to the list of everything wrong with it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from hoistwright.faults import Fault, FaultsError, Place

T = TypeVar("T")

MAX_BYTES = 5_000_000  # far above any honest file; keeps a hostile one from filling memory

_AT_LINE = re.compile(r"\(at line (\d+), column (\d+)\)")


def load_file(path: Path, cls: type[T]) -> T:
    """Read the TOML file at `path` as a `cls`. Raises FaultsError with every fault found."""
    return load_text(read_text(path), cls, file=str(path))


def load_text(text: str, cls: type[T], *, file: str = "") -> T:
    """Read TOML `text` as a `cls`; `file` is named in the faults."""
    return structure_table(read_table(text, file=file), cls, file=file, text=text)


def read_text(path: Path) -> str:
    """The text of a UTF-8 file of sensible size; otherwise a FaultsError."""
    try:
        data = path.read_bytes() if path.stat().st_size <= MAX_BYTES else None
    except OSError as error:
        raise _fault(str(path), error.strerror or str(error), "a file that can be read") from None
    except ValueError:  # a path with a NUL in it
        raise _fault(repr(str(path)), "a name no file can have", "the path of a file") from None
    if data is None:
        raise _fault(str(path), f"more than {MAX_BYTES:,} bytes", "a text file of ordinary size")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise FaultsError(
            [
                Fault(
                    Place(file=str(path), line=line),
                    f"byte 0x{data[error.start]:02X}, which is not UTF-8",
                    "a text file in UTF-8",
                    "Save the file again with the encoding UTF-8.",
                )
            ]
        ) from None


def read_table(text: str, *, file: str = "") -> dict[str, Any]:
    """Parse TOML `text`; a syntax error becomes a fault that names the line."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = _AT_LINE.search(str(error))
        line = int(found[1]) if found else text.count("\n") + 1
        what = _AT_LINE.sub("", str(error)).strip()
        raise FaultsError(
            [Fault(Place(file=file, line=line), f"text that is not TOML ({what})", "valid TOML")]
        ) from None
    except (RecursionError, ValueError) as error:
        raise _fault(file, f"text that is not TOML ({error})", "valid TOML") from None


def structure_table(table: Mapping[str, Any], cls: type[T], *, file: str = "", text: str = "") -> T:
    """Turn a parsed table into a `cls`. `text` (if given) is searched for line numbers."""
    from hoistwright.datafile.explain import faults_of
    from hoistwright.datafile.structure import converter

    try:
        return converter().structure(table, cls)
    except RecursionError:
        raise _fault(file, "tables nested too deep", "a flat file") from None
    except Exception as error:  # cattrs raises groups of many kinds; each is explained
        raise FaultsError(faults_of(error, cls, file=file, text=text)) from None


def _fault(file: str, read: str, expected: str) -> FaultsError:
    return FaultsError([Fault(Place(file=file), read, expected)])
