"""From a record to what its pages print: everything on paper comes out of the record alone."""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any

from hoistwright.certificate.release import page_tables, texts
from hoistwright.certificate.release.page_cells import (
    Writer,
    caution,
    grouped,
    lines,
    section,
    text,
)
from hoistwright.certificate.release.record import record_bytes, sha256
from hoistwright.certificate.release.standing import open_defects
from hoistwright.certificate.release.values import RELEASES
from hoistwright.certificate.signing.contents import RECORD, stated_hash
from hoistwright.language import language

Record = Mapping[str, Any]

MASK = 3
RUNNING = 64
"""Characters of the hoist's name that the head of a page has room for."""


def certificate_page(
    record: Record, code: str, lang: str = "en", digest: str = ""
) -> dict[str, Any]:
    """What a certificate prints, as plain JSON values, in one language. Pure.

    Args:
        record: from `certificate_record`.
        code: the signed code; empty for a draft, which says so.
        lang: "en" or "fr". Texts that people entered stay as they were entered.
        digest: SHA-256 of the written record, where it is known already.
    """
    w = Writer(language(lang), record["units"])
    digest = digest or sha256(record_bytes(record))
    numbers = page_tables.criterion_numbers(record)
    decision = record["decision"]
    name = f"{record['number']}, {w.say('revision')} {record['revision']}"
    return {
        **common_page(record, w, name, digest),
        "running": _running(record, w),
        "title": w.say(texts.TITLES[decision]),
        "subtitle": w.say(texts.SUBTITLE if record["tests"] else texts.UNTESTED),
        "band": {
            "sign": "fit" if decision in RELEASES else "renew",
            "word": w.say(texts.WORDS[decision]),
            "big": w.mass(record["rated_load"]) if decision in RELEASES else "",
            "sentence": w.say(texts.SENTENCES[decision]),
            "due": _due_short(record, w),
        },
        "code": code_svg(code) if code else "",
        "code_alt": w.say("Square code with the signed essentials of this certificate"),
        "draft": "" if code else w.say(texts.DRAFT),
        "groups": [_hoist(record, w), _customer(record, w), _dates(record, w, name)],
        "sections": [
            _decision(record, w),
            section(w.say("Defects"), page_tables.defects(record, w)),
            section(
                w.say("Work done"), page_tables.work(record, w), *page_tables.used_once(record, w)
            ),
            section(w.say("Tests"), page_tables.tests(record, w)),
            _people(record, w),
            _use(record, w),
            section(w.say("What this certificate means"), *_meaning(record, w)),
            _measured(record, w, numbers),
            section(
                w.say("What was looked at"),
                page_tables.looked(record, w),
                lead=f"{_by(record, w)} {w.say(texts.LOOKED)}",
            ),
            _sources(record, w, numbers),
            _check(record, w, digest),
        ],
        "end": w.say("End of certificate %(name)s", name=name),
    }


def _running(record: Record, w: Writer) -> str:
    """Hoist and serial number for the head of every page, cut where they are too long."""
    hoist = record["hoist"]
    who = f"{hoist['maker']} {hoist['model']}".strip()
    whole = ", ".join(word for word in (who, hoist["serial"]) if word) or w.say("not stated")
    return whole if len(whole) <= RUNNING else f"{whole[: RUNNING - 1]}…"


def code_svg(code: str) -> str:
    """The code as a picture: error correction M, the quiet zone of four modules around it.

    The mask is always the same: a reader takes each of the eight (ISO/IEC 18004), and to weigh
    them costs more than all else that the page's data cost.
    """
    import segno

    out = io.BytesIO()
    made = segno.make_qr(code, error="m", boost_error=False, mask=MASK)
    made.save(out, kind="svg", border=4, xmldecl=False, nl=False, omitsize=True, light="white")
    return out.getvalue().decode()


def common_page(record: Record, w: Writer, name: str, digest: str) -> dict[str, Any]:
    return {
        "lang": w.language.code,
        "region": w.language.locale[-2:].lower(),
        "colon": "\u00a0: " if w.language.code == "fr" else ": ",
        "page_words": [w.say("page"), w.say("of")],
        "job_word": w.say("Job"),
        "job": record.get("job", ""),
        "shop": record["shop"],
        "name": name,
        "attachment": RECORD,
        "attachment_words": w.say("The whole record of this paper, for other programs"),
        "demo": w.say("Demonstration: shop, customer, hoist and readings are invented.")
        if record["shop"]["demo"]
        else "",
        "keywords": stated_hash(digest),
        "foot": w.say("%(name)s. %(software)s.", name=name, software=record["software"]),
        "lacking_words": w.say(
            "Characters that our typeface cannot show stand here as their numbers:"
        ),
    }


def _hoist(record: Record, w: Writer) -> dict[str, Any]:
    hoist = record["hoist"]
    return {
        "title": w.say("Hoist"),
        "lines": [
            [w.say("Maker"), w.stated(hoist["maker"])],
            [w.say("Model"), w.stated(hoist["model"])],
            [w.say("Serial number"), w.stated(hoist["serial"])],
            [w.say("Customer's tag"), w.stated(hoist["tag"])],
            [w.say("Date of manufacture"), w.stated(hoist["manufactured"])],
            [w.say("Kind"), w.say(hoist["design_kind"])],
            [w.say("Design file"), hoist["design"]],
        ],
    }


def _customer(record: Record, w: Writer) -> dict[str, Any]:
    customer, shop = record["customer"], record["shop"]
    return {
        "title": w.say("Made for"),
        "lines": [
            [w.say("Employer"), w.stated(customer["name"])],
            [w.say("Address"), w.stated(customer["address"])],
            [w.say("Premises of use"), w.stated(customer["premises"])],
            [w.say("Examined at"), record["performed_at"] or f"{shop['name']}, {shop['address']}"],
        ],
    }


def _dates(record: Record, w: Writer, name: str) -> dict[str, Any]:
    dates = record["dates"]
    return {
        "title": w.say("Certificate"),
        "lines": [
            [w.say("Number"), name],
            [w.say("Received"), w.day(dates["received_on"])],
            [w.say("Examined"), w.day(dates["examined_on"])],
            [w.say("Tested"), w.day(dates["tested_on"])],
            [w.say("Date of this report"), w.day(dates["issued_on"])],
            [w.say("Last thorough examination"), w.day(dates["last_examined_on"])],
        ],
    }


def _due_short(record: Record, w: Writer) -> str:
    """By when it must come back, and what must be put right before: that counts first."""
    due, waiting = record["next_due"], open_defects(record)
    words = [w.say("Next thorough examination by %(day)s", day=w.day(due["day"]))] if due else []
    if len(waiting) == 1:
        part = w.sentence(waiting[0]["part"])
        day = w.day(waiting[0]["by"])
        words.append(w.say("To be put right by %(day)s: %(part)s", day=day, part=part))
    elif waiting:
        day = w.day(waiting[0]["by"])
        words.append(
            w.say("%(count)s defects to be put right, the first by %(day)s: see under Defects",
                  count=str(len(waiting)), day=day)
        )  # fmt: skip
    return ". ".join(words)


def _decision(record: Record, w: Writer) -> dict[str, Any]:
    due, old = record["next_due"], record["supersedes"]
    why = w.sentence(due["why"]) if due else ""
    before = record["rated_load_before"]
    load = w.mass(record["rated_load"]) if record["rated_load"] else w.say("none: it must not lift")
    return section(
        w.say("Decision"),
        lines(
            (w.say("Kind of examination"), w.say(texts.OCCASIONS[record["occasion"]])),
            (w.say("Safe to operate"), w.yes(record["safe_to_operate"])),
            (w.say("Installed correctly"), w.yes(record["installed_correctly"])),
            (w.say("Safe working load (rated load)"), load),
            (w.say("Rated load before"), w.mass(before) if before is not None else ""),
            (w.say("Configuration"), w.sentence(record["configuration"])),
            (w.say("How it was made unusable"), record["made_unusable"]),
            (
                w.say("Latest day of the next thorough examination"),
                f"{w.day(due['day'])} ({why})" if due else w.say("does not apply"),
            ),
            (w.say("Service class"), w.say(record["service"])),
            (w.say("Complaint"), record["complaint"]),
            (w.say("Takes the place of"), _old(old, w) if old else ""),
            (w.say("Remarks"), record["remarks"]),
        ),
    )


def _old(old: Record, w: Writer) -> str:
    return w.say(
        "revision %(revision)s of %(day)s (SHA-256 of the file %(hash)s…): %(reason)s",
        revision=old["revision"], day=w.day(old["issued_on"]), hash=old["file_sha256"][:16],
        reason=old["reason"],
    )  # fmt: skip


def _people(record: Record, w: Writer) -> dict[str, Any]:
    blocks = []
    for label, who in (
        (w.say("Report made by"), record["reported_by"]),
        (w.say("Signed by"), record["authenticated_by"]),
    ):
        blocks.append(
            lines(
                (label, who["name"]),
                (w.say("Address"), who["address"]),
                (w.say("Qualification"), who["qualification"]),
                (w.say("Employed by"), who["employer"]),
            )
        )
    return section(w.say("People"), *blocks)


def _use(record: Record, w: Writer) -> dict[str, Any]:
    """How to use it; of a hoist that is not released, that it must not be used."""
    usable = record["decision"] in RELEASES
    heading = w.say("How to use this hoist safely") if usable else w.say("Do not use this hoist")
    told: tuple[tuple[str, str], ...] = texts.CAUTIONS if usable else texts.NO_USE
    return section(heading, *(caution(w.say(word), w.say(words)) for word, words in told))


def _meaning(record: Record, w: Writer) -> list[dict[str, Any]]:
    none = w.say("none")
    return [
        *(text(w.say(words)) for words in texts.MEANING),
        lines(
            (w.say("Departures from the usual way"), record["deviations"] or none),
            (w.say("Results provided by others"), record["from_others"] or none),
        ),
    ]


def _by(record: Record, w: Writer) -> str:
    who = record["examined_by"]
    name = who["name"] or who["key"] or w.say("not stated")
    return w.say(
        "Examined on %(day)s by %(who)s.", day=w.day(record["dates"]["examined_on"]), who=name
    )


def _measured(record: Record, w: Writer, numbers: Mapping[tuple[str, ...], int]) -> Any:
    lead = w.say(
        "Means with U at k = 2; what is judged with its own U and k. x: mean, x_new: as new, "
        "L: length of a chain section, L_ref: that of an unworn one, n: links, p: pitch. Numbers "
        "in brackets lead to the source of the limit. A line without a note is as found and as "
        "left. Single readings and uncertainty budgets are "
        "in the attached record under the same number."
    )
    block = page_tables.measured(record, w, numbers)
    return section(w.say("What was measured"), block, lead=f"{_by(record, w)} {lead}")


def _sources(record: Record, w: Writer, numbers: Mapping[tuple[str, ...], int]) -> Any:
    bases = [
        lines(
            (w.say("Basis"), f"{w.sentence(item['title'])} ({item['key']})"),
            (w.say("Adopted"), w.yes(item["adopted"])),
            (w.say("Decision rule"), w.sentence(item["rule"])),
            (w.say("Fingerprint"), grouped(item["digest"])),
        )
        for item in record["bases"]
    ]
    rule = lines((w.say("For limits of the maker"), w.sentence(record["maker_rule"])))
    tables = [page_tables.limits(numbers, w), page_tables.gauges(record, w)]
    return section(w.say("Methods, limits and gauges"), *bases, rule, *tables)


def _check(record: Record, w: Writer, digest: str) -> dict[str, Any]:
    return section(
        w.say("How to check this certificate"),
        *(text(w.say(words, name=RECORD).replace("`", "")) for words in texts.CHECK),
        lines(
            (w.say("Signed by"), record["authenticated_by"]["name"]),
            (w.say("Fingerprint of the record (SHA-256)"), grouped(digest)),
        ),
    )
