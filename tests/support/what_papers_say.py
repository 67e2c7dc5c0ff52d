"""The papers that are made for the tests of languages: every demo sheet, design and basis."""

from __future__ import annotations

import datetime
from typing import Any, Literal

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.model import Basis
from hoistwright.certificate.blank_pdf import blank_data
from hoistwright.certificate.report import report_data
from hoistwright.certificate.steps_pdf import rebuild_data, strip_data
from hoistwright.demo.shop_files import demo_folder, demo_sheets
from hoistwright.examine.result import Examination
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.job.shop_file import load_shop
from hoistwright.sheet import blank_rows, read_sheet
from hoistwright.sheet.blank import BlankSheet
from hoistwright.sheet.blank_csv import blank_csv
from hoistwright.sheet.blank_toml import blank_toml
from hoistwright.sheet.blank_xlsx import blank_xlsx
from hoistwright.sheet.examine_sheet import examine_sheet
from hoistwright.strip.for_two import rebuild_for_two, strip_for_two
from hoistwright.strip.plan import full_strip
from hoistwright.strip.rebuild import rebuild

DAY = datetime.date(2026, 11, 25)


def demo_shop() -> Shop:
    return load_shop(demo_folder() / "shop.toml")


def examined() -> list[tuple[Examination, JobSheet]]:
    """Every demo sheet that can be read, examined; one of them is full of mistakes on purpose."""
    shop = demo_shop()
    paths = [path for path in demo_sheets() if "mistakes" not in path.stem]
    sheets = [read_sheet(path, shop=shop) for path in paths]
    return [(examine_sheet(sheet, shop), sheet) for sheet in sheets]


def every_basis() -> list[Basis]:
    return [shipped_basis(key) for key in shipped_bases()]


def blank(key: str, units: Literal["mm", "in"] = "mm", **filled: str) -> BlankSheet:
    """The French blank sheet of a shipped design, by all bases at once."""
    return blank_rows(shipped(key), every_basis(), DAY, units=units, lang="fr", **filled)


def make_french_reports() -> None:
    shop = demo_shop()
    for examination, sheet in examined():
        report_data(examination, sheet, shop, "fr")


def make_french_sheets() -> None:
    shop = demo_shop()
    for key in shipped_keys():
        for units in ("mm", "in"):
            sheet = blank(key, "in" if units == "in" else "mm")
            blank_data(sheet, shop)
            blank_toml(sheet)
            blank_csv(sheet)
            blank_xlsx(sheet, shop=shop)


def french_step_sheets(key: str) -> list[dict[str, Any]]:
    """Strip and rebuild sheet of a shipped design, for one person and for two."""
    design = shipped(key)
    off = full_strip(design)
    on = rebuild(design, off)
    strips = (off, strip_for_two(off))
    rebuilds = (on, rebuild_for_two(on))
    more: dict[str, Any] = {"day": DAY, "trainee": True, "whole": False, "lang": "fr"}
    return [
        *(strip_data(design, plan, **more) for plan in strips),
        *(rebuild_data(design, plan, **more) for plan in rebuilds),
    ]
