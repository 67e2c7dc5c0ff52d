"""`hoistwright draw`: the exploded drawing of a design as SVG, PNG or PDF."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain
from hoistwright.cli.typed import with_ending

if TYPE_CHECKING:
    from hoistwright.drawing import Drawing
    from hoistwright.hoist.design import Design

ENDINGS = (".svg", ".png", ".pdf")


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("design", metavar="DESIGN", help="a design's key, or a design file")
    parser.add_argument(
        "--to", required=True, metavar="FILE", help="the .svg, .png or .pdf file to write"
    )
    parser.add_argument("--parts", nargs="+", metavar="PART", help="draw only these parts")
    parser.add_argument(
        "--lit", nargs="+", default=(), metavar="PART", help="draw these parts bold and hatched"
    )
    parser.add_argument(
        "--move",
        choices=("none", "off", "on"),
        default="none",
        help="what the bold parts do: come off or go on (with arrows); without: nothing",
    )
    parser.add_argument("--list", action="store_true", help="with the parts list under it")


def run(args: argparse.Namespace) -> int:
    from hoistwright.certificate.drawing_file import FONT
    from hoistwright.certificate.write import write_whole
    from hoistwright.cli.part_names import known_parts
    from hoistwright.drawing import drawn
    from hoistwright.hoist.library import find_design

    path = with_ending(args.to, ENDINGS)
    design = find_design(args.design)
    drawing = drawn(
        design,
        parts=known_parts(design, args.parts) if args.parts else None,
        lit=known_parts(design, args.lit),
        move=args.move,
        with_list=args.list,
        font="sans-serif" if path.suffix.lower() == ".svg" else FONT,
    )
    write_whole(path, _bytes(path, design, drawing))
    console().print(plain(f"{design.key} drawn in {args.to}"))
    return 0


def _bytes(path: Path, design: Design, drawing: Drawing) -> bytes:
    import datetime

    from hoistwright.certificate.drawing_file import drawing_pdf, drawing_png

    ending = path.suffix.lower()
    if ending == ".svg":
        return drawing.svg.encode("utf-8")
    write = drawing_png if ending == ".png" else drawing_pdf
    return write(design, drawing, day=datetime.date.today())
