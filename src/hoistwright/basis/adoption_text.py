"""An adoption as lines for the shop file."""

from __future__ import annotations

import json

from hoistwright.basis.adoption import Adoption


def adoption_toml(adoption: Adoption) -> str:
    """The `[[adoptions]]` table to add to a shop file, ending in a line feed."""
    lines = [
        "[[adoptions]]",
        f"basis = {_quoted(adoption.basis)}",
        f"digest = {_quoted(adoption.digest)}",
        f"by = {_quoted(adoption.by)}",
        f"on = {adoption.on.isoformat()}",
        f"compared_with = {_quoted(adoption.compared_with)}",
    ]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """A TOML basic string. JSON's is one, but for the delete character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
