"""Everything of a job in one folder or archive, for an auditor, with the hash of each file."""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import attrs

from hoistwright.certificate.release.record import sha256
from hoistwright.certificate.write import write_whole
from hoistwright.faults import Fault, FaultsError, Place

INDEX = "index.txt"
INDEX_JSON = "index.json"


@attrs.frozen(kw_only=True, eq=False)
class Packet:
    """What goes into the folder, as bytes. What is empty is left out, and the index says so."""

    job: str
    shop: str
    report: bytes = attrs.field(default=b"", repr=False)
    certificates: Mapping[str, bytes] = attrs.field(factory=dict, repr=False)
    """File name: PDF, every revision and withdrawal."""
    record: bytes = attrs.field(default=b"", repr=False)
    journal: bytes = attrs.field(default=b"", repr=False)
    register: bytes = attrs.field(default=b"", repr=False)
    shop_certificate: bytes = attrs.field(default=b"", repr=False)
    photos: Mapping[str, bytes] = attrs.field(factory=dict, repr=False)
    sheets: Mapping[str, bytes] = attrs.field(factory=dict, repr=False)
    """Work sheets, the job sheet as it stands, pulls over time."""


def write_packet(folder: Path, packet: Packet, made_on: datetime.date) -> Path:
    """Write the packet into a new folder below `folder`; the path of its index.

    Raises FaultsError where that folder is there already, two files share a name, or nothing
    can be written.
    """
    target = folder / _safe(packet.job)
    if target.exists() and any(target.iterdir()):
        raise FaultsError(
            [Fault(Place(file=str(target)), "a folder with files in it", "a new or empty folder")]
        )
    for name, data in packet_files(packet, made_on).items():
        write_whole(target / name, data)
    return target / INDEX


def packet_files(packet: Packet, made_on: datetime.date) -> dict[str, bytes]:
    """Every file by its name in the folder, the index last. FaultsError: two share a name."""
    files = list(_files(packet))
    names = [name for name, _, _ in files]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise FaultsError(
            [Fault(Place(file=name), "two files of this name", "one") for name in twice]
        )
    found = {name: data for name, _, data in files}
    found[INDEX_JSON] = _index_json(packet, files, made_on)
    found[INDEX] = _index(packet, files, made_on).encode()
    return found


def _files(packet: Packet) -> Iterator[tuple[str, str, bytes]]:
    """Name in the folder, what it is, bytes."""
    if packet.report:
        yield "report-of-examination.pdf", "report of examination", packet.report
    for name, data in packet.certificates.items():
        yield _safe(name), "signed certificate or withdrawal", data
    single = (
        ("certificate-record.json", "record of the certificate", packet.record),
        ("journal.jsonl", "journal of the job: every event, in order", packet.journal),
        ("register.json", "register of certificates, signed", packet.register),
        (
            "shop-certificate.pem",
            "public certificate of the shop; compare with one got from the shop itself",
            packet.shop_certificate,
        ),
    )
    for name, what, data in single:
        if data:
            yield name, what, data
    for name, data in packet.sheets.items():
        yield f"sheets/{_safe(name)}", "sheet", data
    for name, data in packet.photos.items():
        yield f"photos/{_safe(name)}", "photo", data


_WANTED = {
    "report-of-examination.pdf": "report of examination",
    "certificate-record.json": "record of the certificate",
    "journal.jsonl": "journal of the job",
    "register.json": "register of certificates",
    "shop-certificate.pem": "public certificate of the shop",
}


def _index(packet: Packet, files: list[tuple[str, str, bytes]], made_on: datetime.date) -> str:
    names = {name for name, _, _ in files}
    lacking = [what for name, what in _WANTED.items() if name not in names]
    lacking += [] if packet.certificates else ["signed certificate"]
    lacking += [] if packet.photos else ["photos"]
    rows = [f"{sha256(data)}  {len(data):>10}  {name}\n    {what}" for name, what, data in files]
    parts = [
        f"Job {packet.job}, {packet.shop}",
        f"Put together on {made_on}.",
        "",
        "SHA-256, bytes, name, and what it is:",
        *rows,
        "",
        f"Not in this folder: {', '.join(lacking)}." if lacking else "Nothing is missing.",
        "Check a certificate: hoistwright verify FILE --trust shop-certificate.pem "
        "--register register.json",
    ]
    return "\n".join(parts) + "\n"


def _index_json(
    packet: Packet, files: list[tuple[str, str, bytes]], made_on: datetime.date
) -> bytes:
    index = {
        "job": packet.job,
        "shop": packet.shop,
        "made_on": made_on.isoformat(),
        "files": [
            {"name": name, "what": what, "bytes": len(data), "sha256": sha256(data)}
            for name, what, data in files
        ],
    }
    return (json.dumps(index, ensure_ascii=False, indent=1) + "\n").encode()


def _safe(name: str) -> str:
    """A name that stays inside its folder, on any file system."""
    return re.sub(r"[^\w.-]+", "_", name).strip("._")[:120] or "unnamed"
