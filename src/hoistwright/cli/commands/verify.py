"""`hoistwright verify`: can this certificate, or this code, be relied on? Offline."""

from __future__ import annotations

import argparse
import datetime
import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hoistwright.cli.exits import ALL_FIT, NOT_ALL_FIT
from hoistwright.cli.show import console, plain

if TYPE_CHECKING:
    from hoistwright.certificate.release.register import Register
    from hoistwright.certificate.release.verify import Verification
    from hoistwright.certificate.signing.trust import Trust


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="?", help="a signed certificate or withdrawal (PDF)")
    parser.add_argument(
        "--code", metavar="TEXT", help="a code instead: its text, or a picture of it (PNG, JPEG)"
    )
    parser.add_argument(
        "--trust", metavar="FILE", action="append", default=[],
        help="the shop's public certificate, got from the shop by another way",
    )  # fmt: skip
    parser.add_argument("--register", metavar="FILE", help="the shop's register, if at hand")
    parser.add_argument(
        "--also", metavar="FILE", action="append", default=[],
        help="another paper of the same shop: a later revision, a withdrawal",
    )  # fmt: skip
    parser.add_argument("--save-record", metavar="FILE", help="write the attached record there")
    parser.add_argument("--json", action="store_true", help="print JSON instead of sentences")


def run(args: argparse.Namespace) -> int:
    from hoistwright.certificate.signing.key_files import load_certificates
    from hoistwright.certificate.signing.trust import trust_of
    from hoistwright.faults import Fault, FaultsError, Place

    if bool(args.file) == bool(args.code):
        raise FaultsError([Fault(Place(key="file"), "both or neither", "a file, or --code")])
    trust = trust_of(c for name in args.trust for c in load_certificates(Path(name)))
    result = _result(args, trust, _register(args, trust))
    if args.save_record and result.record is not None:
        from hoistwright.certificate.release.record import record_bytes
        from hoistwright.certificate.write import write_whole

        write_whole(Path(args.save_record), record_bytes(result.record))
    if args.json:
        print(json.dumps(as_json(result), indent=1, ensure_ascii=False))
    else:
        _tell(result)
    return ALL_FIT if result.valid else NOT_ALL_FIT


def _result(args: argparse.Namespace, trust: Trust, register: Register | None) -> Verification:
    from hoistwright.certificate.release.verify import verify, verify_code

    today = datetime.date.today()
    if args.code:
        return verify_code(_code(args.code), trust, today, register=register)
    others = [Path(name).read_bytes() for name in args.also]
    return verify(Path(args.file).read_bytes(), trust, today, register=register, others=others)


def _register(args: argparse.Namespace, trust: Trust) -> Register | None:
    from hoistwright.certificate.release.register_file import load_register

    return load_register(Path(args.register), trust) if args.register else None


def _code(given: str) -> str:
    """The text itself, or what a picture of that name shows."""
    from hoistwright.certificate.signing.code_picture import read_picture

    path = Path(given)
    is_picture = len(given) < 200 and path.suffix.lower() in {".png", ".jpg", ".jpeg"}
    return read_picture(path.read_bytes(), given) if is_picture else given


def _tell(result: Verification) -> None:
    out = console()
    out.print(plain(_headline(result)))
    if result.record is not None and not result.valid:
        out.print(plain("  What the file says of itself, whatever its worth:"))
    for line in _facts(result):
        out.print(plain(f"  {line}"))
    for found in result.found:
        out.print(plain(f"- {found.sentence}"))
    if result.valid and result.record is not None:
        out.print(plain("Only the shop can say whether a newer revision or a withdrawal exists."))


def _headline(result: Verification) -> str:
    """A genuine withdrawal, or one of a condemned hoist, must not be taken for a release."""
    if result.valid and not result.releases:
        return "Signed and unchanged, but no release."
    return f"{result.outcome[:1].upper()}{result.outcome[1:]}."


def _facts(result: Verification) -> list[str]:
    lines = []
    if result.record is not None:
        record = result.record
        what = record["decision"] if record["kind"] == "certificate" else "withdrawal"
        lines.append(f"{record['number']}, revision {record['revision']}: {what}")
        serial = record["hoist"]["serial"] if record["kind"] == "certificate" else record["serial"]
        lines.append(f"Shop: {record['shop']['name']}; hoist: serial number {serial or '-'}")
        lines += _stated(record) if record["kind"] == "certificate" else []
    if result.essentials is not None:
        it = result.essentials
        lines.append(f"{it.number}, revision {it.revision}: {it.decision}")
        lines.append(f"Serial number {it.serial}, rated load {it.rated_load:g} kg")
        due = f", next thorough examination by {it.next_due}" if it.next_due else ""
        lines.append(f"Examined {it.examined_on}{due}")
    if result.signer:
        at = f", {result.signed_at:%Y-%m-%d %H:%M %Z}" if result.signed_at else ""
        lines.append(f"Signed by {result.signer}, {result.organisation}{at}")
    return lines


def _stated(record: Mapping[str, Any]) -> list[str]:
    """What the record says was allowed, measured, tested, and by whom."""
    dates, due, who = record["dates"], record["next_due"], record["examined_by"]
    load = f"rated load {record['rated_load']:g} kg" if record["rated_load"] else "it may not lift"
    until = f"; next thorough examination by {due['day']}" if due else ""
    tested = f", tested on {dates['tested_on']}" if dates["tested_on"] else ""
    counts = ((len(record["figures"]), "figures"), (len(record["looks"]), "looks"))
    found = ", ".join(f"{count} {word}" for count, word in counts)
    return [
        f"{load[:1].upper()}{load[1:]}{until}",
        f"Examined on {dates['examined_on']} by {who['name'] or who['key']}{tested}",
        f"The record in it holds {found} and {len(record['tests'])} tests; the pages show them",
    ]


def as_json(result: Verification) -> dict[str, Any]:
    """The verification for other programs."""
    record = result.record or {}
    return {
        "outcome": result.outcome,
        "valid": result.valid,
        "found": [{"code": item.code, "sentence": item.sentence} for item in result.found],
        "signer": result.signer,
        "organisation": result.organisation,
        "signed_at": result.signed_at.isoformat() if result.signed_at else None,
        "releases": result.releases,
        "number": record.get("number"),
        "revision": record.get("revision"),
        "file_sha256": result.file_sha256,
    }
