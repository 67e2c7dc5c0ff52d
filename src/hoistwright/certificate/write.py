"""Writing the printed papers to files: named by their job, put in place whole."""

from __future__ import annotations

import datetime
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from hoistwright.faults import Fault, FaultsError, Place

if TYPE_CHECKING:
    from hoistwright.examine.result import Examination
    from hoistwright.hoist.design import Design
    from hoistwright.job.job_sheet import JobSheet
    from hoistwright.job.shop import Shop
    from hoistwright.sheet.blank import BlankSheet
    from hoistwright.strip.plan import StripPlan
    from hoistwright.strip.rebuild import RebuildPlan

Paper = Literal["a4", "letter"]


def write_report(
    folder: Path,
    examination: Examination,
    sheet: JobSheet,
    shop: Shop | None,
    *,
    paper: Paper = "a4",
    lang: str = "",
) -> Path:
    """Write the report of examination of one job into `folder`; its path.

    `lang` is the paper's language; empty: the customer's, else the shop's.

    Raises FaultsError where the file cannot be written.
    """
    from hoistwright.certificate.report import render_report, report_data
    from hoistwright.job.paper_language import paper_language

    path = folder / f"{file_name(sheet.job)}-examination.pdf"
    data = report_data(examination, sheet, shop, paper_language(sheet.customer, shop, lang))
    return write_whole(path, render_report(data, _paper(paper)))


def write_blank_sheet(path: Path, blank: BlankSheet, *, paper: Paper = "a4") -> Path:
    """Write a blank job sheet to be filled in by hand."""
    from hoistwright.certificate.blank_pdf import blank_data, render_blank

    return write_whole(path, render_blank(blank_data(blank), _paper(paper)))


def write_strip_sheet(
    path: Path, design: Design, plan: StripPlan, *, paper: Paper = "a4", lang: str = "en"
) -> Path:
    """Write the strip sheet, with the trainee's view."""
    from hoistwright.certificate.steps_pdf import render_steps, strip_data

    data = strip_data(design, plan, day=datetime.date.today(), trainee=True, lang=lang)
    return write_whole(path, render_steps(data, _paper(paper)))


def write_rebuild_sheet(
    path: Path, design: Design, plan: RebuildPlan, *, paper: Paper = "a4", lang: str = "en"
) -> Path:
    """Write the rebuild sheet with its hold points, with the trainee's view."""
    from hoistwright.certificate.steps_pdf import rebuild_data, render_steps

    data = rebuild_data(design, plan, day=datetime.date.today(), trainee=True, lang=lang)
    return write_whole(path, render_steps(data, _paper(paper)))


def _paper(paper: Paper) -> Literal["a4", "us-letter"]:
    return "us-letter" if paper == "letter" else paper


def file_name(job: str) -> str:
    """A job number as a file name: nothing in it that a file system could take amiss."""
    return re.sub(r"[^\w.-]+", "_", job).strip("._") or "job"


def write_whole(path: Path, data: bytes) -> Path:
    """Beside first, then in place: a full disk leaves the old file or none, never half of one."""
    beside = path.with_name(path.name + ".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        said = error.strerror or str(error)
        raise FaultsError(
            [Fault(Place(file=str(path)), said, "a folder that can be written to")]
        ) from None
    return path
