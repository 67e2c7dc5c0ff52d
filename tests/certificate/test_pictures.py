"""Wear rulers and split pictures: shapes that carry the meaning, at the right places."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.certificate.ruler_svg import HEIGHT, WIDTH, ruler_svg
from hoistwright.certificate.split_svg import split_scale, split_svg
from hoistwright.certificate.svg import hatch
from hoistwright.examine.chain_split import ChainSplit, SplitKind
from hoistwright.examine.ruler import Ruler
from hoistwright.metrology import Outcome

places = st.floats(0.0, 1.0)


def numbers(svg: str) -> list[float]:
    inside = re.findall(r' d="([^"]*)"', svg)
    return [float(n) for path in inside for n in re.findall(r"-?\d+\.?\d*", path)]


@given(places, places, places, places, st.lists(places, max_size=3))
def test_every_ruler_is_sound_xml_inside_its_box(
    new: float, value: float, low: float, high: float, ghosts: list[float]
) -> None:
    ruler = Ruler(
        outcome=Outcome.FIT, new=new, value=value, low=low, high=high, acceptance=0.6,
        ghosts=tuple(ghosts),
    )  # fmt: skip
    svg = ruler_svg(ruler)
    root = ET.fromstring(svg)
    assert len(root.findall("{*}circle")) == len(ghosts)
    assert all(-0.01 <= n <= max(WIDTH, HEIGHT) + 0.01 for n in numbers(svg))
    assert svg == ruler_svg(ruler)


def test_the_limit_is_a_double_line_at_its_place() -> None:
    svg = ruler_svg(Ruler(outcome=Outcome.FIT, limit=0.75))
    limit = 8.0 + 0.75 * (WIDTH - 16.0)
    for x in (limit - 1.4, limit + 1.4):
        assert f'd="M{x:.2f}'.rstrip("0").rstrip(".") in svg


def test_not_established_shows_a_question_mark_and_no_diamond() -> None:
    unknown = ruler_svg(Ruler(outcome=Outcome.NOT_ESTABLISHED))
    known = ruler_svg(Ruler(outcome=Outcome.FIT, value=0.3, low=0.2, high=0.4))
    assert "C" in unknown and "C" not in known


def test_a_reading_off_the_ruler_is_an_arrow_outwards() -> None:
    def tip(ruler: Ruler) -> tuple[float, float]:
        head = re.findall(r'<path d="M([^"]*)Z" fill="#1a1a1a" stroke="#fff"', ruler_svg(ruler))[0]
        xs = [float(point.split()[0]) for point in head.split("L")]
        assert len(xs) == 3, "an arrow head has three corners, a diamond four"
        return xs[0], xs[1]

    right = tip(Ruler(outcome=Outcome.RENEW, value=1.0, low=1.0, high=1.0, beyond_right=True))
    left = tip(Ruler(outcome=Outcome.FIT, value=0.0, low=0.0, high=0.0, beyond_left=True))
    assert right[0] > right[1]
    assert left[0] < left[1]


def test_only_black_white_and_grey() -> None:
    svg = ruler_svg(
        Ruler(outcome=Outcome.FIT, value=0.3, low=0.2, high=0.4, acceptance=0.6, new=0.1,
              ghosts=(0.2,))
    )  # fmt: skip
    for colour in re.findall(r"#([0-9a-f]+)", svg):
        wide = colour if len(colour) == 6 else "".join(c * 2 for c in colour)
        assert wide[:2] == wide[2:4] == wide[4:]


@given(st.floats(0.5, 50), st.floats(0.5, 50), st.floats(1, 9))
def test_hatching_stays_in_its_box(width: float, height: float, step: float) -> None:
    found = numbers(hatch(10.0, 20.0, width, height, step=step))
    assert all(9.99 <= x <= 10.01 + width for x in found[0::2])
    assert all(19.99 <= y <= 20.01 + height for y in found[1::2])


def split(elongation: float, wear: float) -> ChainSplit:
    return ChainSplit(
        part="load_chain", place="section 1", elongation=elongation,
        elongation_uncertainty=0.0003, wear=wear, wear_uncertainty=0.0005,
        stretch=elongation - wear, stretch_uncertainty=0.0006, kind=SplitKind.BOTH, sentence="",
    )  # fmt: skip


@given(st.floats(-0.02, 0.08), st.floats(-0.02, 0.08))
def test_shares_end_where_the_lengthening_ends(elongation: float, wear: float) -> None:
    """Wear and stretch together are the lengthening: the bars end on one line."""
    item = split(elongation, wear)
    svg = split_svg(item, split_scale([item, split(0.08, 0.0)]))
    boxes = re.findall(r'<path d="M([^"]*)Z" fill="([^"]*)"', svg)
    ends = [[float(p.split()[0]) for p in corners.split("L")] for corners, _ in boxes]
    zero = float(svg.rpartition('<path d="M')[2].split()[0])
    whole = [x for x in ends[0] if abs(x - zero) > 0.02] or [zero]
    assert min(abs(x - whole[0]) for x in ends[2]) < 0.03


def test_a_split_that_is_not_established_draws_no_shares() -> None:
    nan = float("nan")
    item = ChainSplit(
        part="load_chain", place="", elongation=0.01, elongation_uncertainty=0.001, wear=nan,
        wear_uncertainty=nan, stretch=nan, stretch_uncertainty=nan,
        kind=SplitKind.NOT_ESTABLISHED, sentence="",
    )  # fmt: skip
    svg = split_svg(item, split_scale([item]))
    assert svg.count("Z") == 1
    assert "nan" not in svg


def test_all_sections_share_one_scale() -> None:
    """The longest with its whisker (k = 2) reaches the right end and no further."""
    assert split_scale([split(0.02, 0.01), split(0.03, 0.01)]) == pytest.approx(0.0306)
