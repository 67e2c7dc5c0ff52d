"""Any job sheet that can be read is the same again when it is written as TOML and read."""

import datetime
import string
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hoistwright.examine.entries import LookAnswer, Reading
from hoistwright.examine.points import Point, points
from hoistwright.hoist.library import shipped
from hoistwright.job.job_sheet import Customer, HoistIdentity, JobSheet, Work
from hoistwright.quantity import Dimension
from hoistwright.sheet import sheet_toml
from hoistwright.sheet.check import check
from hoistwright.sheet.read_toml import raw_from_toml
from hoistwright.sheet.write_toml import exact_text

POINTS = points(shipped("ardle-2000"), ())
UNITS = {
    Dimension.LENGTH: ("mm", "in", "m", "µm"),
    Dimension.ANGLE: ("°", "rad"),
    Dimension.FORCE: ("N", "lbf"),
    Dimension.NUMBER: ("",),
}
LIMITS = {Dimension.LENGTH: 10.0, Dimension.ANGLE: 1.5, Dimension.FORCE: 1e5, Dimension.NUMBER: 1e5}

_letters = string.ascii_letters + string.digits + "éß漢\"'\\#=[]{};,.:/-+!° "
texts = st.text(_letters, max_size=30).map(lambda text: " ".join(text.split()))
days = st.dates(datetime.date(1990, 1, 1), datetime.date(2026, 11, 25))


@st.composite
def readings(draw: Any, point: Point) -> Reading:
    figure = st.floats(0, LIMITS[point.dimension], allow_subnormal=False)
    figure = figure.filter(lambda si: si == 0 or si > 1e-9)
    return Reading(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=tuple(draw(st.lists(figure, min_size=1, max_size=3))),
        unit=draw(st.sampled_from(UNITS[point.dimension])),
        gauge=draw(texts),
        links=draw(st.integers(3, 30)) if point.links is not None else None,
        remark=draw(texts),
        by=draw(texts),
    )


@st.composite
def looks(draw: Any, point: Point) -> LookAnswer:
    return LookAnswer(
        part=point.part,
        feature=point.feature,
        place=point.place,
        answer=draw(st.sampled_from(("in order", "defect", "not looked"))),
        remark=draw(texts),
        photo=draw(texts),
        by=draw(texts),
    )


@st.composite
def sheets(draw: Any) -> JobSheet:
    chosen = draw(st.lists(st.sampled_from(POINTS), unique_by=lambda p: p.address, max_size=6))
    examined = draw(days)
    earlier = st.none() | days.filter(lambda day: day <= examined)
    filled = texts.filter(bool)
    return JobSheet(
        job=draw(filled),
        design="ardle-2000",
        hoist=HoistIdentity(
            maker=draw(texts),
            model=draw(texts),
            serial=draw(texts),
            manufactured=draw(st.sampled_from(("", "1988", "illegible"))),
            rated_load=draw(st.none() | st.floats(1, 1e6)),
            tag=draw(texts),
        ),
        customer=Customer(name=draw(texts), address=draw(texts), premises=draw(texts)),
        work=Work(
            examined_on=examined,
            examined_by=draw(filled),
            bases=("b30-hand-hoists",),
            received_on=draw(earlier),
            last_examined_on=draw(earlier),
            complaint=draw(texts),
            service=draw(st.sampled_from(("normal", "heavy", "severe"))),
            remark=draw(texts),
        ),
        units=draw(st.sampled_from(("mm", "in"))),
        readings=tuple(draw(readings(point)) for point in chosen if point.measured),
        looks=tuple(draw(looks(point)) for point in chosen if not point.measured),
    )


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sheets())
def test_written_and_read_again_it_is_the_same(sheet: JobSheet) -> None:
    assert check(raw_from_toml(sheet_toml(sheet))) == sheet


@settings(deadline=None)
@given(st.floats(1e-6, 100.0), st.sampled_from(("mm", "in", "ft", "µm", "thou")))
def test_the_figure_is_never_longer_than_a_float_needs_by_much(si: float, unit: str) -> None:
    """17 significant digits tell every double apart; a conversion may cost a few more."""
    digits = [sign for sign in exact_text(si, Dimension.LENGTH, unit) if sign.isdigit()]
    assert len("".join(digits).strip("0")) <= 20
