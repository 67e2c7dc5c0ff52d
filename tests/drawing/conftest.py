import functools
import re
from collections.abc import Callable
from xml.etree import ElementTree as ET

import attrs
import pytest

from hoistwright.drawing import Drawing, drawn
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped, shipped_keys

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]


def numbers(text: str) -> list[float]:
    return [float(found) for found in re.findall(r"-?\d+(?:\.\d+)?", text)]


class Reading:
    """A drawing read back from its SVG text, without the code that wrote it."""

    def __init__(self, svg: str) -> None:
        self.root = ET.fromstring(svg)

    @property
    def parts(self) -> list[ET.Element]:
        return [g for g in self.root.iter(f"{SVG}g") if "data-part" in g.attrib]

    @property
    def balloons(self) -> dict[str, ET.Element]:
        found = [g for g in self.root.iter(f"{SVG}g") if "data-balloon" in g.attrib]
        assert len({g.get("data-balloon") for g in found}) == len(found)
        return {g.get("data-balloon", ""): g for g in found}

    def boxes(self) -> dict[str, Box]:
        """The box round each balloon's circle and, where it has one, its sign."""
        boxes = {}
        for key, group in self.balloons.items():
            circle = group.findall(f"{SVG}circle")[-1]
            x, y, r = (float(circle.get(name, "")) for name in ("cx", "cy", "r"))
            right = x + r
            for sign in self.signs(group):
                right = max(right, numbers(sign.get("transform", ""))[0] + 2.0)
            boxes[key] = (x - r, y - r, right, y + r)
        return boxes

    def signs(self, group: ET.Element) -> list[ET.Element]:
        return [path for path in group.iter(f"{SVG}path") if path.get("class") == "sign"]

    def leaders(self) -> dict[str, Box]:
        """Each leader as x1, y1, x2, y2: from the balloon to the part."""
        out = {}
        for key, group in self.balloons.items():
            line = next(p for p in group.iter(f"{SVG}path") if p.get("class") == "leader")
            x1, y1, x2, y2 = numbers(line.get("d", ""))
            out[key] = (x1, y1, x2, y2)
        return out

    def overlapping(self) -> list[tuple[str, str]]:
        """Pairs of balloons that share area, by a plain rectangle test."""
        items = sorted(self.boxes().items())
        return [
            (a, b)
            for i, (a, (l1, t1, r1, b1)) in enumerate(items)
            for b, (l2, t2, r2, b2) in items[i + 1 :]
            if l1 < r2 and l2 < r1 and t1 < b2 and t2 < b1
        ]


@pytest.fixture(scope="session")
def read() -> Callable[[str], Reading]:
    return Reading


@functools.cache
def _whole(key: str) -> Drawing:
    return drawn(shipped(key))


@pytest.fixture(params=shipped_keys())
def design(request: pytest.FixtureRequest) -> Design:
    key: str = request.param
    return shipped(key)


@pytest.fixture
def drawing(design: Design) -> Drawing:
    """The whole drawing of the design, drawn once."""
    return _whole(design.key)


@pytest.fixture(scope="session")
def bare() -> Design:
    """A design whose parts have no drawn data, as a technician's own file begins."""
    full = shipped("ardle-500")
    return attrs.evolve(full, parts=tuple(attrs.evolve(p, drawn=None) for p in full.parts))
