"""The exploded drawing of the largest shipped hoist against its limit.

Limit: 0.5 s for plan and drawing together of a hoist of about 90 parts, so the whole drawing
(all parts, balloons, SVG text) must take less than that; printed as time over limit. Beside
it the small drawing of one step, as a sheet of steps needs one for every step.

Fails where the whole drawing takes longer than the limit.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

from hoistwright.drawing import drawable, exploded
from hoistwright.hoist.library import shipped, shipped_keys

LIMIT = 0.5
ROUNDS = 5
BRAKE = ("friction_disc_outer", "ratchet_disc", "friction_disc_inner", "disc_hub")


def middle_time(work: Callable[[], object]) -> float:
    """The middle of several runs, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return sorted(times)[ROUNDS // 2]


def main() -> int:
    key = max(shipped_keys(), key=lambda name: len(drawable(shipped(name))))
    design = shipped(key)
    whole = middle_time(lambda: exploded(design))
    step = middle_time(lambda: exploded(design, parts=BRAKE, lit=[BRAKE[0]], size=(120.0, 60.0)))
    size = len(exploded(design).encode()) / 1000
    print(f"{key}, {len(drawable(design))} parts: {whole:.3f} s, {size:.0f} kB of SVG")
    print(f"whole drawing over limit of {LIMIT} s: {whole / LIMIT:.2f}")
    print(f"drawing of one step over the whole drawing: {step / whole:.2f} ({step:.3f} s)")
    return 0 if whole < LIMIT else 1


if __name__ == "__main__":
    sys.exit(main())
