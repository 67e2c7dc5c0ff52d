"""The words of the page templates, in the language of a paper.

A template writes `say("Signatures")`; the text stands once, there, in English. What it is in the
paper's language is looked up here and given to the template with its data.
"""

from __future__ import annotations

import functools
import re
from importlib import resources
from pathlib import Path

from hoistwright.language import language

_STRING = r'"((?:[^"\\]|\\.)*)"'
_CALL = re.compile(rf"\b(?:say|heads)\(((?:\s*{_STRING}\s*,?)+)")
"""`say("…")` with its first text, `heads("…", "…")` with all of them."""


def template_folder() -> Path:
    """The folder of the page templates."""
    return Path(str(resources.files("hoistwright.certificate"))) / "templates"


@functools.cache
def texts_of(template: str) -> tuple[str, ...]:
    """Every text that a template says, itself and through what all share."""
    found: list[str] = []
    for name in ("common", template):
        source = (template_folder() / f"{name}.typ").read_text("utf-8")
        for call in _CALL.finditer(source):
            found += (re.sub(r"\\(.)", r"\1", text) for text in re.findall(_STRING, call[1]))
    return tuple(dict.fromkeys(found))


def template_words(template: str, lang: str) -> dict[str, str]:
    """Text and translation, for each text of a template."""
    own = language(lang)
    return {text: own.say(text) for text in texts_of(template)}
