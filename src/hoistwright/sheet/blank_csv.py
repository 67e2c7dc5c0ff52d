"""A blank sheet as CSV text."""

from __future__ import annotations

import csv
import io

from hoistwright.sheet.blank import BlankSheet
from hoistwright.sheet.blank_grid import GRID, grid_line, heading_lines, section_line
from hoistwright.sheet.columns import HEADER

LABELS = {line.key: line.label for line in HEADER}
"""Labels and columns of a CSV sheet are keys for programs: English in every language."""


def blank_csv(blank: BlankSheet, *, separator: str = ",") -> str:
    """The sheet as CSV. Choose ";" where spreadsheets have the comma as decimal mark."""
    out = io.StringIO()
    write = csv.writer(out, delimiter=separator, lineterminator="\r\n").writerow
    for line, value in blank.header:
        write([LABELS[line.key], value])
    write([])
    for text in heading_lines(blank):
        write([text])
    write(GRID)
    for section in blank.sections:
        write([section_line(section, blank.language)])
        for row in section.rows:
            write(grid_line(row, blank.language))
    return out.getvalue()
