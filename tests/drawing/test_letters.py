"""Letters in squares: where a line goes on, and what hangs on what."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from hoistwright.drawing import drawn, exploded
from hoistwright.hoist.library import shipped, shipped_keys

SVG = "{http://www.w3.org/2000/svg}"
Spot = tuple[float, float]


def letters(read: Any, svg: str) -> list[tuple[str, Spot]]:
    """Each letter with the middle of its square."""
    found = []
    for group in read(svg).root.iter(f"{SVG}g"):
        if group.get("class") == "join":
            square = group.find(f"{SVG}rect")
            x, y, side = (float(square.get(name)) for name in ("x", "y", "width"))
            found.append(("".join(group.itertext()), (x + side / 2, y + side / 2)))
    return found


def middle(group: ET.Element) -> Spot:
    """Middle of the box round a part's lines."""
    path = " ".join(e.get("d", "") for e in group.iter(f"{SVG}path"))
    values = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", path)]
    x, y = values[0::2], values[1::2]
    return (min(x) + max(x)) / 2, (min(y) + max(y)) / 2


@pytest.mark.parametrize("key", shipped_keys())
def test_each_letter_stands_at_two_places(read: Any, key: str) -> None:
    count = Counter(letter for letter, _ in letters(read, exploded(shipped(key))))
    assert set(count.values()) == {2}


@pytest.mark.parametrize(
    ("key", "hangs", "on"),
    [
        ("ardle-2000", "load_chain", "load_sheave"),
        ("ardle-2000", "hand_chain", "hand_chain_wheel"),
        ("ardle-10000", "load_chain", "load_sheave"),
        ("ardle-l3000", "load_chain", "load_sheave"),
    ],
)
def test_a_chain_and_its_wheel_have_a_letter_in_common(
    read: Any, key: str, hangs: str, on: str
) -> None:
    """A chain hangs down from its wheel: the letter stands above the one, below the other."""
    svg = drawn(shipped(key), parts=[hangs, on]).svg
    parts = {g.get("data-part"): g for g in read(svg).parts}
    (one, first), (other, second) = letters(read, svg)
    assert one == other
    chain, wheel = middle(parts[hangs]), middle(parts[on])
    above, below = sorted((first, second), key=lambda spot: abs(spot[0] - chain[0]))
    assert above[1] < chain[1] and below[1] > wheel[1]
    assert abs(below[0] - wheel[0]) < 3


def test_nothing_hangs_where_only_one_end_is_drawn(read: Any) -> None:
    assert letters(read, exploded(shipped("ardle-2000"), parts=["load_chain", "pawl"])) == []
