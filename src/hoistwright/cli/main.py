"""Entry point: find the verb, import only its module, turn every error into plain words."""

from __future__ import annotations

import argparse
import importlib
import sys
from typing import NoReturn

from hoistwright import __version__
from hoistwright.cli.exits import BAD_INPUT, EXIT_TEXT, OUR_FAULT

VERBS = {
    "examine": "hold filled job sheets against their bases: verdicts, and a PDF report of each",
    "sheet": "make a blank job sheet for a design: what to look at, what to measure, the limits",
    "check": "check a design file: pull, stresses, brake, marks, and what cannot be right",
    "strip": "the shortest way to open a hoist down to the parts wanted",
    "rebuild": "put it together again: order, lubricant, settings, hold points",
    "draw": "the exploded drawing of a design",
    "marks": "timing marks of the layshaft gears: which positions assemble",
    "quote": "the quote for a filled job sheet: must, advised, what each comes to",
    "prices": "check a price list: every fault, and which parts have no price",
    "wrong-releases": "how often a part beyond its limit is called fit, by decision rule",
    "designs": "the hoist designs there are",
    "bases": "the bases (published discard criteria) there are, and what they say",
    "adopt": "record that a competent person has compared a basis with their own copy",
    "keys": "make the shop's own certificate and the keys of those who sign",
    "certify": "sign the certificate of a job, or withdraw one",
    "verify": "check a signed certificate, or the code on it, offline",
    "tag": "the label for the hoist, from its signed certificate",
    "returns": "which hoists are due back, when and why: as a table, CSV or calendar",
    "recall": "the hoists with a batch or part number, or judged with a gauge found wrong",
    "serve": "the bench: the pages at which jobs are done, for tablets and desks",
    "backup": "a copy of the record, taken while people work on, and verified",
    "export": "everything in the record: JSON lines, CSV, or a workbook",
    "import": "take an exported record over, with its hashes as they are",
    "record": "is the record what was written, and are its tables level with it",
    "demo": "examine the demo shop's job sheets",
}

MODULES = {"import": "import_lines"}
"""Where a verb is no name that Python lets a module have."""

DESCRIPTION = (
    "Hoistwright advises people who overhaul hand chain hoists and lever hoists. "
    "The maker's manual, local law and a competent person come first: a named person decides "
    "and signs."
)


def run(argv: list[str] | None = None) -> NoReturn:
    """Run the command line and leave with its exit code."""
    sys.exit(main(argv))


def main(argv: list[str] | None = None) -> int:
    """Run one verb; its exit code."""
    words = sys.argv[1:] if argv is None else argv
    args = _parser(words).parse_args(words)
    try:
        return int(args.run(args))
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130
    except BrokenPipeError:  # the reader (a pager, `head`) has had enough
        sys.stderr.close()
        return 0
    except Exception as error:
        return _explain(error)


def _parser(words: list[str]) -> argparse.ArgumentParser:
    """The parser; only the verb that is asked for brings its arguments and its imports."""
    parser = argparse.ArgumentParser(
        prog="hoistwright",
        description=DESCRIPTION,
        epilog=EXIT_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"Hoistwright {__version__}")
    verbs = parser.add_subparsers(title="verbs", metavar="VERB", required=True)
    asked = next((word for word in words if not word.startswith("-")), "")
    for verb, text in VERBS.items():
        sub = verbs.add_parser(
            verb,
            help=text,
            description=text[0].upper() + text[1:] + ".",
            epilog=EXIT_TEXT,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        if verb == asked:
            name = MODULES.get(verb, verb.replace("-", "_"))
            module = importlib.import_module(f"hoistwright.cli.commands.{name}")
            module.arguments(sub)
            sub.set_defaults(run=module.run)
    return parser


def _explain(error: Exception) -> int:
    from hoistwright.faults import FaultsError

    if isinstance(error, FaultsError):
        count = len(error.faults)
        print(f"{count} fault{'s' if count > 1 else ''} found; nothing was done:", file=sys.stderr)
        for fault in error.faults:
            print(f"  {fault}", file=sys.stderr)
        return BAD_INPUT
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        print(f"{where}{error.strerror or error}", file=sys.stderr)
        return BAD_INPUT
    return _our_fault(error)


def _our_fault(error: Exception) -> int:
    """A fault of the program: say so plainly, and keep the details in a file."""
    import tempfile
    import traceback

    with tempfile.NamedTemporaryFile(
        "w", prefix="hoistwright-fault-", suffix=".txt", delete=False, encoding="utf-8"
    ) as file:
        traceback.print_exception(error, file=file)
    print(
        f"Hoistwright itself has failed ({type(error).__name__}: {error}). Your files are as they "
        f"were. Please send us {file.name} together with the command.",
        file=sys.stderr,
    )
    return OUR_FAULT
