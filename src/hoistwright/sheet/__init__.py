"""Job sheets as files: read filled ones (TOML, CSV, XLSX), write blank ones."""

from hoistwright.sheet.read import read_sheet

__all__ = ["read_sheet"]
