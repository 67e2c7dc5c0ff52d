"""Pieces of TOML text."""

from __future__ import annotations

import json
from collections.abc import Iterable


def quoted(text: str) -> str:
    r"""A TOML basic string. JSON's is one, but for the delete character.

    >>> print(quoted(chr(9) + "pin"))
    "\tpin"
    """
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def listed(texts: Iterable[str]) -> str:
    """A TOML array of strings on one line."""
    return "[" + ", ".join(quoted(text) for text in texts) + "]"


def comment(text: str) -> str:
    """A comment line; control signs cannot stand in one."""
    return "# " + "".join(sign if sign.isprintable() else " " for sign in text)
