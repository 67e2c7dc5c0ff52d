"""Papers of a job: report, sheets to work by, a filled sheet taken over, the job as a file."""

from __future__ import annotations

import hashlib
import re
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from hoistwright.faults import FaultsError
from hoistwright.job.entry import Draft, hash_of
from hoistwright.job.events import Remarked
from hoistwright.job.from_sheet import drafts_of
from hoistwright.job.paper_language import paper_language
from hoistwright.job.to_entries import day_of, job_sheet_of
from hoistwright.language import LANGUAGES
from hoistwright.web.fault_words import fault_words
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case, case_of
from hoistwright.web.pages.job.entering import shown
from hoistwright.web.pages.job.frame import framed
from hoistwright.web.pages.job.question import Question
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

if TYPE_CHECKING:
    from hoistwright.examine.result import Examination

MOST_FAULTS = 40


def show(case: Case, question: Question | None) -> Response:
    return _papers(case, question, ())


def _papers(case: Case, question: Question | None, faults: tuple[str, ...]) -> Response:
    return framed(
        case,
        "papers.html",
        "papers",
        question,
        faults=faults,
        lang=_language(case),
        languages=LANGUAGES,
    )


def _language(case: Case) -> str:
    """The language of papers: the one asked for, else the customer's, else the shop's."""
    booked = case.state.booked
    customer = booked.customer if booked else None
    return paper_language(customer, case.shop, case.visit.query("lang"))


# papers to print


def _report(case: Case) -> bytes:
    from hoistwright.certificate.report import render_report

    examination = case.facts.examination
    if examination is None:
        say = case.visit.say
        raise Refused(409, say("Nothing has been examined yet."), say("Begin with Examine."))
    return render_report(_report_data(case, examination))


def _report_data(case: Case, examination: Examination) -> dict[str, Any]:
    from hoistwright.certificate.report import report_data

    return report_data(examination, job_sheet_of(case.state), case.shop, _language(case))


def _blank(case: Case) -> bytes:
    from hoistwright.certificate.blank_pdf import blank_data, render_blank
    from hoistwright.sheet.blank import blank_rows

    day = day_of(case.state) or case.visit.bench.today
    booked = case.state.booked
    filled = {"job": case.job}
    if booked:
        filled |= {"hoist__serial": booked.hoist.serial, "customer__name": booked.customer.name}
    blank = blank_rows(
        case.needed_design(),
        case.facts.bases,
        day,
        units=case.visit.units,
        lang=_language(case),
        **filled,
    )
    return render_blank(blank_data(blank, case.shop))


def _strip(case: Case) -> bytes:
    from hoistwright.certificate.steps_pdf import render_steps, strip_data

    design, plan = case.needed_design(), case.facts.strip
    if plan is None:
        raise Refused(409, case.visit.say("There is no strip plan yet."))
    day = case.visit.bench.today
    lang = _language(case)
    return render_steps(strip_data(design, plan, day=day, job=case.job, shop=case.shop, lang=lang))


def _rebuild(case: Case) -> bytes:
    from hoistwright.certificate.steps_pdf import rebuild_data, render_steps

    design, plan = case.needed_design(), case.facts.rebuild
    if plan is None:
        raise Refused(409, case.visit.say("There is no rebuild plan yet."))
    day = case.visit.bench.today
    lang = _language(case)
    return render_steps(
        rebuild_data(design, plan, day=day, job=case.job, shop=case.shop, lang=lang)
    )


PAPERS: Mapping[str, Callable[[Case], bytes]] = {
    "report": _report,
    "blank": _blank,
    "strip": _strip,
    "rebuild": _rebuild,
}


def show_paper(visit: Visit) -> Response:
    """A paper as PDF."""
    make = PAPERS.get(visit.part("paper"))
    if make is None:
        raise Refused(404, visit.say("There is no such paper."))
    case = case_of(visit)
    return sent_file(
        make(case), f"{plain_name(case.job)}-{visit.part('paper')}.pdf", "application/pdf"
    )


# the job as a file


def show_export(visit: Visit) -> Response:
    """The journal of the job as JSON lines, or what stands of it as a job sheet."""
    case, kind = case_of(visit), visit.part("kind")
    if kind == "journal":
        lines = (event.text for event in visit.bench.store.events(case.job))
        data = "".join(f"{line}\n" for line in lines).encode("utf-8", "surrogatepass")
        return sent_file(data, f"{plain_name(case.job)}.jsonl", "application/x-ndjson", keep=True)
    if kind == "sheet":
        from hoistwright.sheet.write_toml import sheet_toml

        text = sheet_toml(job_sheet_of(case.state))
        return sent_file(
            text.encode(), f"{plain_name(case.job)}.toml", "application/toml", keep=True
        )
    raise Refused(404, visit.say("There is no such paper."))


# a filled sheet


async def take_sheet(visit: Visit) -> Response:
    """Take a filled sheet over into this job: all of it, or nothing with every fault told."""
    upload = visit.upload("sheet")
    data = await upload.read() if upload else b""
    name = Path(upload.filename or "").name if upload else ""
    return await run_in_threadpool(_take_over, visit, name, data)


def _take_over(visit: Visit, name: str, data: bytes) -> Response:
    from hoistwright.sheet.read import read_sheet

    case = case_of(visit)
    if not data:
        return _wrong(case, (visit.say("Choose a file: a filled job sheet."),))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"sheet{Path(name).suffix[:8].casefold()}"
        path.write_bytes(data)
        try:
            sheet = read_sheet(path, shop=case.shop, today=visit.bench.today)
        except FaultsError as error:
            own = visit.language
            said = [fault_words(f, own).replace(f"{path}", name) for f in error.faults]
            return _wrong(case, tuple(said))
    if sheet.job != case.job:
        return _wrong(
            case,
            (visit.say("The sheet is of job %(other)s, this is job %(job)s.",
                       other=sheet.job, job=case.job),),
        )  # fmt: skip
    before = case.state.seq
    done = visit.bench.store.append(
        case.job, [*drafts_of(sheet), _who_took(visit, name, data)], now=visit.now
    )
    visit.tell(visit.say("%(number)s entries taken over.", number=done.state.seq - before))
    return visit.go("job", job=case.job)


def _who_took(visit: Visit, name: str, data: bytes) -> Draft:
    """The sheet's entries bear the names on the sheet; this one says who brought it in."""
    digest = hashlib.sha256(data).hexdigest()
    words = f"Job sheet {name[:120]} taken over (SHA-256 {digest[:16]})"
    by = visit.person.key
    return Draft(id=f"took-{hash_of(by + digest)[:40]}", by=by, body=Remarked(text=words))


def _wrong(case: Case, faults: tuple[str, ...]) -> Response:
    response = _papers(case, None, faults[:MOST_FAULTS])
    response.status_code = 422
    return response


def sent_file(data: bytes, name: str, kind: str, *, keep: bool = False) -> Response:
    way = "attachment" if keep else "inline"
    return Response(
        data, media_type=kind, headers={"content-disposition": f'{way}; filename="{name}"'}
    )


def plain_name(job: str) -> str:
    """A job's number as the beginning of a file's name: it may be anything."""
    return re.sub(r"[^A-Za-z0-9.-]+", "_", job).strip("._") or "job"


PAGES = (
    Page(name="job-papers", path="/jobs/{job}/papers", show=shown(show)),
    Page(name="job-paper", path="/jobs/{job}/papers/{paper}", show=show_paper),
    Page(name="job-export", path="/jobs/{job}/export/{kind}", show=show_export),
    Page(name="job-sheet", path="/jobs/{job}/sheet", take=take_sheet),
)
