"""Papers of a release: certificate, draft, label, what goes to the customer, the auditor's."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from starlette.responses import Response

from hoistwright.certificate.release.mail import mail_packet, zipped
from hoistwright.certificate.release.packet import Packet, packet_files
from hoistwright.certificate.signing.contents import record_in
from hoistwright.certificate.tag.label import SIZES, label_data, label_pdf, label_png
from hoistwright.job.events_prove import PullRecorded
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.papers import PAPERS, plain_name, sent_file
from hoistwright.web.pages.job.release_case import ReleaseCase
from hoistwright.web.records.issued import signed_register
from hoistwright.web.refused import Refused
from hoistwright.web.shop_keys import keys_of
from hoistwright.web.visit import Visit


def show_certificate(visit: Visit) -> Response:
    """A signed paper of this job; no other."""
    case, content = case_of(visit), visit.part("content")
    for body in _bodies(case):
        if body.content == content:
            return sent_file(_kept(case, content), f"{_name(body)}.pdf", "application/pdf")
    raise Refused(404, visit.say("There is no such certificate in this job."))


def show_draft(visit: Visit) -> Response:
    """What would be signed now, marked as a draft: the PDF, or a page of it as a picture."""
    from hoistwright.certificate.release.render import draft_pictures, render

    release = ReleaseCase(case=case_of(visit))
    lang = "fr" if visit.query("language") == "fr" else "en"
    if visit.part("kind") == "pdf":
        made = render(release.draft(), lang=lang)  # type: ignore[arg-type]
        return sent_file(made, "draft.pdf", "application/pdf")
    if visit.part("kind") == "png":
        pages = draft_pictures(release.draft(), lang=lang)  # type: ignore[arg-type]
        return sent_file(pages[0], "draft.png", "image/png")
    raise Refused(404, visit.say("There is no such paper."))


def show_tag(visit: Visit) -> Response:
    """The label for the hoist, from the certificate that stands."""
    case, size = case_of(visit), visit.part("size")
    record, body = _standing(case)
    if size not in SIZES:
        raise Refused(404, visit.say("There is no label of this size."))
    lang = "fr" if visit.query("language") == "fr" else "en"
    data = label_data(record, body.code, size, lang)
    if visit.part("kind") == "png":
        return sent_file(label_png(data), f"{_name(body)}-tag-{size}.png", "image/png")
    return sent_file(label_pdf(data), f"{_name(body)}-tag-{size}.pdf", "application/pdf")


def show_mail(visit: Visit) -> Response:
    """Certificate, label, public certificate and the message, in the customer's language."""
    case = case_of(visit)
    lang = "fr" if visit.part("language") == "fr" else "en"
    record, body = _standing(case)
    label = label_pdf(label_data(record, body.code, "62x29", lang))
    made = mail_packet(
        record, _kept(case, body.content), lang=lang, label=label,
        shop_certificate=keys_of(visit.bench).public,
    )  # fmt: skip
    return sent_file(made, f"{_name(body)}-mail-{lang}.zip", "application/zip", keep=True)


def show_auditor(visit: Visit) -> Response:
    """Everything of the job in one archive."""
    case = case_of(visit)
    events = (event.text for event in visit.bench.store.events(case.job))
    report, sheets = _sheets(case)
    kept = [body for body in _bodies(case) if body.content]
    signed = {f"{_name(body)}.pdf": _kept(case, body.content) for body in kept}
    standing = case.state.certificate if kept else None
    packet = Packet(
        job=case.job,
        shop=case.shop.name,
        report=report,
        certificates=signed,
        record=record_in(_kept(case, standing.content)) or b"" if standing else b"",
        journal="".join(f"{text}\n" for text in events).encode("utf-8", "surrogatepass"),
        register=signed_register(visit.bench.engine),
        shop_certificate=keys_of(visit.bench).public,
        photos=dict(_photos(case)),
        sheets=sheets,
    )
    day = visit.bench.today
    return sent_file(
        zipped(packet_files(packet, day), day), f"{plain_name(case.job)}.zip", "application/zip",
        keep=True,
    )  # fmt: skip


def _sheets(case: Case) -> tuple[bytes, dict[str, bytes]]:
    """The report, and the sheets; what cannot be made for this job is left out."""
    from hoistwright.job.to_entries import job_sheet_of
    from hoistwright.sheet.write_toml import sheet_toml

    made: dict[str, bytes] = {}
    for name in ("report", "strip", "rebuild"):
        try:
            made[name] = PAPERS[name](case)
        except Refused:
            continue
    sheets = {f"{name}.pdf": data for name, data in made.items() if name != "report"}
    sheets["job-sheet.toml"] = sheet_toml(job_sheet_of(case.state)).encode()
    for place, entry in enumerate(case.state.pulls, start=1):
        if isinstance(entry.body, PullRecorded):
            kept = case.visit.bench.store.attachment(entry.body.content)
            if kept is not None:
                sheets[f"pull-{place}-{entry.body.step}.csv"] = kept[1]
    return made.get("report", b""), sheets


def _photos(case: Case) -> Iterator[tuple[str, bytes]]:
    for place, photo in enumerate(case.state.photos, start=1):
        kept = case.visit.bench.store.attachment(getattr(photo.body, "content", ""))
        if kept is not None:
            ending = {"image/jpeg": "jpg", "image/png": "png"}.get(kept[0].media_type, "pdf")
            part = getattr(photo.body, "part", "") or "hoist"
            yield f"{place:02d}-{part}.{ending}", kept[1]


def _bodies(case: Case) -> list[CertificateIssued | CertificateWithdrawn]:
    release = ReleaseCase(case=case)
    return [entry.event.body for entry in release.papers]  # type: ignore[misc]


def _standing(case: Case) -> tuple[Mapping[str, Any], CertificateIssued]:
    body = case.state.certificate
    if body is None:
        raise Refused(409, case.visit.say("No certificate of this job stands."))
    return json.loads(record_in(_kept(case, body.content)) or b"{}"), body


def _kept(case: Case, content: str) -> bytes:
    found = case.visit.bench.store.attachment(content)
    if found is None:
        raise Refused(
            404,
            case.visit.say("The signed file is not kept here."),
            case.visit.say("It was signed elsewhere: look for it there."),
        )
    return found[1]


def _name(body: CertificateIssued | CertificateWithdrawn) -> str:
    gone = "-withdrawn" if isinstance(body, CertificateWithdrawn) else ""
    return f"{plain_name(body.number)}-{body.revision}{gone}"


PAGES = (
    Page(name="job-certificate", path="/jobs/{job}/certificates/{content}", show=show_certificate),
    Page(name="job-draft", path="/jobs/{job}/release/draft/{kind}", show=show_draft),
    Page(name="job-tag", path="/jobs/{job}/release/tag/{size}/{kind}", show=show_tag),
    Page(name="job-mail", path="/jobs/{job}/release/mail/{language}", show=show_mail),
    Page(name="job-auditor", path="/jobs/{job}/release/auditor", show=show_auditor),
)
