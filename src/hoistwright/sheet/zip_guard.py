"""Unpack an XLSX file safely: its table of contents is looked at before anything is unpacked."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Mapping, Sequence

from hoistwright.faults import Fault, FaultsError, Place

MOST_ENTRIES = 200
MOST_UNPACKED = 20_000_000
MOST_RATIO = 200
"""Unpacked to packed; the XML of an honest sheet shrinks to a tenth, not to a thousandth."""

_OLD = b"\xd0\xcf\x11\xe0"
_BROKEN = (
    zipfile.BadZipFile, zlib.error, ValueError, NotImplementedError, OSError, EOFError,
    RuntimeError, KeyError,
)  # fmt: skip


def unpacked(data: bytes, *, file: str) -> dict[str, bytes]:
    """The entries of the XLSX archive in `data` by name.

    Errors:
        FaultsError: no XLSX file, one with a password, or one that unpacks without end.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            _refuse_dishonest(entries, file)
            # zipfile gives no more of an entry than the table of contents states, and checks it
            found = {entry.filename: archive.read(entry) for entry in entries}
    except _BROKEN:
        raise _fault(file, *_no_archive(data)) from None
    if "xl/workbook.xml" not in found:
        raise _fault(file, "a zip archive without a workbook in it", "an XLSX file")
    return found


def repacked(entries: Mapping[str, bytes]) -> io.BytesIO:
    """The same entries as a plain archive in which every size is true."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for name, content in entries.items():
            archive.writestr(zipfile.ZipInfo(name), content)
    out.seek(0)
    return out


def _refuse_dishonest(entries: Sequence[zipfile.ZipInfo], file: str) -> None:
    read = _dishonest(entries)
    if read:
        expected = f"a job sheet, unpacked at most {MOST_UNPACKED:,} bytes"
        raise _fault(file, read, expected, "Nothing of it was unpacked.")
    if any(entry.flag_bits & 0x1 for entry in entries):
        raise _fault(file, "an archive with a password", "an XLSX file without a password")


def _no_archive(data: bytes) -> tuple[str, str, str]:
    if data.startswith(_OLD):
        mend = "Save it as XLSX, without a password."
        return "an old .xls file, or an XLSX file with a password", "a plain XLSX file", mend
    if data.startswith(b"PK"):
        return "a broken XLSX file", "a whole XLSX file", "Save or send it again."
    mend = "If it is text, give it the ending .csv or .toml."
    return "a file that is no XLSX file, whatever its name", "an XLSX file", mend


def _dishonest(entries: Sequence[zipfile.ZipInfo]) -> str:
    unpacked_size = sum(entry.file_size for entry in entries)
    packed = max(sum(entry.compress_size for entry in entries), 1)
    if len(entries) > MOST_ENTRIES:
        return f"an archive of {len(entries):,} files"
    if unpacked_size > MOST_UNPACKED:
        return f"an archive that unpacks to {unpacked_size:,} bytes"
    if unpacked_size > 1_000_000 and unpacked_size > MOST_RATIO * packed:
        return f"an archive that unpacks to {unpacked_size // packed:,} times its size"
    return ""


def _fault(file: str, read: str, expected: str, mend: str = "") -> FaultsError:
    return FaultsError([Fault(Place(file=file), read, expected, mend)])
