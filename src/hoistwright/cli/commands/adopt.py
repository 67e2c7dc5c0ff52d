"""`hoistwright adopt`: a competent person has compared a basis with their own copy."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path

from hoistwright.cli.show import console, plain


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("basis", help="key of a shipped basis, or the folder of your own")
    parser.add_argument("--shop", required=True, help="the shop file")
    parser.add_argument("--by", required=True, metavar="PERSON", help="key of a competent person")
    parser.add_argument(
        "--compared-with",
        required=True,
        metavar="TEXT",
        help="the copies that lay beside the figures, with their editions",
    )


def run(args: argparse.Namespace) -> int:
    from hoistwright.basis.adoption import adopt
    from hoistwright.basis.loading import find_basis
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.job.shop_file import load_shop, record_adoption

    path = Path(args.shop)
    shop, basis = load_shop(path), find_basis(args.basis)
    try:
        adoption = adopt(
            basis,
            by=args.by,
            on=datetime.date.today(),
            compared_with=args.compared_with,
            competent=shop.adopters(),
        )
    except ValueError as error:
        raise FaultsError([Fault(Place(file=args.shop), *_halves(str(error)))]) from None
    written = record_adoption(path, adoption)
    console().print(
        plain(f"{basis.key} is adopted by {args.by} as of {adoption.on}; recorded in {written}.")
    )
    return 0


def _halves(text: str) -> tuple[str, str]:
    """An engine's "what was given; expected what" as the two halves of a fault."""
    given, _, expected = text.partition("; expected ")
    return given, expected or "something else"
