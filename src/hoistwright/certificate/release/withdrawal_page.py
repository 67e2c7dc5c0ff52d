"""What the paper of a withdrawal prints."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hoistwright.certificate.release.page import common_page
from hoistwright.certificate.release.page_cells import Writer, grouped, lines, section, text
from hoistwright.certificate.release.record import record_bytes, sha256
from hoistwright.language import language


def withdrawal_page(
    record: Mapping[str, Any], code: str = "", lang: str = "en", digest: str = ""
) -> dict[str, Any]:
    """What a withdrawal prints, as plain JSON values. `code` is not used: it carries none."""
    w = Writer(language(lang), "mm")
    digest = digest or sha256(record_bytes(record))
    name = f"{record['number']}, {w.say('revision')} {record['revision']}"
    who = record["authenticated_by"]
    return {
        **common_page(record, w, name, digest),
        "job_word": w.say("Certificate"),
        "job": record["number"],
        "running": record["serial"],
        "title": w.say("Withdrawal of a certificate"),
        "subtitle": "",
        "band": {
            "sign": "renew",
            "word": w.say("Withdrawn"),
            "big": "",
            "sentence": w.say(
                "The certificate named here no longer stands. Do not use the hoist on the "
                "strength of it."
            ),
            "due": "",
        },
        "code": "",
        "code_alt": "",
        "draft": "",
        "groups": [],
        "sections": [
            section(
                w.say("What is withdrawn"),
                lines(
                    (w.say("Certificate"), name),
                    (w.say("Serial number"), w.stated(record["serial"])),
                    (w.say("Date of the certificate"), w.day(record["issued_on"])),
                    (w.say("SHA-256 of its file"), grouped(record["file_sha256"])),
                    (w.say("Withdrawn on"), w.day(record["withdrawn_on"])),
                    (w.say("Reason"), record["reason"]),
                ),
            ),
            section(
                w.say("People"),
                lines(
                    (w.say("Signed by"), who["name"]),
                    (w.say("Address"), who["address"]),
                    (w.say("Qualification"), who["qualification"]),
                    (w.say("Employed by"), who["employer"]),
                ),
            ),
            section(
                w.say("How to check this paper"),
                text(
                    w.say("It is signed like the certificate itself; the same command checks it.")
                ),
                lines(
                    (
                        w.say("Fingerprint of the record (SHA-256)"),
                        grouped(digest),
                    ),
                ),
            ),
        ],
        "end": w.say("End of the withdrawal of %(name)s", name=name),
    }
