"""The lines of a blank sheet's table, the same for CSV and XLSX."""

from __future__ import annotations

from hoistwright.language import Language, marked
from hoistwright.sheet.blank import BlankRow, BlankSection, BlankSheet

GRID: tuple[str, ...] = (
    "part", "feature", "place", "what to do", "as new", "limit", "unit", "reading", "gauge",
    "links", "answer", "remark", "photo",
)  # fmt: skip

PRINTED = frozenset({"part", "feature", "place", "what to do", "as new", "limit", "unit", "links"})
"""The columns that are filled in on a blank sheet."""

FREE_ROWS = 20
"""Empty rows at the end, for further places."""

INSTRUCTION = marked(
    "Fill in reading and gauge, or answer (in order, defect, not looked). Repeats of one reading "
    "in one cell: 12.1; 12.2; 12.1. A line that begins with # is not read. The maker's manual, "
    "local law and a competent person come first."
)


def section_line(section: BlankSection, own: Language) -> str:
    """The line over a part's rows."""
    caution = own.say("Caution: %(text)s", text=section.caution) if section.caution else ""
    return f"# {section.name}. {caution}".rstrip()


def grid_line(row: BlankRow, own: Language) -> tuple[str, ...]:
    """A row's cells in the order of GRID."""
    printed = {
        "part": row.part,
        "feature": row.feature,
        "place": row.place,
        "what to do": what_to_do(row, own),
        "as new": row.as_new,
        "limit": row.limit,
        "unit": row.unit,
        "links": "" if row.links is None else str(row.links),
    }
    return tuple(printed.get(column, "") for column in GRID)


def what_to_do(row: BlankRow, own: Language) -> str:
    """The task in a few words, with the instruments to take, and where if keys do not say."""
    where = f"{row.name}, {row.place_name}".rstrip(", ")
    said = row.ask if own.code == "en" else f"{where}. {row.ask}".rstrip()
    tools = f" [{own.say(' or ').join(row.instruments)}]" if row.instruments else ""
    welcome = "" if row.required else f" ({own.say('welcome, not required')})"
    when = "" if row.stage == "stripped" else f" ({own.say(row.stage)})"
    return f"{said}{tools}{when}{welcome}"


def heading_lines(blank: BlankSheet) -> tuple[str, str]:
    """What stands over the table, as two lines that are not read."""
    own = blank.language
    limits = own.say(
        "%(hoist)s. Limits on %(day)s by: %(bases)s.",
        hoist=blank.title,
        day=blank.day,
        bases=", ".join(blank.bases_said) or own.say("no basis"),
    )
    return f"# {limits}", f"# {own.say(INSTRUCTION)}"
