"""Wear or overstrain: the two must be told apart, and the sum must stay the whole.

The test builds chains link by link (each of the n - 1 joints between the gauge's jaws gives
way by the wear of both its crowns; stretch lengthens every link) and asks for the parts back.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.examine.chain_split import SplitKind, split
from hoistwright.examine.result import Examination, examine
from hoistwright.metrology import Outcome

Sound = Callable[..., Any]


def chain(case: Any, *, wear: float, stretch: float) -> Examination:
    """The sound hoist with a chain worn by `wear` (m, one crown) and stretched (a ratio)."""
    pitch = case.design.load_chain.pitch
    wire = case.design.load_chain.wire
    readings = []
    for reading in case.entries.readings:
        new = reading
        if reading.feature == "load_chain.gauge_length" and reading.place != "unworn":
            longer = (reading.links - 1) * 2.0 * wear + reading.links * pitch * stretch
            new = attrs.evolve(reading, values=(reading.values[0] + longer,))
        if reading.feature == "load_chain.crown_diameter" and reading.place.endswith("along"):
            new = attrs.evolve(reading, values=(wire - wear,))
        readings.append(new)
    return examine(case.design, case.bases, attrs.evolve(case.entries, readings=tuple(readings)))


def test_a_worn_chain_and_an_overstrained_chain_of_the_same_length_differ(sound: Sound) -> None:
    case = sound()
    pitch = case.design.load_chain.pitch
    links = next(r.links for r in case.entries.readings if r.place == "section 1")
    worn = chain(case, wear=0.03 * pitch / 2.0, stretch=0.0)
    stretched = chain(case, wear=0.0, stretch=0.03 * (links - 1) / links)
    assert {item.kind for item in worn.splits} == {SplitKind.WORN}
    assert {item.kind for item in stretched.splits} == {SplitKind.OVERSTRAINED}
    assert worn.splits[0].elongation == pytest.approx(stretched.splits[0].elongation, abs=1e-12)
    assert worn.splits[0].sentence != stretched.splits[0].sentence
    assert any("overstrained" in finding.title for finding in stretched.findings)
    assert not any("overstrained" in finding.title for finding in worn.findings)
    assert {e.outcome for e in (worn, stretched)} == {Outcome.RENEW}


def test_stretch_below_the_limit_still_asks_a_competent_person(sound: Sound) -> None:
    """1.2 % passes every elongation limit of 2 % or more, yet an unworn chain has no business
    being longer: it has yielded."""
    found = chain(sound(), wear=0.0, stretch=0.012)
    lengths = [v for v in found.verdicts if v.feature == "load_chain.gauge_length"]
    assert {v.outcome for v in lengths} == {Outcome.FIT}
    assert found.outcome is Outcome.NOT_ESTABLISHED


def test_without_a_crown_reading_nothing_is_claimed(sound: Sound) -> None:
    case = sound()
    readings = tuple(r for r in case.entries.readings if not r.place.endswith("along"))
    found = examine(case.design, case.bases, attrs.evolve(case.entries, readings=readings))
    assert {item.kind for item in found.splits} == {SplitKind.NOT_ESTABLISHED}


@settings(max_examples=200, deadline=None)
@given(
    wear=st.floats(0.0, 2e-3),
    stretch=st.floats(0.0, 0.1),
    pitch=st.floats(9e-3, 60e-3),
    u=st.floats(1e-7, 1e-3),
    u_wear=st.floats(1e-8, 1e-4),
    links=st.integers(2, 40),
)
def test_the_split_gives_back_what_the_chain_was_made_of(
    wear: float, stretch: float, pitch: float, u: float, u_wear: float, links: int
) -> None:
    grown = sum(2.0 * wear for _ in range(links - 1)) + sum(pitch * stretch for _ in range(links))
    elongation = grown / (links * pitch)
    eps_wear, u_w, eps_stretch, u_s = split(elongation, u, wear, u_wear, pitch, links)
    assert eps_wear + eps_stretch == pytest.approx(elongation, abs=1e-15)
    assert eps_stretch == pytest.approx(stretch, abs=1e-12)
    assert u_s >= max(u, u_w)


def test_a_pitch_of_nought_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        split(0.01, 0.0, 0.0, 0.0, 0.0, 11)
