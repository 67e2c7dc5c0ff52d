"""`hoistwright demo`: job sheets examined, work sheets, and one hoist to its certificate."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

import attrs

from hoistwright.cli.commands.demo_certificate import certify_demo
from hoistwright.cli.show import console, plain, table, worded

if TYPE_CHECKING:
    from hoistwright.certificate.write import Paper
    from hoistwright.examine.result import Examination
    from hoistwright.faults import FaultsError
    from hoistwright.job.shop import Shop

DEMO_DESIGN = "ardle-2000"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", default="out", metavar="FOLDER", help="where the PDFs go")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4")


@attrs.frozen
class Done:
    """What came of one demo sheet."""

    sheet: Path
    examination: Examination | None = None
    refused: FaultsError | None = None
    report: str = ""


def run(args: argparse.Namespace) -> int:
    from hoistwright.demo.shop_files import demo_folder, demo_sheets
    from hoistwright.job.shop_file import load_shop

    out = console()
    out.print("[bold]Kittiwake Quay Lifting Works: a demo shop. Everything in it is invented.[/]")
    folder = Path(args.out)
    folder.mkdir(parents=True, exist_ok=True)
    shop = load_shop(demo_folder() / "shop.toml")
    done = [_one(sheet, shop, folder, args.paper) for sheet in _watched(demo_sheets(), "Examining")]
    _show(done)
    _work_sheets(folder, args.paper)
    verified = certify_demo(folder)
    out.print(plain(f"\nAll files are in {folder.resolve()}"))
    out.print("The reports advise. A named competent person decides and signs.")
    return verified


def _watched(sheets: tuple[Path, ...], what: str) -> list[Path]:
    """The same, with a progress bar drawn while they are gone through."""
    from rich.progress import track

    return track(sheets, description=what, console=console())  # type: ignore[return-value]


def _one(sheet: Path, shop: Shop, folder: Path, paper: Paper) -> Done:
    from hoistwright.certificate.write import write_report
    from hoistwright.faults import FaultsError
    from hoistwright.sheet import read_sheet
    from hoistwright.sheet.examine_sheet import examine_sheet

    try:
        read = read_sheet(sheet, shop=shop)
    except FaultsError as error:
        return Done(sheet, refused=error)
    examination = examine_sheet(read, shop)
    report = write_report(folder, examination, read, shop, paper=paper)
    return Done(sheet, examination, report=report.name)


def _show(done: list[Done]) -> None:
    out = console()
    rows = [_row(item) for item in done]
    heads = (
        "job sheet",
        "outcome",
        "renew",
        "borderline",
        "not est.",
        "first of the worst",
        "report",
    )
    out.print(table("", heads, rows))
    for item in done:
        if item.refused:
            out.print(f"[bold]{plain(item.sheet.name)} was refused whole; every fault is named:[/]")
            for fault in item.refused.faults:
                place = attrs.evolve(fault.place, file="")
                out.print(plain(f"  {attrs.evolve(fault, place=place)}"))
        elif item.examination:
            for finding in item.examination.findings:
                out.print(
                    f"{plain(item.sheet.stem)}: [bold]{plain(finding.title)}[/]. "
                    f"{plain(finding.sentence)}"
                )


def _row(item: Done) -> tuple[str, ...]:
    if item.examination is None:
        count = len(item.refused.faults) if item.refused else 0
        return (item.sheet.name, f"refused: {count} faults", "", "", "", "", "")
    found = item.examination
    words = [verdict.outcome.words for verdict in found.verdicts]
    worst = next((v.title for v in found.worst_first if v.outcome.words != "fit"), "")
    return (
        item.sheet.name,
        worded(found.outcome),
        *(str(words.count(word) or "") for word in ("renew", "borderline", "not established")),
        plain(worst),
        item.report,
    )


def _work_sheets(folder: Path, paper: Paper) -> None:
    """Strip and rebuild sheets, a blank job sheet and the exploded drawing of one demo hoist."""
    from hoistwright.certificate.write import write_rebuild_sheet, write_strip_sheet
    from hoistwright.drawing import exploded
    from hoistwright.hoist.library import shipped
    from hoistwright.strip.plan import strip_to
    from hoistwright.strip.rebuild import rebuild

    design = shipped(DEMO_DESIGN)
    plan = strip_to(design, ["pawl_spring"])
    write_strip_sheet(folder / f"{DEMO_DESIGN}-strip.pdf", design, plan, paper=paper)
    back = rebuild(design, plan, ["pawl_spring"])
    write_rebuild_sheet(folder / f"{DEMO_DESIGN}-rebuild.pdf", design, back, paper=paper)
    drawing = exploded(design, with_list=True)
    (folder / f"{DEMO_DESIGN}-exploded.svg").write_text(drawing, encoding="utf-8")
    console().print(
        f"To renew the pawl springs of {DEMO_DESIGN}: {DEMO_DESIGN}-strip.pdf, "
        f"{DEMO_DESIGN}-rebuild.pdf; its drawing: {DEMO_DESIGN}-exploded.svg"
    )
