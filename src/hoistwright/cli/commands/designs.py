"""`hoistwright designs`: the designs there are."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, table

if TYPE_CHECKING:
    from hoistwright.hoist.design import Design


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON instead of a table")


def run(args: argparse.Namespace) -> int:
    from hoistwright.hoist.library import shipped, shipped_keys

    designs = [shipped(key) for key in shipped_keys()]
    if args.json:
        print(json.dumps([_record(design) for design in designs], indent=2))
        return 0
    rows = [
        (
            design.key,
            f"{design.identity.maker}, {design.identity.model}"
            + (" (invented)" if design.identity.invented else ""),
            design.identity.kind,
            _kilograms(design.rating.rated_load),
            str(design.rating.falls or "-"),
        )
        for design in designs
    ]
    console().print(
        table("Designs", ("key", "maker and model", "kind", "rated load", "falls"), rows)
    )
    console().print("A design file of your own is given by its path, for example my-hoist.toml.")
    return 0


def _kilograms(load: float | None) -> str:
    return "not known" if load is None else f"{load:g} kg"


def _record(design: Design) -> dict[str, object]:
    return {
        "key": design.key,
        "maker": design.identity.maker,
        "model": design.identity.model,
        "kind": design.identity.kind,
        "invented": design.identity.invented,
        "rated_load_kg": design.rating.rated_load,
        "falls": design.rating.falls,
    }
