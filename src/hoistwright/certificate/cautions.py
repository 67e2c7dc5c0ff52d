"""The usual cautions that every paper of the shop carries."""

from __future__ import annotations

from collections.abc import Sequence

from hoistwright.examine.points import Point

_GENERAL = (
    (
        "What comes first",
        "The maker's manual and the law of the place. Where this paper says otherwise, they are "
        "right.",
    ),
    (
        "Suspended loads",
        "Nobody stands, reaches or walks under a load. Take the load off, and let the chain go "
        "slack, before anything is opened.",
    ),
    (
        "Springs",
        "Pawl and latch springs are loaded and can jump out. Wear eye protection and cover them "
        "as they come off.",
    ),
    (
        "Friction faces",
        "Oil or grease on a friction disc, the ratchet disc or the disc hub can let the load run "
        "away. Keep them dry: clean hands, clean bench.",
    ),
    (
        "Test bed",
        "A hoist that was opened is first proved with a light load close to the floor, then with "
        "the test load, everybody clear of the load and of the line of the chain.",
    ),
    (
        "Pinch points",
        "Chain, sheave and gears take fingers. Do not turn the hand wheel while a hand is inside.",
    ),
)
"""In our own words; common practice of the trade."""


def general_cautions() -> list[dict[str, str]]:
    """The cautions that every paper carries."""
    return [{"word": word, "text": text} for word, text in _GENERAL]


def part_cautions(points: Sequence[Point]) -> list[dict[str, str]]:
    """The catalogue's cautions, each once, with the parts it is for."""
    parts: dict[str, list[str]] = {}
    for point in points:
        if point.caution and point.part_name not in parts.setdefault(point.caution, []):
            parts[point.caution].append(point.part_name)
    return [{"parts": ", ".join(names), "text": text} for text, names in parts.items()]
