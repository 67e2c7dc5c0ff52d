"""`hoistwright rebuild`: the order, lubricant, settings and hold points of putting it together."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.commands.strip import how_long, minutes, plan_of, who, who_heads
from hoistwright.cli.show import console, plain, table

if TYPE_CHECKING:
    from hoistwright.strip.rebuild import RebuildPlan, RebuildStep


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument(
        "--to", nargs="+", metavar="PART", help="parts it was opened for; without: everything"
    )
    parser.add_argument("--renew", nargs="+", default=(), metavar="PART", help="parts to fit new")
    parser.add_argument(
        "--people",
        type=int,
        choices=(1, 2),
        default=1,
        help="2: in the order in which two people do it, with who does what when",
    )
    parser.add_argument("--pdf", metavar="FILE", help="write the rebuild sheet as PDF")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4")
    parser.add_argument("--lang", choices=("en", "fr"), default="en", help="language of the PDF")
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    import attrs

    from hoistwright.cli.part_names import known_parts
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.hoist.library import find_design
    from hoistwright.strip.rebuild import rebuild

    design = find_design(args.design)
    try:
        plan = rebuild(design, plan_of(design, args), known_parts(design, args.renew))
    except ValueError as error:
        raise FaultsError([Fault(Place(), str(error), "parts that the strip reaches")]) from None
    if args.people == 2:
        from hoistwright.strip.for_two import rebuild_for_two

        plan = rebuild_for_two(plan)
    if args.pdf:
        from hoistwright.certificate.write import write_rebuild_sheet

        write_rebuild_sheet(Path(args.pdf), design, plan, paper=args.paper, lang=args.lang)
    if args.json:
        print(json.dumps(attrs.asdict(plan), indent=2))
    else:
        _show(plan)
        if args.pdf:
            console().print(plain(f"Rebuild sheet: {args.pdf}"))
    return 0


def _show(plan: RebuildPlan) -> None:
    out = console()
    for caution in plan.cautions:
        out.print(f"[bold]![/] {plain(caution)}")
    rows = [
        (
            str(step.number),
            ("turn the hoist; " if step.turn else "") + step.side,
            plain(step.name),
            plain(_how(step)),
            plain(_hold(plan, step)),
            minutes(step.seconds),
            *who(plan, step),
        )
        for step in plan.steps
    ]
    heads = (
        "",
        "side",
        "step",
        "lubricant, torque, setting, marks, new parts",
        "hold point to sign",
        "min",
        *who_heads(plan),
    )
    out.print(table(plain(f"Rebuild {plan.design}"), heads, rows))
    if plan.checks:
        before = f"step {plan.first_load}" if plan.first_load else "any load"
        out.print(f"Checks without load, before {before}:")
    for check in plan.checks:
        out.print(f"□ {plain(check.name)}: {plain(check.question)}")
    out.print(how_long(plan))


def _hold(plan: RebuildPlan, step: RebuildStep) -> str:
    """What is signed here; for two people also which steps wait for it."""
    if not step.hold_point or plan.people == 1:
        return step.hold_point and f"□ {step.hold_point}"
    held = next(point.holds for point in plan.hold_points if point.step == step.key)
    waits = ", ".join(str(other.number) for other in plan.steps if other.key in held)
    return f"□ {step.hold_point}" + (f" Steps that wait: {waits}." if waits else "")


def _how(step: RebuildStep) -> str:
    said = [f"{t.treatment}: {t.where or t.part.replace('_', ' ')}" for t in step.treated]
    if step.torque is not None:
        said.append(f"{step.torque:.0f} N m")
    said += [text for text in (step.setting, step.marks) if text]
    if step.fit_new:
        said.append("new: " + ", ".join(f"{p.quantity} × {p.name}" for p in step.fit_new))
    return "; ".join(text.removesuffix(".") for text in said)
