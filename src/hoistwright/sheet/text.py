"""The text of a sheet from its bytes: UTF-8, or UTF-16 where a byte order mark says so."""

from __future__ import annotations

import codecs

from hoistwright.faults import Fault, FaultsError, Place

_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_SAVE = "Save it again with the encoding UTF-8; spreadsheets call it 'CSV UTF-8'."
_SPREADSHEETS = {
    b"PK\x03\x04": "an XLSX file (a zip archive)",
    b"\xd0\xcf\x11\xe0": "an old .xls file, or one with a password",
    b"%PDF": "a PDF file",
}


def decoded(data: bytes, *, file: str) -> str:
    """The text in `data`. Raises FaultsError where it is none, or in another encoding.

    A code page such as Windows-1252 is not guessed: it would turn a name into another name
    without a word. The error says how to save the file again.
    """
    for start, what in _SPREADSHEETS.items():
        if data.startswith(start):
            mend = "Give the file the ending of what it is, .xlsx, or save it as text."
            raise FaultsError(
                [Fault(Place(file=file), what, "a text file, as its name says", mend)]
            )
    if b"\0" in data[:2000] and not data.startswith(_MARKS):
        read = "bytes that are no text, or UTF-16 without its byte order mark"
        raise FaultsError([Fault(Place(file=file), read, "a text file in UTF-8", _SAVE)])
    utf16 = data.startswith(_MARKS)
    try:
        return data.decode("utf-16" if utf16 else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise FaultsError([_wrong_byte(data, error, file, utf16=utf16)]) from None


def _wrong_byte(data: bytes, error: UnicodeDecodeError, file: str, *, utf16: bool) -> Fault:
    line = data[: error.start].count(b"\n") + 1
    if utf16:
        return Fault(Place(file=file, line=line), "a broken UTF-16 text", "a text in UTF-8")
    around = data[max(0, error.start - 12) : error.start + 8].split(b"\n")
    likely = around[0 if len(around) == 1 else -1].decode("cp1252", errors="replace").strip()
    return Fault(
        Place(file=file, line=line),
        f"byte 0x{data[error.start]:02X}, which is not UTF-8 (in Windows-1252: '{likely}')",
        "a text file in UTF-8",
        _SAVE,
    )
