"""A fault of something typed or sent in, in the person's language."""

from __future__ import annotations

import attrs

from hoistwright.faults import Fault, Place
from hoistwright.language import Language
from hoistwright.quantity import QuantityError


def fault_words(fault: Fault, own: Language) -> str:
    """Where it is, what was read, what was expected, how to mend it; what was typed stays.

    >>> from hoistwright.language import language
    >>> fault = Fault(Place(line=53), "'2.74 mm'", "a figure of zero or more", "Is the unit right?")
    >>> fault_words(fault, language("en")) == str(fault)
    True
    >>> fault_words(fault, language("fr")).replace("\u00a0", " ")
    "ligne 53 : lu : '2.74 mm' ; attendu : un nombre de zéro ou plus. L’unité est-elle juste ?"
    """
    if own.code == "en":
        return str(fault)
    place = _place(fault.place, own)
    read = fault.read if fault.read.startswith("'") else own.sentence(fault.read)
    said = own.say(
        "read %(read)s; expected %(expected)s", read=read, expected=own.sentence(fault.expected)
    )
    text = f"{place}{own.colon}{said}" if place else said
    return f"{text}. {own.sentence(fault.mend)}" if fault.mend else text


def figure_words(error: QuantityError, own: Language) -> str:
    """What is wrong with a figure that was typed."""
    return fault_words(Fault(Place(), error.read, error.expected, error.mend), own)


def _place(place: Place, own: Language) -> str:
    """The place, word by word; its file has the name that it was sent under."""
    pieces = (str(Place(**{part: getattr(place, part)})) for part in _PARTS)
    return ", ".join(word for word in (place.file, *map(own.sentence, pieces)) if word)


_PARTS = tuple(field.name for field in attrs.fields(Place) if field.name != "file")
