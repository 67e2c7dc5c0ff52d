"""What a verification can find, each with its sentence."""

from __future__ import annotations

from typing import Literal

import attrs

Code = Literal[
    "valid",
    "not ours",
    "truncated",
    "unreadable",
    "not signed",
    "changed",
    "swapped record",
    "signer not trusted",
    "key out of date",
    "no right",
    "clock",
    "withdrawn",
    "superseded",
    "remark",
]
"""In the order in which the worst is told first; "remark" takes nothing from validity."""

ORDER: tuple[Code, ...] = (
    "not ours", "truncated", "unreadable", "not signed", "changed", "swapped record",
    "signer not trusted", "key out of date", "no right", "clock", "withdrawn", "superseded",
)  # fmt: skip


@attrs.frozen
class Found:
    """One thing that was found, in a sentence that says what to do where that is not plain."""

    code: Code
    sentence: str


def worst(found: tuple[Found, ...]) -> Code:
    """The outcome: the first in `ORDER` that was found, else valid."""
    codes = {item.code for item in found}
    return next((code for code in ORDER if code in codes), "valid")
