"""People and gauges that a sheet names, looked up in the shop file."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from hoistwright.faults import Fault
from hoistwright.sheet.columns import folded, nearest
from hoistwright.sheet.raw import Cell

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop

_EXAMINES = {"technician", "competent person"}


def person_key(cell: Cell, shop: Shop | None, faults: list[Fault]) -> str:
    """The key of the person whose key or name stands in `cell`; as it stands without a shop."""
    if shop is None or not cell.text:
        return cell.text
    people = [(person.key, person.name) for person in shop.people]
    key = _key_of(cell, people, "person", faults)
    person = shop.person(key)
    if person is not None and not _EXAMINES & set(person.roles):
        roles = ", ".join(person.roles) or "no role"
        faults.append(
            cell.fault(
                "a technician or competent person of the shop file",
                read=f"{cell.read}, whose role is {roles}",
            )
        )
    return key


def gauge_key(cell: Cell, shop: Shop | None, faults: list[Fault]) -> str:
    """The key of the gauge whose key or name stands in `cell`; as it stands without a shop."""
    if shop is None or not cell.text:
        return cell.text
    gauges = [(gauge.key, gauge.name) for gauge in shop.gauges]
    return _key_of(cell, gauges, "gauge", faults)


def _key_of(cell: Cell, entries: Iterable[tuple[str, str]], what: str, faults: list[Fault]) -> str:
    entries = list(entries)
    wanted = folded(cell.text)
    found = {key for key, _ in entries if folded(key) == wanted}
    found = found or {key for key, name in entries if folded(name) == wanted}
    if len(found) == 1:
        return found.pop()
    keys = [key for key, _ in entries]
    expected = f"a {what} of the shop file: " + (", ".join(sorted(keys)) or "it names none")
    near = nearest(cell.text, [name for entry in entries for name in entry])
    faults.append(cell.fault(expected, near or f"Or enter the {what} in the shop file first."))
    return cell.text
