"""One filled job sheet to its PDF report after start, as a ratio to the limit of 0.3 s.

The sheet is for a shipped design with every look answered and every measure read three times.
Timed: examine, gather the report's data, set the PDF. Each run has another job number, so
that the typesetter cannot reuse its last answer.
"""

from __future__ import annotations

import datetime
import os
import statistics
import time

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.certificate.report import render_report, report_data
from hoistwright.examine.entries import Circumstances, Entries, LookAnswer, Reading
from hoistwright.examine.points import points
from hoistwright.examine.result import examine
from hoistwright.hoist.library import shipped
from hoistwright.job.job_sheet import Customer, HoistIdentity, JobSheet, Work
from hoistwright.metrology import Gauge
from hoistwright.quantity import Dimension, si_unit

LIMIT = 0.3
"""Seconds."""
DAY = datetime.date(2026, 3, 9)
BASES = ("b30-hand-hoists", "europe-round-link", "workshop-practice")
RUNS = 7


def sheet_and_entries(key: str, job: str) -> tuple[JobSheet, Entries]:
    """Every point of a design read or answered, close to as new."""
    design = shipped(key)
    wanted = points(design, rulings(design, [shipped_basis(b) for b in BASES], DAY))
    dimensions = {p.dimension for p in wanted if p.measured}
    gauges = tuple(
        Gauge(d.value, f"gauge for {d.value}", "gauge", d, 1e-5, 2e-5, calibrated_on=DAY,
              due_on=datetime.date(2027, 1, 1))
        for d in Dimension
        if d in dimensions
    )  # fmt: skip
    readings = tuple(
        Reading(
            part=p.part, feature=p.feature, place=p.place, gauge=p.dimension.value,
            unit="mm" if p.dimension is Dimension.LENGTH else si_unit(p.dimension).symbol,
            values=tuple((p.baseline.value if p.baseline else 0.02) * f for f in (1, 1.001, 1.002)),
        )
        for p in wanted
        if p.measured
    )  # fmt: skip
    looks = tuple(
        LookAnswer(part=p.part, feature=p.feature, place=p.place, answer="in order")
        for p in wanted
        if not p.measured
    )
    sheet = JobSheet(
        job=job, design=key, hoist=HoistIdentity(maker="Ardle"), customer=Customer(),
        work=Work(examined_on=DAY, examined_by="", bases=BASES), readings=readings, looks=looks,
    )  # fmt: skip
    entries = Entries(
        readings=readings, looks=looks, gauges=gauges, circumstances=Circumstances(day=DAY)
    )
    return sheet, entries


def one(key: str, job: str) -> tuple[float, float, float, int]:
    """Seconds for examining, gathering and setting; and the size of the PDF."""
    sheet, entries = sheet_and_entries(key, job)
    start = time.perf_counter()
    examination = examine(shipped(key), [shipped_basis(b) for b in BASES], entries)
    examined = time.perf_counter()
    data = report_data(examination, sheet, None)
    gathered = time.perf_counter()
    pdf = render_report(data)
    return examined - start, gathered - examined, time.perf_counter() - gathered, len(pdf)


def main() -> None:
    """Print the median of some runs, step by step, and the ratio to the limit."""
    print(f"one sheet to PDF; processors busy: {os.getloadavg()[0]:.1f} of {os.cpu_count()}")
    for key in ("ardle-500", "ardle-2000", "ardle-10000"):
        first = sum(one(key, "first")[:3])
        runs = [one(key, f"J-{number}") for number in range(RUNS)]
        steps = [statistics.median(run[at] for run in runs) for at in range(3)]
        whole = statistics.median(sum(run[:3]) for run in runs)
        print(
            f"{key}: {whole:.3f} s (examine {steps[0]:.3f}, gather {steps[1]:.3f}, set "
            f"{steps[2]:.3f}), {runs[0][3] // 1024} KiB; first {first:.3f} s; "
            f"ratio to {LIMIT} s: {whole / LIMIT:.2f}"
        )


if __name__ == "__main__":
    main()
