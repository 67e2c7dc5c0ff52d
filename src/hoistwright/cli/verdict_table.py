"""An examination on the terminal: worst first, with wear rulers."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from hoistwright.cli.show import console, plain, table, worded
from hoistwright.examine.result import Examination
from hoistwright.examine.ruler import ruler
from hoistwright.examine.ruler_text import ruler_text
from hoistwright.examine.verdict import Verdict
from hoistwright.examine.words import judged_text, limit_text, probability_text, source_text
from hoistwright.job.job_sheet import JobSheet

RULER_WIDTH = 27


def show_examination(
    examination: Examination, sheet: JobSheet, *, units: str, everything: bool
) -> None:
    """Print one examination. Without `everything`, what is fit is only counted."""
    out = console()
    design = examination.design
    serial = sheet.hoist.serial or "serial number not known"
    out.rule(plain(f"{sheet.job}  {design.identity.model}  {serial}"), align="left")
    out.print(
        f"Customer: {plain(sheet.customer.name)}   Examined: {examination.day}   "
        f"Bases: {plain(', '.join(basis.key for basis in examination.bases))}"
    )
    out.print(f"Outcome: {worded(examination.outcome)}")
    _notes(examination)
    listed = [v for v in examination.worst_first if everything or v.outcome.words != "fit"]
    if listed:
        out.print(_verdicts(listed, units))
    fit = sum(v.outcome.words == "fit" for v in examination.verdicts)
    out.print(f"{fit} of {len(examination.verdicts)} points fit.")


def _notes(examination: Examination) -> None:
    out = console()
    for finding in examination.findings:
        out.print(f"[bold]! {plain(finding.title)}.[/] {plain(finding.sentence)}")
        out.print(f"  → {plain(finding.next_step)}")
    for item in examination.splits:
        if item.kind.value != "not established":
            out.print(
                f"  chain {item.place}: lengthened {100 * item.elongation:.2f} %, by wear "
                f"{100 * item.wear:.2f} %, by stretch {100 * item.stretch:.2f} % ± "
                f"{200 * item.stretch_uncertainty:.2f} %: {item.kind.value}"
            )
    for state in examination.adoptions:
        if not state.holds:
            out.print(f"[bold]! {plain(state.sentence)}[/] No hoist can be released on it.")


def _verdicts(listed: Sequence[Verdict], units: str) -> object:
    plain_signs = not (sys.stdout.encoding or "").lower().startswith("utf")
    rows = []
    for verdict in listed:
        drawn = ruler(verdict)
        rows.append(
            (
                worded(verdict.outcome),
                plain(verdict.title),
                plain(judged_text(verdict, units)),
                plain(limit_text(verdict, units)),
                probability_text(verdict),
                ruler_text(drawn, RULER_WIDTH, ascii_only=plain_signs) if drawn else "",
                plain(f"{verdict.why}. {verdict.next_step}" + _remark(verdict)),
                plain(source_text(verdict)),
            )
        )
    heads = (
        "verdict",
        "part",
        "found",
        "limit",
        "P(beyond)",
        "as new → limit",
        "why, and what now",
        "source",
    )
    return table("", heads, rows)


def _remark(verdict: Verdict) -> str:
    return f" Remark: {verdict.remark}" if verdict.remark else ""
