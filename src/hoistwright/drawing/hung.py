"""What hangs on what: chains on their wheels, the top hook on the body, the bottom hook on the
chain. Both ends of such a tie get the same letter, since they stand apart on the page.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import attrs

from hoistwright.hoist.parts import Part


@attrs.frozen
class Tie:
    """One end of a tie: it leaves the piece `key` (empty: the end of the line) upwards or down."""

    name: str
    key: str
    up: bool


@attrs.frozen
class _Hung:
    line: str
    """The line that hangs."""
    up: bool
    """Whether it is tied at its upper end."""
    role: str = ""
    """Role of the part on the shaft that it hangs on; empty where it hangs on another line."""
    on: str = ""
    """The line that it hangs on, at its lower end."""


_HUNG = (
    _Hung("load chain", up=True, role="load_sheave"),
    _Hung("hand chain", up=True, role="hand_chain_wheel"),
    _Hung("top hook", up=False, role="side_plate"),
    _Hung("bottom hook", up=True, on="load chain"),
)


def ties_of(on_shaft: Sequence[Part], lines: Collection[str], shaft: str) -> dict[str, list[Tie]]:
    """For each line of the drawing, the ends of ties that leave it.

    Args:
        on_shaft: the parts drawn along the shaft.
        lines: the lines there are; only ties with both ends drawn are given.
        shaft: name of the shaft's line.
    """
    found: dict[str, list[Tie]] = {}
    for hung in _HUNG:
        host = next((part.key for part in on_shaft if hung.role and part.role == hung.role), "")
        other = shaft if host else hung.on
        if hung.line in lines and other in lines:
            found.setdefault(hung.line, []).append(Tie(hung.line, "", hung.up))
            found.setdefault(other, []).append(Tie(hung.line, host, not hung.up))
    return found
