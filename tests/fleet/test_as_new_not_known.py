"""Where nobody states what a part had as new, no share of its way is told, and no forecast is made
from a single reading: the reading itself says nothing about how fast it came there."""

from __future__ import annotations

import datetime

import attrs
from fleet_scene import known_on

from hoistwright.fleet.bundles import NOT_KNOWN, Asked, bundle_of
from hoistwright.fleet.histories import EPOCH, History, Mark, year_of
from hoistwright.fleet.risks import reason
from hoistwright.fleet.scales import scales
from hoistwright.hoist.library import shipped
from hoistwright.language import language
from hoistwright.wear.series import Series, Start, WearReading

TODAY = datetime.date(2026, 11, 25)
SPAN = ("layshaft_gear_left", "gear.span")


def history(hoist: str, *millimetres: float) -> History:
    """Spans of a gear, one each year, of a design that states its limit and nothing as new."""
    design = shipped("ardle-2000")
    limits = tuple(attrs.evolve(limit, as_new="") for limit in design.maker_limits)
    bare = attrs.evolve(design, maker_limits=limits)
    scale = scales(bare, tuple(known_on(TODAY).bases.values()), TODAY)[SPAN]
    assert not scale.known
    marks = [
        Mark(
            day=datetime.date(2024 + n, 3, 1), job=f"J{n}", share=scale.share(value / 1e3),
            u=0.02e-3 / abs(scale.span), place="",
        )
        for n, value in enumerate(millimetres)
    ]  # fmt: skip
    times = [year_of(mark.day) for mark in marks]
    return History(
        hoist=hoist,
        scale=scale,
        readings=tuple(marks),
        renewals=(),
        series=Series(
            hoist=hoist,
            group=("ardle-2000", "normal"),
            starts=(Start(time=times[0] - 0.003, value=None),),
            readings=tuple(
                WearReading(time=time, value=mark.share, uncertainty=mark.u)
                for time, mark in zip(times, marks, strict=True)
            ),
        ),
    )


def test_a_span_read_once_near_its_limit_is_no_forecast() -> None:
    """34.62 against 34.33 mm is a new gear (34.60 mm), not one 99 % of the way."""
    assert datetime.date(2000, 1, 1) == EPOCH
    often = [history(f"A{n}", 34.60, 34.59 - 0.002 * n, 34.58 - 0.003 * n) for n in range(8)]
    asked = [Asked(history=item, ahead=1.0) for item in (history("mine", 34.62), *often)]
    mine, *others = bundle_of(asked, 0.05, None).outlooks
    assert mine.prognosis is None
    assert mine.doubts == (NOT_KNOWN,)
    assert mine.chance == 0.0
    assert mine.wear_years == float("inf")
    for outlook in others:  # two and more readings: their differences bear a forecast
        assert outlook.prognosis is not None
        assert outlook.chance < 0.05  # 0.01 mm a year, 0.25 mm to go
        assert "% of the way" not in reason(outlook)
        assert "not known" in reason(outlook)
        assert language("fr").lacking(reason(outlook)) == ()
    assert language("fr").lacking(NOT_KNOWN) == ()
