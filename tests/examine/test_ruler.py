"""The ruler must say what the verdict says: the picture is what people look at."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.examine.result import examine
from hoistwright.examine.ruler import LIMIT_AT, ruler
from hoistwright.examine.ruler_text import ruler_text
from hoistwright.metrology import Outcome

Sound = Callable[..., Any]


@settings(max_examples=150, deadline=None)
@given(factor=st.floats(0.85, 1.06))
def test_where_the_reading_stands_is_what_the_verdict_says(sound: Sound, factor: float) -> None:
    case = sound()
    chain = next(r for r in case.entries.readings if r.place == "section 1")
    value = chain.values[0] * factor
    found = examine(case.design, case.bases, case.with_value(chain.feature, "section 1", value))
    for verdict in found.verdicts:
        drawn = ruler(verdict)
        if drawn is None or drawn.value is None or drawn.acceptance is None:
            continue
        if verdict.outcome is Outcome.FIT:
            assert drawn.value <= drawn.acceptance + 1e-9
        if verdict.outcome is Outcome.RENEW:
            assert drawn.value >= LIMIT_AT - 1e-9
        if verdict.outcome is Outcome.BORDERLINE:
            assert drawn.acceptance - 1e-9 <= drawn.value < LIMIT_AT
        assert drawn.low is not None
        assert drawn.high is not None
        assert drawn.low <= drawn.value <= drawn.high


def test_as_new_is_left_of_the_limit_on_every_ruler(sound: Sound) -> None:
    case = sound()
    rulers = [ruler(v) for v in examine(case.design, case.bases, case.entries).verdicts]
    drawn = [r for r in rulers if r is not None]
    assert drawn
    assert all(r.limit == LIMIT_AT for r in drawn)
    assert all(r.new is None or r.new < r.limit for r in drawn)
    assert all(r.value is not None and r.value < r.limit for r in drawn)


def test_a_look_has_no_ruler_and_a_missing_reading_an_empty_one(sound: Sound) -> None:
    case = sound()
    import attrs

    found = examine(case.design, case.bases, attrs.evolve(case.entries, readings=()))
    for verdict in found.verdicts:
        drawn = ruler(verdict)
        assert (drawn is None) == (not verdict.measured)
        if drawn is not None:
            assert "?" in ruler_text(drawn)


@pytest.mark.parametrize("width", [11, 27, 60])
def test_the_terminal_ruler_keeps_its_width(sound: Sound, width: int) -> None:
    case = sound()
    for verdict in examine(case.design, case.bases, case.entries).verdicts:
        drawn = ruler(verdict)
        if drawn is not None:
            assert len(ruler_text(drawn, width)) == width
            assert ruler_text(drawn, width, ascii_only=True).isascii()
