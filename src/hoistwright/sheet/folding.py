"""One spelling for the ways of writing the same name."""

from __future__ import annotations

import re


def folded(text: str) -> str:
    """A name as it is compared: small, with single spaces for all that people put between words.

    >>> folded("Top_Hook "), folded("hoist.rated_load"), folded("Numéro de série :")
    ('top hook', 'hoist rated load', 'numéro de série')
    """
    return re.sub(r"[\s_.\-'’]+", " ", text.casefold()).strip(" :*")
