"""The wear ruler as one line of characters, for terminals."""

from __future__ import annotations

from hoistwright.examine.ruler import Ruler


def ruler_text(ruler: Ruler, width: int = 33, *, ascii_only: bool = False) -> str:
    """Draw a ruler in `width` characters.

    `|` as new, `╫` the limit, `░` the guard band before it, `━` reading -+ U, `◆` the reading
    (`?` where it is not established), `·` earlier readings.

    >>> from hoistwright.metrology import Outcome
    >>> ruler_text(Ruler(outcome=Outcome.FIT, new=0.0, value=0.5, low=0.45, high=0.55,
    ...                  acceptance=0.6), 21)
    '|────────━◆━░░░╫─────'
    """
    signs = _ASCII if ascii_only else _SIGNS
    cells = [signs["line"]] * width
    if ruler.acceptance is not None:
        _fill(cells, ruler.acceptance, ruler.limit, signs["guard"])
    for ghost in ruler.ghosts:
        cells[_cell(ghost, width)] = signs["ghost"]
    if ruler.new is not None:
        cells[_cell(ruler.new, width)] = signs["new"]
    if ruler.low is not None and ruler.high is not None:
        _fill(cells, ruler.low, ruler.high, signs["band"])
    cells[_cell(ruler.limit, width)] = signs["limit"]
    if ruler.value is None:
        cells[width // 3] = "?"
    else:
        cells[_cell(ruler.value, width)] = _mark(ruler, signs)
    return "".join(cells)


_SIGNS = {
    "line": "─",
    "guard": "░",
    "ghost": "·",
    "new": "|",
    "band": "━",
    "limit": "╫",
    "value": "◆",
}
_ASCII = {
    "line": "-",
    "guard": ":",
    "ghost": ".",
    "new": "|",
    "band": "=",
    "limit": "#",
    "value": "o",
}


def _mark(ruler: Ruler, signs: dict[str, str]) -> str:
    if ruler.beyond_right:
        return ">"
    return "<" if ruler.beyond_left else signs["value"]


def _cell(place: float, width: int) -> int:
    return min(width - 1, max(0, round(place * (width - 1))))


def _fill(cells: list[str], start: float, end: float, sign: str) -> None:
    width = len(cells)
    for cell in range(_cell(start, width), _cell(end, width) + 1):
        cells[cell] = sign
