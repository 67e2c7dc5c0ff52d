"""Tables and signs on the terminal."""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from hoistwright.metrology import Outcome

SIGNS = {"fit": "✓", "borderline": "≈", "not established": "?", "renew": "✗"}
"""A sign beside each verdict word: colour never carries meaning alone."""

STYLES = {
    "fit": "green",
    "borderline": "yellow",
    "not established": "magenta",
    "renew": "bold red",
}


@functools.cache
def console() -> Console:
    """The terminal, or plain text where output goes to a file (then never cut to a width)."""
    from rich.console import Console

    wide = None if sys.stdout.isatty() else 160
    return Console(width=wide, highlight=False, soft_wrap=False)


def table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A table with one line a row."""
    from rich import box
    from rich.table import Table

    made = Table(title=title, title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        made.add_column(head, overflow="fold")
    for row in rows:
        made.add_row(*row)
    return made


def worded(outcome: Outcome) -> str:
    """A verdict as sign and word, coloured beside."""
    style = STYLES[outcome.words]
    return f"[{style}]{SIGNS[outcome.words]} {outcome.words}[/]"


def plain(text: str) -> str:
    """Text that people wrote, with nothing in it taken for markup."""
    from rich.markup import escape

    return escape(text)
