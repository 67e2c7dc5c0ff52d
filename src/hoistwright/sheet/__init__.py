"""Job sheets as files: read filled ones (TOML, CSV, XLSX), write blank ones."""

from hoistwright.sheet.blank import BlankRow, BlankSection, BlankSheet, blank_rows
from hoistwright.sheet.read import read_sheet
from hoistwright.sheet.write_blank import write_blank
from hoistwright.sheet.write_toml import sheet_toml

__all__ = [
    "BlankRow",
    "BlankSection",
    "BlankSheet",
    "blank_rows",
    "read_sheet",
    "sheet_toml",
    "write_blank",
]
