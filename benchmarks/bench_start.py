"""How soon the command line answers: whole processes, against a bare interpreter and a limit.

Run: python benchmarks/bench_start.py
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

RUNS = 15
LIMIT = 0.2  # seconds; "well under" is asked


def seconds(*command: str) -> float:
    """Median whole-process time of a command."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([sys.executable, *command], check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    bare = seconds("-c", "pass")
    asked = seconds("-m", "hoistwright", "--help")
    print(f"bare interpreter {bare * 1e3:.0f} ms, hoistwright --help {asked * 1e3:.0f} ms")
    print(f"ratio to the bare interpreter {asked / bare:.1f}")
    met = "aim met" if asked / LIMIT <= 1 else "aim not met"
    print(f"ratio to the limit of {LIMIT} s: {asked / LIMIT:.2f} (aim: at most 1): {met}")


if __name__ == "__main__":
    main()
