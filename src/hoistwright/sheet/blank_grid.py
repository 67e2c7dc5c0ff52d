"""The lines of a blank sheet's table, the same for CSV and XLSX."""

from __future__ import annotations

from hoistwright.sheet.blank import BlankRow, BlankSection, BlankSheet

GRID: tuple[str, ...] = (
    "part", "feature", "place", "what to do", "as new", "limit", "unit", "reading", "gauge",
    "links", "answer", "remark", "photo",
)  # fmt: skip

PRINTED = frozenset({"part", "feature", "place", "what to do", "as new", "limit", "unit", "links"})
"""The columns that are filled in on a blank sheet."""

FREE_ROWS = 20
"""Empty rows at the end, for further places."""

INSTRUCTION = (
    "Fill in reading and gauge, or answer (in order, defect, not looked). Repeats of one reading "
    "in one cell: 12.1; 12.2; 12.1. A line that begins with # is not read. The maker's manual, "
    "local law and a competent person come first."
)


def section_line(section: BlankSection) -> str:
    """The line over a part's rows."""
    caution = f" Caution: {section.caution}" if section.caution else ""
    return f"# {section.name}.{caution}"


def grid_line(row: BlankRow) -> tuple[str, ...]:
    """A row's cells in the order of GRID."""
    printed = {
        "part": row.part,
        "feature": row.feature,
        "place": row.place,
        "what to do": what_to_do(row),
        "as new": row.as_new,
        "limit": row.limit,
        "unit": row.unit,
        "links": "" if row.links is None else str(row.links),
    }
    return tuple(printed.get(column, "") for column in GRID)


def what_to_do(row: BlankRow) -> str:
    """The task in a few words, with the instruments to take."""
    tools = f" [{' or '.join(row.instruments)}]" if row.instruments else ""
    welcome = "" if row.required else " (welcome, not required)"
    when = "" if row.stage == "stripped" else f" ({row.stage})"
    return f"{row.ask}{tools}{when}{welcome}"


def heading_lines(blank: BlankSheet) -> tuple[str, str]:
    """What stands over the table, as two lines that are not read."""
    bases = ", ".join(basis.head.title for basis in blank.bases) or "no basis"
    return f"# {blank.title}. Limits on {blank.day} by: {bases}.", f"# {INSTRUCTION}"
