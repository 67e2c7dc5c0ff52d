"""What goes to the customer: the message in their language, with what is to be attached."""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Mapping
from typing import Any

from hoistwright.certificate.release.page_cells import Writer
from hoistwright.certificate.release.standing import open_defects
from hoistwright.certificate.release.texts import SENTENCES, WORDS
from hoistwright.certificate.release.values import RELEASES
from hoistwright.language import language, marked

HELLO = marked("Good day,")
KEEP = marked(
    "Keep the PDF file as it is: it is the certificate, signed over every byte; a print or a "
    "scan is not."
)
CHECK = marked(
    "To check it, now or in years: `hoistwright verify FILE --trust shop-certificate.pem`, or any "
    "reader of signed PDF files. Compare our public certificate with the one on our own pages."
)
ASK = marked("Whether a newer revision or a withdrawal exists, only we can say: ask us.")


def message(record: Mapping[str, Any], lang: str = "en") -> str:
    """The text of the message that goes with a certificate. Pure.

    Args:
        record: of the certificate.
        lang: "en" or "fr".
    """
    w = Writer(language(lang), record["units"])
    hoist, due, decision = record["hoist"], record["next_due"], record["decision"]
    before = record["rated_load_before"]
    named = f"{hoist['maker']} {hoist['model']}".strip()
    facts = [
        (w.say("Hoist"), named),
        (w.say("Serial number"), w.stated(hoist["serial"])),
        (w.say("Customer's tag"), hoist["tag"]),
        (w.say("Certificate"), f"{record['number']}, {w.say('revision')} {record['revision']}"),
        (w.say("Decision"), w.say(WORDS[decision])),
        (w.say("Rated load"), w.mass(record["rated_load"]) if decision in RELEASES else ""),
        (w.say("Rated load before"), w.mass(before) if before else ""),
        (w.say("Next thorough examination by"), w.day(due["day"]) if due else ""),
        *(_to_mend(item, w) for item in open_defects(record)),
    ]
    colon = "\u00a0: " if lang == "fr" else ": "
    lines = "\n".join(f"  {label}{colon}{value}" for label, value in facts if value)
    shop = record["shop"]
    return "\n\n".join(
        [
            w.say(HELLO),
            w.say("with this comes the certificate of your hoist."),
            lines,
            w.say(SENTENCES[decision]),
            f"{w.say(KEEP)} {w.say(CHECK)} {w.say(ASK)}",
            f"{record['authenticated_by']['name']}\n{shop['name']}\n{shop['address']}\n",
        ]
    )


def _to_mend(defect: Mapping[str, Any], w: Writer) -> tuple[str, str]:
    """A defect that the hoist leaves with: by when, and which part; the certificate says what."""
    label = w.say("To be put right by %(day)s", day=w.day(defect["by"]))
    return label, w.sentence(defect["part"])


def subject(record: Mapping[str, Any], lang: str = "en") -> str:
    """The subject line."""
    w = Writer(language(lang), record["units"])
    words = (w.say("Certificate"), record["number"], record["hoist"]["serial"])
    return " ".join(word for word in words if word)


def zipped(files: Mapping[str, bytes], day: datetime.date) -> bytes:
    """Files in one archive. The same files of the same day give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            about = zipfile.ZipInfo(name, (max(day.year, 1980), day.month, day.day, 0, 0, 0))
            about.compress_type = zipfile.ZIP_DEFLATED
            about.external_attr = 0o644 << 16
            archive.writestr(about, data)
    return out.getvalue()


def mail_packet(
    record: Mapping[str, Any],
    certificate: bytes,
    *,
    lang: str = "en",
    shop_certificate: bytes = b"",
    label: bytes = b"",
) -> bytes:
    """An archive with the message and everything that is to be attached to it."""
    day = datetime.date.fromisoformat(record["dates"]["issued_on"])
    name = f"{record['number']}-{record['revision']}"
    text = f"{subject(record, lang)}\n\n{message(record, lang)}"
    files = {f"message-{lang}.txt": text.encode(), f"{name}.pdf": certificate}
    if label:
        files[f"{name}-tag.pdf"] = label
    if shop_certificate:
        files["shop-certificate.pem"] = shop_certificate
    return zipped(files, day)
