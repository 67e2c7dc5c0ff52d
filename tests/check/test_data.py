"""The check's own tables: every range sourced, every thread and class as in its standard."""

from __future__ import annotations

import pytest

from hoistwright.check.practice import ranges
from hoistwright.check.threads import proof_stress, table, thread_size


def test_every_range_has_a_bound_in_order_and_a_source() -> None:
    for item in ranges().values():
        assert item.source
        low, high = item.least.value, item.most.value
        assert low is not None or high is not None
        assert low is None or high is None or low < high, item.key


def test_practice_is_called_practice() -> None:
    for item in ranges().values():
        assert (item.known == "practice") == ("practice" in item.source), item.key


# ISO 261, coarse series, first choice, from memory; typed a second time on purpose.
COARSE = {"M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0, "M20": 2.5}
COARSE |= {"M24": 3.0, "M30": 3.5, "M36": 4.0, "M42": 4.5, "M48": 5.0}


@pytest.mark.parametrize(("name", "pitch"), COARSE.items())
def test_coarse_pitches(name: str, pitch: float) -> None:
    diameter, found = thread_size(name, "thread")
    assert found.value == pytest.approx(pitch * 1e-3)
    assert diameter.value == pytest.approx(float(name[1:]) * 1e-3)


def test_the_thread_table_keeps_its_shape() -> None:
    assert len(table().pitch) == 23
    assert sum(table().pitch.values()) == pytest.approx(70e-3)
    assert sum(table().proof.values()) == pytest.approx(2985e6)


def test_a_fine_thread_states_its_pitch() -> None:
    diameter, pitch = thread_size("M12 x 1.25", "thread")
    assert diameter.value == pytest.approx(0.012)
    assert pitch.value == pytest.approx(0.00125)


@pytest.mark.parametrize("name", ["W 1/2", "M13", "M", "", "M12 x"])
def test_what_is_no_metric_thread_is_refused_with_an_example(name: str) -> None:
    _, pitch = thread_size(name, "hooks[top_hook].shank_thread")
    assert pitch.value is None
    assert "M12 x 1.25" in pitch.refused


def test_an_unknown_property_class_names_the_known_ones() -> None:
    assert "8.8" in proof_stress("9.9", "key").refused
