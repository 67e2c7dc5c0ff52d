"""The pictures say what their values say; the load adds up."""

from __future__ import annotations

import datetime
import math
from xml.etree import ElementTree

import attrs
import pytest

from hoistwright.fleet.csv_text import csv_text
from hoistwright.fleet.due import all_due, due_of
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.load import load_ahead
from hoistwright.fleet.load_picture import Bar, load_svg
from hoistwright.fleet.plot import history_svg
from hoistwright.fleet.plot_values import PlotTexts, PlotValues, plot_values
from hoistwright.fleet.words import chance_words

TODAY = datetime.date(2026, 11, 25)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def values(whole: Fleet) -> PlotValues:
    """Of a chain that was renewed and read since."""
    for hoist, outlooks in sorted(whole.outlooks.items()):
        for outlook in outlooks:
            history = outlook.history
            last = history.readings[-1].day if history.readings else TODAY
            if outlook.part == "load_chain" and any(day < last for day, _ in history.renewals):
                due = due_of(whole, hoist)
                assert due is not None
                return plot_values(outlook, factor=1000, next_visit=due.day, today=TODAY)
    raise AssertionError("the scene has no renewed chain")


def test_a_plot_holds_every_reading_renewal_and_the_limit(values: PlotValues) -> None:
    texts = PlotTexts(title="Chain <1>", told="said", limit="limit", renewed="renewed", unit="mm")
    root = ElementTree.fromstring(history_svg(values, texts, "a"))
    words = [element.text for element in root.iter(f"{SVG}text")]
    assert "limit" in words
    assert words.count("renewed") == len(values.renewals)
    assert root.findtext(f"{SVG}title") == "Chain <1>"
    diamonds = [p for p in root.iter(f"{SVG}path") if "l7 7l-7 7l-7 -7z" in p.attrib["d"]]
    assert len(diamonds) == len(values.readings)


def test_a_plot_keeps_inside_its_frame(values: PlotValues) -> None:
    root = ElementTree.fromstring(history_svg(values, PlotTexts(), "a"))
    wide, high = (float(x) for x in root.attrib["viewBox"].split()[2:])
    for element in root.iter(f"{SVG}text"):
        assert 0 <= float(element.attrib["x"]) <= wide
        assert 0 <= float(element.attrib["y"]) <= high


def test_a_plot_needs_no_colour(values: PlotValues) -> None:
    svg = history_svg(values, PlotTexts(), "a")
    root = ElementTree.fromstring(svg)
    inks = {e.attrib[k] for e in root.iter() for k in ("fill", "stroke") if k in e.attrib}
    assert inks <= {"none", "#000", "#fff", "url(#a-band)"}


def test_the_band_is_in_order_and_widens(values: PlotValues) -> None:
    assert all(a <= b <= c for a, b, c in zip(values.low, values.middle, values.high, strict=True))
    widths = [high - low for low, high in zip(values.low, values.high, strict=True)]
    assert widths[-1] > widths[0]


def test_the_same_values_give_the_same_picture(values: PlotValues) -> None:
    one = history_svg(values, PlotTexts(), "a")
    assert one == history_svg(values, PlotTexts(), "a")
    bare = attrs.evolve(values, days=(), middle=(), low=(), high=(), new=None, next_visit=None)
    ElementTree.fromstring(history_svg(bare, PlotTexts(), "a"))


@pytest.mark.parametrize("p", [0.0, 0.004, 0.02, 0.07, 0.2, 0.33, 0.5, 0.62, 0.8, 0.96])
def test_odds_say_the_chance_they_are_of(p: float) -> None:
    words = chance_words(p).split()
    if words[0] == "less":
        assert p < 1 / 500
    elif words[-2] == "in" and words[-1] == "10" and words[1] != "1":
        assert int(words[1]) / 10 == pytest.approx(p, abs=0.051)
    else:
        assert 1 / int(words[-1]) == pytest.approx(p, rel=0.25)


def test_the_load_counts_every_hoist_due_once(whole: Fleet) -> None:
    due = all_due(whole)
    load = load_ahead(whole, due, TODAY, 12, lambda design: 2 * 3600.0)
    counted = [i.hoist for week in load.weeks for i in week.hoists] + [
        i.hoist for i in load.overdue
    ]
    last = datetime.date(2026, 11, 23) + datetime.timedelta(weeks=12)
    assert sorted(counted) == sorted(item.hoist for item in due if item.day < last)
    hours = load.overdue_hours + math.fsum(week.hours for week in load.weeks)
    assert hours == pytest.approx(2 * len(counted))
    assert load.no_hours == 0


def test_pieces_wanted_are_chances_added_up(whole: Fleet) -> None:
    due = all_due(whole)
    load = load_ahead(whole, due, TODAY, 26, lambda design: 0.0)
    chain = next((item for item in load.wanted if item.part == "load_chain"), None)
    assert chain is not None
    most = sum(1 for item in due if item.day < TODAY + datetime.timedelta(weeks=27))
    assert 0 < chain.pieces <= most
    assert chain.hoists <= chain.pieces * 2  # each of them counts with at least one half


def test_bars_are_as_high_as_their_hours() -> None:
    bars = [Bar(name="a", hours=10, above="2"), Bar(name="b", hours=40, above="8", late=True)]
    root = ElementTree.fromstring(load_svg(bars, title="t", told="d", hours="h"))
    rects = [float(r.attrib["height"]) for r in root.iter(f"{SVG}rect")]
    assert rects[1] == pytest.approx(4 * rects[0], rel=0.01)


def test_csv_runs_nothing_in_a_spreadsheet() -> None:
    assert csv_text(["a"], [["=cmd()"], ["+1"], [-1.5]]).splitlines() == [
        "a",
        "'=cmd()",
        "'+1",
        "-1.5",
    ]
