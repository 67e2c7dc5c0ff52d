"""Look through the XML inside an XLSX file before a reader takes its word for anything.

A reader sets memory aside by the counts that a part states and may fall over a false one, which
no `except` catches. An honest part is UTF-8, has no document type, and its counts are small.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from xml.parsers import expat

MOST_COUNTED = 1_000_000

_XML = (".xml", ".rels")
_COUNTS = ("count", "uniqueCount")
_COUNT = re.compile(r"[0-9]{1,9}")


class XmlError(ValueError):
    """XML that must not be read; says why."""


def guarded(entries: Mapping[str, bytes]) -> dict[str, bytes]:
    """The XML entries of an archive, each looked through. Pictures and the like are left out.

    Raises XmlError for one that no spreadsheet program writes.
    """
    found = {name: data for name, data in entries.items() if name.lower().endswith(_XML)}
    for name, data in found.items():
        _look_through(name, data)
    return found


def _look_through(name: str, data: bytes) -> None:
    parser = expat.ParserCreate()
    parser.StartElementHandler = _element
    parser.StartDoctypeDeclHandler = _doctype
    parser.XmlDeclHandler = _declaration
    try:
        data.decode("utf-8")
        parser.Parse(data, True)
    except XmlError:
        raise
    except (expat.ExpatError, LookupError, ValueError):
        raise XmlError(f"an archive whose {name} is broken") from None


def _element(tag: str, attributes: Mapping[str, str]) -> None:
    for key in _COUNTS:
        stated = attributes.get(key)
        if stated is None:
            continue
        if not _COUNT.fullmatch(stated) or int(stated) > MOST_COUNTED:
            raise XmlError(f"an archive whose {tag} states a count of {stated[:20]}")


def _doctype(*_: object) -> None:
    raise XmlError("an archive with a document type in its XML")


def _declaration(_version: str, encoding: str | None, _standalone: int) -> None:
    if encoding is not None and encoding.casefold() not in ("utf-8", "us-ascii"):
        raise XmlError(f"an archive whose XML is in {encoding[:20]}")
