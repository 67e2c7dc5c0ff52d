"""`hoistwright draw`: the exploded drawing of a design as an SVG file."""

from __future__ import annotations

import argparse
from pathlib import Path

from hoistwright.cli.show import console, plain


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument("--to", required=True, metavar="FILE", help="the .svg file to write")
    parser.add_argument("--parts", nargs="+", metavar="PART", help="draw only these parts")
    parser.add_argument(
        "--lit", nargs="+", default=(), metavar="PART", help="draw these parts bold and hatched"
    )
    parser.add_argument("--list", action="store_true", help="with the parts list under it")


def run(args: argparse.Namespace) -> int:
    from hoistwright.cli.part_names import known_parts
    from hoistwright.drawing import exploded
    from hoistwright.hoist.library import find_design

    design = find_design(args.design)
    svg = exploded(
        design,
        parts=known_parts(design, args.parts) if args.parts else None,
        lit=known_parts(design, args.lit),
        with_list=args.list,
    )
    Path(args.to).write_text(svg, encoding="utf-8")
    console().print(plain(f"{design.key} drawn in {args.to}"))
    return 0
