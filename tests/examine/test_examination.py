"""What must hold of every examination: unknown is never fit, the worst wins, strays are refused."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.examine.findings import Plate
from hoistwright.examine.result import Examination, examine
from hoistwright.hoist.library import shipped_keys
from hoistwright.metrology import Outcome

Sound = Callable[..., Any]


def of(case: Any, entries: Any) -> Examination:
    return examine(case.design, case.bases, entries)


@pytest.mark.parametrize("key", shipped_keys())
def test_a_sound_hoist_is_fit_in_every_point(sound: Sound, key: str) -> None:
    case = sound(key)
    found = of(case, case.entries)
    bad = [v.title + ": " + v.why for v in found.verdicts if v.outcome is not Outcome.FIT]
    assert not bad
    assert found.outcome is Outcome.FIT
    assert {(v.part, v.feature) for v in found.verdicts} == {
        (p.part, p.feature) for p in case.points
    }


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_whatever_is_left_out_is_not_established_and_the_hoist_not_fit(
    sound: Sound, data: st.DataObject
) -> None:
    case = sound()
    measured = data.draw(st.booleans())
    pool = case.entries.readings if measured else case.entries.looks
    gone = data.draw(st.sampled_from([e for e in pool if e.place != "unworn"]))
    name = "readings" if measured else "looks"
    kept = tuple(entry for entry in pool if entry != gone)
    found = of(case, attrs.evolve(case.entries, **{name: kept}))
    touched = [
        v
        for v in found.verdicts
        if (v.part, v.feature) == (gone.part, gone.feature) and gone.place.startswith(v.place)
    ]
    assert touched
    assert all(v.outcome is Outcome.NOT_ESTABLISHED for v in touched if v.place == gone.place)
    assert found.outcome is not Outcome.FIT
    assert all(v.why and v.next_step for v in found.not_established)


def test_no_entries_at_all_is_not_established_throughout(sound: Sound) -> None:
    case = sound()
    empty = attrs.evolve(case.entries, readings=(), looks=())
    found = of(case, empty)
    assert {v.outcome for v in found.verdicts} == {Outcome.NOT_ESTABLISHED}
    assert found.outcome is Outcome.NOT_ESTABLISHED


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"due_on": datetime.date(2026, 10, 31)}, "due for calibration"),
        ({"calibrated_on": None, "due_on": None}, "calibration"),
        ({"calibrated_on": datetime.date(2026, 11, 3)}, "after its use"),
    ],
)
def test_a_gauge_that_is_not_in_date_establishes_nothing(
    sound: Sound, change: dict[str, Any], said: str
) -> None:
    case = sound()
    gauges = tuple(
        attrs.evolve(g, **change) if g.key == "length" else g for g in case.entries.gauges
    )
    found = of(case, attrs.evolve(case.entries, gauges=gauges))
    lengths = [v for v in found.verdicts if v.measured and v.dimension.value == "length"]
    assert lengths
    assert all(v.outcome is Outcome.NOT_ESTABLISHED and said in v.why for v in lengths)


def test_a_gauge_nobody_knows_establishes_nothing(sound: Sound) -> None:
    case = sound()
    found = of(case, attrs.evolve(case.entries, gauges=()))
    assert all(v.outcome is Outcome.NOT_ESTABLISHED for v in found.verdicts if v.measured)


def test_an_angle_gauge_cannot_establish_a_length(sound: Sound) -> None:
    case = sound()
    first = case.entries.readings[0]
    wrong = attrs.evolve(first, gauge="angle" if first.gauge == "length" else "length")
    readings = (wrong, *case.entries.readings[1:])
    found = of(case, attrs.evolve(case.entries, readings=readings))
    hit = [v for v in found.verdicts if (v.part, v.feature) == (first.part, first.feature)]
    assert any("does not measure" in v.why for v in hit)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_one_defect_makes_its_part_and_the_hoist_renew(sound: Sound, data: st.DataObject) -> None:
    case = sound()
    bad = data.draw(st.sampled_from(case.entries.looks))
    looks = tuple(
        attrs.evolve(look, answer="defect") if look == bad else look for look in case.entries.looks
    )
    found = of(case, attrs.evolve(case.entries, looks=looks))
    assert found.outcome is Outcome.RENEW
    assert found.parts[0].part == bad.part
    assert found.worst_first[0].outcome is Outcome.RENEW


def test_an_entry_for_a_part_the_design_has_not_is_refused(sound: Sound) -> None:
    case = sound()
    stray = attrs.evolve(case.entries.readings[0], part="flux_capacitor")
    with pytest.raises(ValueError, match="flux_capacitor"):
        of(case, attrs.evolve(case.entries, readings=(stray,)))


def test_the_same_entries_give_the_same_examination(sound: Sound) -> None:
    case = sound()
    assert of(case, case.entries) == of(case, case.entries)


def test_a_plate_that_contradicts_the_design_is_a_finding(sound: Sound) -> None:
    case = sound()
    found = examine(case.design, case.bases, case.entries, plate=Plate(rated_load=1000.0))
    assert found.outcome is Outcome.NOT_ESTABLISHED
    assert "1000 kg" in found.findings[0].sentence
    assert "2000 kg" in found.findings[0].sentence


def test_one_more_chain_section_is_judged_as_well(sound: Sound) -> None:
    case = sound()
    chain = next(r for r in case.entries.readings if r.place == "section 1")
    more = attrs.evolve(chain, place="section 7", values=(chain.values[0] * 1.04,))
    found = of(case, attrs.evolve(case.entries, readings=(*case.entries.readings, more)))
    at = [v for v in found.verdicts if v.place == "section 7"]
    assert at
    assert {v.outcome for v in at} == {Outcome.RENEW}
