"""The wrong-release table as a small picture: bars as SVG, told apart by pattern and words."""

from __future__ import annotations

from html import escape

from hoistwright.wear.wrong_release import RuleFigures, WrongRelease

WIDTH, ROW, LEFT, RIGHT, TOP = 760, 44, 340, 70, 64
_BAR = 13


def wrong_release_svg(found: WrongRelease) -> str:
    """Two bars for each rule, without and with forecast.

    A dark bar is danger (share of parts called fit that are beyond the limit by the day of
    return), a hatched one the price (share of sound parts not called fit); beside the name
    the mean time until return as a share of the interval.

    Args:
        found: the table.

    Returns:
        A whole SVG document as text, with a title and description.

    References:
        presentation only; no outside source.
    """
    high = len(found.rows) * ROW + TOP + 16
    most = max(max(r.beyond_by_return, r.sound_renewed) for r in found.rows) or 1.0
    scale = (WIDTH - LEFT - RIGHT) / most
    bars = "".join(_row(row, TOP + at * ROW, scale) for at, row in enumerate(found.rows))
    told = "; ".join(_words(row) for row in found.rows)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {high}" role="img" '
        f'font-family="sans-serif" font-size="13">'
        f"<title>Wrong releases and their price, {found.examinations} simulated examinations"
        f"</title><desc>{escape(told)}</desc>"
        '<defs><pattern id="price" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><rect width="6" height="6" fill="#fff"/>'
        '<path d="M0 0V6" stroke="#444" stroke-width="3"/></pattern></defs>'
        f'<rect width="{WIDTH}" height="{high}" fill="#fff"/>{_key()}{bars}</svg>'
    )


def _key() -> str:
    return (
        f'<rect x="12" y="12" width="26" height="{_BAR}" fill="#111"/>'
        '<text x="46" y="23">called fit, but truly beyond the limit by the day of return</text>'
        f'<rect x="12" y="34" width="26" height="{_BAR}" fill="url(#price)" stroke="#444"/>'
        '<text x="46" y="45">truly below the limit, but not called fit</text>'
    )


def _row(row: RuleFigures, y: int, scale: float) -> str:
    back = f", back after {100 * row.mean_interval:.0f} %"
    name = row.rule + (f" + forecast{back}" if row.forecast else "")
    return (
        f'<text x="{LEFT - 10}" y="{y + 20}" text-anchor="end">{escape(name)}</text>'
        + _bar(row.beyond_by_return, y + 3, scale, "#111")
        + _bar(row.sound_renewed, y + 4 + _BAR, scale, "url(#price)")
    )


def _bar(share: float, y: int, scale: float, fill: str) -> str:
    width = share * scale
    return (
        f'<rect x="{LEFT}" y="{y}" width="{width:.1f}" height="{_BAR}" fill="{fill}" '
        f'stroke="#444"/><text x="{LEFT + width + 6:.1f}" y="{y + 11}" font-size="11">'
        f"{100 * share:.2g} %</text>"
    )


def _words(row: RuleFigures) -> str:
    ahead = "with forecast" if row.forecast else "without forecast"
    return (
        f"{row.rule} {ahead}: {100 * row.beyond_by_return:.2g} % of parts called fit are beyond "
        f"the limit by the day of return, {100 * row.sound_renewed:.2g} % of sound parts not "
        f"called fit, called back after {100 * row.mean_interval:.0f} % of the interval"
    )
