"""`hoistwright strip`: the shortest way to open a hoist down to the parts wanted."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.hoist.design import Design
    from hoistwright.strip.plan import StripPlan, StripStep
    from hoistwright.strip.rebuild import RebuildPlan, RebuildStep


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument(
        "--to",
        nargs="+",
        metavar="PART",
        help="parts wanted (key, name or role); without: everything",
    )
    parser.add_argument(
        "--look", action="store_true", help="to look at them only, not to take them off"
    )
    parser.add_argument(
        "--people",
        type=int,
        choices=(1, 2),
        default=1,
        help="2: in the order in which two people do it, with who does what when",
    )
    parser.add_argument("--pdf", metavar="FILE", help="write the strip sheet as PDF")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4")
    parser.add_argument("--lang", choices=("en", "fr"), default="en", help="language of the PDF")
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def plan_of(design: Design, args: argparse.Namespace) -> StripPlan:
    from hoistwright.cli.part_names import known_parts
    from hoistwright.strip.plan import full_strip, strip_to

    if not args.to:
        return full_strip(design)
    look = getattr(args, "look", False)
    return strip_to(design, known_parts(design, args.to), purpose="look at" if look else "take off")


def run(args: argparse.Namespace) -> int:
    import attrs

    from hoistwright.hoist.library import find_design

    design = find_design(args.design)
    plan = plan_of(design, args)
    if args.people == 2:
        from hoistwright.strip.for_two import strip_for_two

        plan = strip_for_two(plan)
    if args.pdf:
        from hoistwright.certificate.write import write_strip_sheet

        write_strip_sheet(Path(args.pdf), design, plan, paper=args.paper, lang=args.lang)
    if args.json:
        print(json.dumps(attrs.asdict(plan), indent=2))
    else:
        _show(plan)
        if args.pdf:
            console().print(plain(f"Strip sheet: {args.pdf}"))
    return 0


def _show(plan: StripPlan) -> None:
    out = console()
    for caution in plan.cautions:
        out.print(f"[bold]![/] {plain(caution)}")
    if plan.note:
        out.print(plain(plan.note))
    if not plan.steps:
        return
    rows = [
        (
            str(step.number),
            ("turn the hoist; " if step.turn else "") + step.side,
            plain(step.name),
            plain(step.tool),
            minutes(step.seconds),
            *who(plan, step),
            plain(", ".join(p.name for p in step.one_use)),
            plain(step.caution),
        )
        for step in plan.steps
    ]
    heads = ("", "side", "step", "tool", "min", *who_heads(plan), "one-use parts", "caution")
    out.print(table(plain(f"Strip {plan.design}"), heads, rows))
    out.print(f"Tools: {plain(', '.join(plan.tools)) or 'none'}")
    ready = ", ".join(f"{p.quantity} × {p.name}" for p in plan.one_use)
    out.print(f"One-use parts to have ready: {plain(ready) or 'none'}")
    out.print(how_long(plan))


def who_heads(plan: StripPlan | RebuildPlan) -> tuple[str, ...]:
    return ("person", "from minute") if plan.people > 1 else ()


def who(plan: StripPlan | RebuildPlan, step: StripStep | RebuildStep) -> tuple[str, ...]:
    """Who does a step and when, in a plan for two."""
    return (str(step.person), minutes(step.start)) if plan.people > 1 else ()


def how_long(plan: StripPlan | RebuildPlan) -> str:
    from hoistwright.strip.wording import times

    alone, two = minutes(plan.seconds), minutes(plan.two_person_seconds)
    if plan.people > 1:
        return f"{two} minutes for two, {alone} alone; the hoist stands upright and is not turned."
    turned = f"; the hoist is turned {times(plan.turns)}" if plan.turns else ""
    return f"{alone} minutes alone, {two} for two{turned}."


def minutes(seconds: float) -> str:
    return f"{seconds / 60.0:.1f}"
