"""`hoistwright wrong-releases`: what each decision rule lets through, on simulated hoists."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.wear.wrong_release import WrongRelease

ENOUGH = 200_000
MOST = 5_000_000


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--examinations", type=_count, default=ENOUGH, metavar="N",
        help=f"at least so many simulated examinations; without: {ENOUGH:,}",
    )  # fmt: skip
    parser.add_argument("--seed", type=int, default=2026, help="of the random numbers")
    parser.add_argument("--to", metavar="FILE", help="write the picture as SVG")
    parser.add_argument("--json", action="store_true", help="print JSON instead of a table")


def _count(text: str) -> int:
    count = int(text)
    if not 1 <= count <= MOST:
        raise argparse.ArgumentTypeError(f"{text}; expected 1 to {MOST:,}")
    return count


def run(args: argparse.Namespace) -> int:
    found = _watched(args.examinations, args.seed)
    if args.to:
        from hoistwright.certificate.write import write_whole
        from hoistwright.wear.wrong_release_figure import wrong_release_svg

        write_whole(Path(args.to), wrong_release_svg(found).encode())
    if args.json:
        import attrs

        print(json.dumps(attrs.asdict(found), indent=2))
    else:
        _show(found)
        if args.to:
            console().print(plain(f"Picture: {args.to}"))
    return 0


def _watched(examinations: int, seed: int) -> WrongRelease:
    """The simulation under a bar that shows how far it is."""
    from rich.console import Console
    from rich.progress import Progress

    from hoistwright.wear.wrong_release import wrong_release

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("Simulated examinations", total=examinations)
        return wrong_release(
            examinations, seed=seed, watch=lambda done, _: bar.update(task, completed=done)
        )


def _show(found: WrongRelease) -> None:
    rows = [
        (
            plain(row.rule),
            "yes" if row.forecast else "no",
            f"{_percent(row.wrong_release)} ± {_percent(row.wrong_release_u)}",
            f"{_percent(row.beyond_by_return)} ± {_percent(row.beyond_by_return_u)}",
            _percent(row.sound_renewed),
            f"{100 * row.mean_interval:.0f} %",
        )
        for row in found.rows
    ]
    heads = (
        "rule", "forecast", "beyond, called fit", "called fit, beyond by return",
        "sound, not called fit", "mean time until return",
    )  # fmt: skip
    title = (
        f"{found.examinations:,} simulated examinations of chains from {found.near[0]:g} to "
        f"{found.near[1]:g} of the limit; u {_percent(found.uncertainty)} of elongation, limit "
        f"{_percent(found.limit)}; seed {found.seed}"
    )
    console().print(table(title, heads, rows))
    console().print(
        "± is one standard error. The shop, its hoists and their use are simulated and invented; "
        "the forecast calls a hoist back when the chance of being beyond the limit reaches "
        f"{_percent(found.risk)}."
    )


def _percent(share: float) -> str:
    return f"{100 * share:.3g} %"
