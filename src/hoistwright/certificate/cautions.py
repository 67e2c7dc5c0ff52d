"""The usual cautions that every paper of the shop carries."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.examine.points import Point
from hoistwright.language import Language, language, marked

_GENERAL = (
    (
        marked("What comes first"),
        marked(
            "The maker's manual and the law of the place. Where this paper says otherwise, they"
            " are right."
        ),
    ),
    (
        marked("Suspended loads"),
        marked(
            "Nobody stands, reaches or walks under a load. Take the load off, and let the chain"
            " go slack, before anything is opened."
        ),
    ),
    (
        marked("Springs"),
        marked(
            "Pawl and latch springs are loaded and can jump out. Wear eye protection and cover "
            "them as they come off."
        ),
    ),
    (
        marked("Friction faces"),
        marked(
            "Oil or grease on a friction disc, the ratchet disc or the disc hub can let the "
            "load run away. Keep them dry: clean hands, clean bench."
        ),
    ),
    (
        marked("Test bed"),
        marked(
            "A hoist that was opened is first proved with a light load close to the floor, then"
            " with the test load, everybody clear of the load and of the line of the chain."
        ),
    ),
    (
        marked("Pinch points"),
        marked(
            "Chain, sheave and gears take fingers. Do not turn the hand wheel while a hand is "
            "inside."
        ),
    ),
)
"""In our own words; common practice of the trade."""


ENGLISH = language("en")


def general_cautions(own: Language = ENGLISH) -> list[dict[str, str]]:
    """The cautions that every paper carries."""
    return [{"word": own.say(word), "text": own.say(text)} for word, text in _GENERAL]


def part_cautions(points: Sequence[Point], own: Language = ENGLISH) -> list[dict[str, str]]:
    """The catalogue's cautions, each once, with the parts it is for."""
    parts: dict[str, list[str]] = {}
    for point in points:
        if point.caution and point.part_name not in parts.setdefault(point.caution, []):
            parts[point.caution].append(point.part_name)
    return [
        {"parts": ", ".join(map(own.sentence, names)), "text": own.sentence(text)}
        for text, names in parts.items()
    ]
