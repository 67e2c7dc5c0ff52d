"""From what a sheet calls a part, a feature and a place to the point that is meant."""

from __future__ import annotations

import re
from collections.abc import Iterable

import attrs

from hoistwright.examine.points import Point, items, points, same_pattern
from hoistwright.faults import Fault
from hoistwright.hoist.design import Design
from hoistwright.sheet.columns import folded, nearest
from hoistwright.sheet.raw import RawRow

_MOST_PLACES = 999  # further sections of a chain that may be added to those asked for


@attrs.frozen
class Addresses:
    """The points of a design, by the names a person may give them."""

    design: Design
    by_part: dict[str, tuple[Point, ...]]
    names: dict[str, tuple[str, ...]]
    """Folded key or name of a part: the keys it may stand for."""

    @classmethod
    def of(cls, design: Design) -> Addresses:
        by_part: dict[str, tuple[Point, ...]] = {}
        for point in points(design, ()):
            by_part[point.part] = (*by_part.get(point.part, ()), point)
        keys = {folded(key): (key,) for key in by_part}
        names: dict[str, tuple[str, ...]] = {}
        for key, found in by_part.items():
            name = folded(found[0].part_name)
            names[name] = (*names.get(name, ()), key)
        return cls(design, by_part, names | keys)

    def find(self, row: RawRow, faults: list[Fault]) -> Point | None:
        """The point that a row is about, its place filled in; None with a fault otherwise."""
        part = self._part(row, faults)
        if part is None:
            return None
        feature = self._feature(row, part, faults)
        return None if feature is None else self._place(row, part, feature, faults)

    def _part(self, row: RawRow, faults: list[Fault]) -> str | None:
        cell = row.at("part")
        found = self.names.get(folded(cell.text), ())
        if len(found) == 1:
            return found[0]
        if found:
            faults.append(cell.fault("the key of one of them: " + ", ".join(found)))
            return None
        faults.append(self._unknown_part(row))
        return None

    def _unknown_part(self, row: RawRow) -> Fault:
        cell = row.at("part")
        listed = {folded(part.key) for part in self.design.parts}
        listed |= {folded(part.name) for part in self.design.parts}
        if folded(cell.text) in listed:
            expected = "a part on which something is looked at or measured"
            return cell.fault(expected, "Nothing is asked of this part: leave the row out.")
        known = [*self.by_part, *(found[0].part_name for found in self.by_part.values())]
        near = nearest(cell.text, known)
        expected = f"a part of the design {self.design.key}"
        return cell.fault(expected, near or "Parts: " + ", ".join(self.by_part) + ".")

    def _feature(self, row: RawRow, part: str, faults: list[Fault]) -> str | None:
        cell = row.at("feature")
        wanted = folded(cell.text)
        known: dict[str, str] = {}
        for point in self.by_part[part]:
            key = point.feature.partition(".")[2]
            for name in (point.name, key, point.feature):
                known[folded(name)] = point.feature
        if wanted in known:
            return known[wanted]
        keys = dict.fromkeys(point.feature.partition(".")[2] for point in self.by_part[part])
        expected = f"a feature of {part}: " + ", ".join(keys)
        faults.append(cell.fault(expected, nearest(cell.text, (*keys, *known))))
        return None

    def _place(self, row: RawRow, part: str, feature: str, faults: list[Fault]) -> Point | None:
        found = [point for point in self.by_part[part] if point.feature == feature]
        cell = row.at("place")
        wanted = cell.text.casefold()
        if not wanted and len(found) == 1:
            return found[0]
        for point in found:
            if point.place.casefold() == wanted:
                return point
        further = self._further(part, wanted, found)
        if further is not None:
            return further
        places = [point.place or "(empty)" for point in found]
        faults.append(cell.fault("one of: " + ", ".join(places), nearest(cell.text, places)))
        return None

    def _further(self, part: str, wanted: str, found: Iterable[Point]) -> Point | None:
        """A point at a further place of the same name: section 4 where 1 to 3 are asked."""
        pieces = items(self.design.part(part))
        for point in found:
            if not point.measured or not same_pattern(wanted, point.place.casefold()):
                continue
            numbers = [int(number) for number in re.findall(r"\d+", wanted)[:9] if len(number) < 6]
            if not all(1 <= number <= _MOST_PLACES for number in numbers):
                return None
            if len(pieces) > 1 and str(numbers[0]) not in pieces:
                return None
            place = _renumbered(point.place, numbers)
            same = next((other for other in found if other.place == place), None)
            return same or attrs.evolve(point, place=place)
        return None


def _renumbered(place: str, numbers: Iterable[int]) -> str:
    """`place` with these numbers in it.

    >>> _renumbered("section 1 along", [4])
    'section 4 along'
    """
    fresh = iter(numbers)
    return re.sub(r"\d+", lambda _: str(next(fresh)), place)
