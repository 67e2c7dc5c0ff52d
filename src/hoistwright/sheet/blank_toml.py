"""A blank sheet as TOML text."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from hoistwright.language import Language
from hoistwright.sheet.blank import BlankRow, BlankSheet
from hoistwright.sheet.blank_grid import heading_lines, section_line, what_to_do
from hoistwright.sheet.columns import HeaderLine
from hoistwright.sheet.toml_text import comment, listed, quoted


def blank_toml(blank: BlankSheet) -> str:
    """The sheet as TOML, each entry under a comment that tells what to do."""
    return "\n".join([*_header(blank), *_rows(blank)]) + "\n"


def _header(blank: BlankSheet) -> Iterator[str]:
    yield from (comment(text[2:]) for text in heading_lines(blank))
    groups = itertools.groupby(blank.header, key=lambda entry: entry[0].key.rpartition(".")[0])
    for table, entries in groups:
        yield ""
        if table:
            yield f"[{table}]"
        for line, value in entries:
            yield f"{line.key.rpartition('.')[2]} = {_value(line, value)}  # {line.hint}"


def _value(line: HeaderLine, value: str) -> str:
    if line.key == "format":
        return value
    if line.key == "work.bases":
        return listed(name.strip() for name in value.split(";"))
    return quoted(value)


def _rows(blank: BlankSheet) -> Iterator[str]:
    for section in blank.sections:
        yield ""
        yield comment(section_line(section, blank.language)[2:])
        for row in section.rows:
            yield from _row(row, blank.language)


def _row(row: BlankRow, own: Language) -> Iterator[str]:
    yield ""
    yield comment(what_to_do(row, own))
    if row.measured:
        yield comment(own.say("As new %(new)s; limit: %(limit)s", new=row.as_new, limit=row.limit))
    yield "[[reading]]" if row.measured else "[[look]]"
    yield f"part = {quoted(row.part)}"
    yield f"feature = {quoted(row.feature)}"
    if row.place:
        yield f"place = {quoted(row.place)}"
    if not row.measured:
        yield 'answer = ""'
        return
    yield 'value = ""' + (f"  # {row.unit}" if row.unit else "")
    yield 'gauge = ""'
    if row.links is not None:
        yield f"links = {row.links}"
