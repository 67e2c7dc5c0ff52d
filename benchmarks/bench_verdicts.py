"""A million readings to verdicts in one call: speed and memory, as ratios.

(a) against the same decisions by an independent uncertainty library, GTC, reading by reading,
    scaled from a sample; every decision of the sample must agree, or this exits with 1;
(b) against a bare pass over arrays, ready made, that computes one tail per reading and decides
    nothing: normal tail throughout, and once Student's tail where every row has finite ν;
(c) peak memory of the process after our passes, before GTC is loaded.

Ours shares its rows among the cores; both peers run on one. Figures are medians.
One reading: chain elongation (x − x0)/x0 from four sources for x and one for x0, guard band of
2u, verdict code and probability beyond 2 %.
"""

from __future__ import annotations

import os
import resource
import statistics
import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np
from scipy.special import ndtr, stdtr, stdtrit

from hoistwright.metrology import Component, Form, Judged, Outcome, judge_rows

ROWS, SAMPLE, REPEATS = 1_000_000, 2_000, 9
LIMIT, R = 0.02, 2.0
AIM_LIBRARY, AIM_BARE, MEMORY_GIB = 1000.0, 3.0, 1.5


class Readings:
    """Invented readings of worn 5 × 15 chains, 11 links, from a fixed seed."""

    def __init__(self, rows: int, finite_share: float) -> None:
        rng = np.random.default_rng(20_261)
        self.x0 = 0.175 + rng.normal(0, 1e-4, rows)
        self.x = self.x0 * (1 + rng.uniform(0.0, 0.03, rows))
        self.scale = rng.uniform(1e-5, 3e-5, rows)
        self.repeat = rng.uniform(1e-5, 1e-4, rows)
        self.temperature = self.x * 11.5e-6 * 5 / np.sqrt(3)
        few = rng.random(rows) < finite_share
        self.dof = np.where(few, rng.integers(2, 10, rows).astype(float), np.inf)
        self.resolution, self.reference = 1e-5 / np.sqrt(12), 2e-5

    def judged(self) -> Judged:
        own = [
            Component("calibration", self.scale),
            Component("resolution", self.resolution),
            Component("repeatability", self.repeat, dof=self.dof, kind="A"),
            Component("temperature", self.temperature),
        ]
        return judge_rows(
            Form.RISE,
            self.x,
            own,
            LIMIT,
            as_new=self.x0,
            as_new_components=[Component("reference", self.reference)],
        )


def median_time(work: Callable[[], object], repeats: int = REPEATS) -> float:
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def library_decision(gtc: Any, data: Readings, row: int) -> tuple[int, float]:
    """The same reading by GTC: uncertain numbers, effective ν, guard band, decision, tail."""
    x = gtc.ureal(float(data.x[row]), float(data.scale[row]))
    x += gtc.ureal(0, data.resolution) + gtc.ureal(0, float(data.temperature[row]))
    x += gtc.ureal(0, float(data.repeat[row]), float(data.dof[row]))
    x0 = gtc.ureal(float(data.x0[row]), data.reference)
    rise = (x - x0) / x0
    y, u, dof = gtc.value(rise), gtc.uncertainty(rise), gtc.dof(rise)
    guard = u * (R if np.isinf(dof) else -float(stdtrit(dof, ndtr(-R))))
    beyond = float(ndtr((y - LIMIT) / u) if np.isinf(dof) else stdtr(dof, (y - LIMIT) / u))
    if y >= LIMIT:
        return int(Outcome.RENEW), beyond
    return int(Outcome.FIT if y + guard <= LIMIT else Outcome.BORDERLINE), beyond


def aim(met: bool) -> str:
    return "aim met" if met else "AIM NOT MET"


def bare_ratios() -> None:
    """(b), with ours and the bare pass taking turns so that both meet the same machine."""
    for share, name, aimed in [
        (0.0, "normal tail throughout", True),
        (0.05, "1 row in 20 with its own repeats (finite ν)", True),
        (1.0, "every row with finite ν, against a bare Student tail", False),
    ]:
        data = Readings(ROWS, share)
        ready = data.judged()
        y, u, dof = ready.value, ready.uncertainty, ready.dof

        def bare(y: Any = y, u: Any = u, dof: Any = dof, share: float = share) -> object:
            z = (y - LIMIT) / u
            return stdtr(dof, z) if share == 1.0 else ndtr(z)

        repeats = REPEATS if share < 1 else 3
        pairs = [(median_time(data.judged, 1), median_time(bare, 1)) for _ in range(repeats)]
        ours, peer = (statistics.median(times) for times in zip(*pairs, strict=True))
        ratio = ours / peer
        verdict = f"; aim <= {AIM_BARE:g}: {aim(ratio <= AIM_BARE)}" if aimed else ""
        print(f"(b) {name}: {1e3 * ours:.1f} ms / {1e3 * peer:.1f} ms = {ratio:.2f}{verdict}")


def peak_gib() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20


def library_ratio() -> bool:
    """(a). Returns whether every decision of the sample agrees."""
    import GTC

    data = Readings(ROWS, 0.05)
    ours_time = median_time(data.judged)
    ours = data.judged()
    start = time.perf_counter()
    theirs = [library_decision(GTC, data, row) for row in range(SAMPLE)]
    scaled = (time.perf_counter() - start) * ROWS / SAMPLE
    codes = np.array([code for code, _ in theirs])
    tails = np.array([tail for _, tail in theirs])
    differ = int((codes != ours.codes[:SAMPLE]).sum())
    gap = float(np.abs(tails - ours.beyond[:SAMPLE]).max())
    counts = {o.words: int((codes == o).sum()) for o in Outcome}
    print(f"(a) {SAMPLE} decisions compared: {differ} differ, largest gap of P {gap:.1e}; {counts}")
    ratio = scaled / ours_time
    print(
        f"(a) GTC, scaled to {ROWS} readings: {scaled:.0f} s / {ours_time:.3f} s = {ratio:.0f} "
        f"times; aim >= {AIM_LIBRARY:g}: {aim(ratio >= AIM_LIBRARY)}"
    )
    return differ == 0 and gap < 1e-9


def machine() -> str:
    load = os.getloadavg()[0]
    text = f"{os.cpu_count()} cores, load {load:.1f} at the start"
    return f"{text}: other work is running, ours comes out slower" if load > 0.5 else text


def main() -> int:
    print(machine())
    Readings(1000, 0.5).judged()  # load what is loaded lazily before any clock runs
    bare_ratios()
    peak = peak_gib()
    print(f"(c) peak memory: {peak:.2f} GiB; limit {MEMORY_GIB} GiB: {aim(peak < MEMORY_GIB)}")
    if not library_ratio():
        print("decisions disagree with the independent library")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
