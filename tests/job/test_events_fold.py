"""The fold: what stands, what stood, who did not know of whom."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_helpers import NOON, booking, draft, look, reading

from hoistwright.job.entry import Draft, EntryError, Event, seal
from hoistwright.job.events import (
    Body,
    Corrected,
    GivenTo,
    HoldPointSigned,
    PartChosen,
    ReadingEntered,
    Remarked,
    StageFinished,
    StageReopened,
    StepTicked,
)
from hoistwright.job.fold import fold, further
from hoistwright.job.state import LEFT, STAGES, JobState

PITCH = ("load_chain", "load_chain.link_pitch", "section 1")


def chain(drafts: Sequence[Draft]) -> list[Event]:
    events: list[Event] = []
    state = JobState(job="KQ-1")
    for one in drafts:
        event = seal(one, job="KQ-1", seq=state.seq + 1, at=NOON, before=state.hash)
        state = further(state, [event])
        events.append(event)
    return events


def folded(*drafts: Draft) -> JobState:
    return fold("KQ-1", chain(drafts))


def value(state: JobState) -> float | None:
    entry = state.readings.get(PITCH)
    body = entry.body if entry else None
    return body.values[0] if isinstance(body, ReadingEntered) else None


def corrected(one: Draft, to: Body | None, by: str = "odile", seen: int | None = None) -> Draft:
    return draft(Corrected(corrects=one.id, replacement=to), by=by, seen=seen)


def test_the_later_reading_stands_and_the_earlier_is_kept() -> None:
    state = folded(draft(reading(value=0.0240)), draft(reading(value=0.0241)))
    assert value(state) == 0.0241
    kept = [entry.body for entry in state.history(("reading", *PITCH))]
    assert kept == [reading(value=0.0240), reading(value=0.0241)]


def test_a_correction_stands_in_place_of_what_it_corrects() -> None:
    one, two = draft(reading(value=0.0240)), draft(reading(value=0.0241))
    assert value(folded(one, corrected(one, reading(value=0.0245)))) == 0.0245
    assert value(folded(one, two, corrected(one, reading(value=0.0245)))) == 0.0241


def test_a_withdrawn_reading_lets_the_earlier_stand_again() -> None:
    """Undo is a correction."""
    one, two = draft(reading(value=0.0240)), draft(reading(value=0.0241))
    assert value(folded(one, two, corrected(two, None))) == 0.0240
    assert value(folded(one, corrected(one, None))) is None


def test_a_correction_may_be_corrected() -> None:
    one = draft(reading(value=0.0240))
    undo = corrected(one, None)
    assert value(folded(one, undo, corrected(undo, reading(value=0.0246)))) == 0.0246


def test_a_correction_may_move_a_reading_to_its_right_place() -> None:
    one = draft(reading("section 1", 0.0240))
    state = folded(one, corrected(one, reading("section 2", 0.0240)))
    assert list(state.readings) == [("load_chain", "load_chain.link_pitch", "section 2")]
    assert len(state.history(("reading", *PITCH))) == 1


def test_a_correction_of_another_kind_or_of_nothing_changes_nothing() -> None:
    one = draft(reading(value=0.0240))
    state = folded(one, corrected(one, look()), draft(Corrected(corrects="not-there-1")))
    assert value(state) == 0.0240
    assert len(state.lost) == 2


@pytest.mark.parametrize("drop", [0, 1, 2])
def test_a_missing_entry_is_not_passed_over(drop: int) -> None:
    events = chain([draft(reading(f"section {n}")) for n in range(4)])
    with pytest.raises(EntryError, match=f"entry {drop + 1}: it is missing"):
        fold("KQ-1", events[:drop] + events[drop + 1 :])


def test_an_entry_of_another_job_or_chain_is_refused() -> None:
    events, others = chain([draft(reading())]), chain([draft(look()), draft(look())])
    with pytest.raises(EntryError, match="belongs to job KQ-1"):
        fold("KQ-2", events)
    with pytest.raises(EntryError, match="does not follow"):
        fold("KQ-1", [*events, others[1]])


def test_stages_in_order_and_reopened() -> None:
    finished = [draft(StageFinished(stage=stage)) for stage in STAGES]
    stages = [folded(*finished[:count]).stage for count in range(len(STAGES) + 1)]
    assert stages == [*STAGES, LEFT]
    assert folded(*finished, draft(StageReopened(stage="examine"))).stage == "examine"
    assert folded(*finished, draft(StageReopened(stage="examine"))).finished == {"book in", "strip"}
    assert folded(*finished, corrected(finished[1], None)).stage == "strip"


def test_ticks_and_signatures() -> None:
    tick = draft(StepTicked(way="rebuild", step="cover"))
    sign = draft(HoldPointSigned(step="cover", text="Nut backed off half a turn."))
    untick = draft(StepTicked(way="rebuild", step="cover", done=False))
    assert set(folded(tick, sign).ticks("rebuild")) == {"cover"}
    assert set(folded(tick, sign).signatures) == {"cover"}
    assert folded(tick).ticks("strip") == {}
    undone = folded(tick, sign, untick)
    assert undone.ticks("rebuild") == {}
    assert undone.signatures == {}
    assert folded(tick, sign, corrected(tick, None)).signatures == {}
    assert folded(tick, sign, untick, attrs.evolve(tick, id="again-0001")).signatures == {}
    again = folded(tick, sign, untick, attrs.evolve(tick, id="again-0001"),
                   attrs.evolve(sign, id="again-0002"))  # fmt: skip
    assert set(again.signatures) == {"cover"}


def test_choices_remarks_and_who_has_it() -> None:
    state = folded(
        draft(booking()),
        draft(PartChosen(part="pawl")),
        draft(PartChosen(part="load_chain")),
        draft(PartChosen(part="pawl", renew=False, reason="as new")),
        draft(GivenTo(person="wren"), by="counter"),
        draft(Remarked(text="Came without its hand chain.")),
    )
    assert state.renewed == ("load_chain",)
    assert state.holder == "wren"
    assert [entry.body for entry in state.remarks] == [
        Remarked(text="Came without its hand chain.")
    ]
    assert set(state.touched) == {"odile", "counter"}
    assert (state.design, state.bases) == ("ardle-2000", ("b30-hand-hoists",))


# two people


def test_two_who_did_not_know_of_each_other_are_a_conflict() -> None:
    state = folded(
        draft(reading(value=0.0240), by="odile", seen=0),
        draft(reading(value=0.0251), by="tomasz", seen=0),
    )
    assert value(state) == 0.0251
    assert [(c.earlier.by, c.later.by) for c in state.conflicts] == [("odile", "tomasz")]
    assert "without knowing of each other" in state.conflicts[0].sentence


@pytest.mark.parametrize(
    "second",
    [
        draft(reading(value=0.0251), by="tomasz", seen=1),  # knew
        draft(reading(value=0.0251), by="odile", seen=0),  # the same person
        draft(reading(value=0.0240), by="tomasz", seen=0),  # the same figure
        draft(reading("section 2", 0.0251), by="tomasz", seen=0),  # another place
    ],
)
def test_what_is_no_conflict(second: Draft) -> None:
    assert folded(draft(reading(value=0.0240), by="odile", seen=0), second).conflicts == ()


def test_a_conflict_ends_when_somebody_who_saw_both_speaks() -> None:
    one = draft(reading(value=0.0240), by="odile", seen=0)
    two = draft(reading(value=0.0251), by="tomasz", seen=0)
    assert folded(one, two, corrected(two, None, seen=2)).conflicts == ()
    assert folded(one, two, draft(reading(value=0.0251), by="wren", seen=2)).conflicts == ()
    blind = folded(one, two, draft(reading(value=0.0260), by="wren", seen=0))
    assert len(blind.conflicts) == 3


def test_two_corrections_of_one_entry_conflict_too() -> None:
    one = draft(reading(value=0.0240), seen=0)
    state = folded(
        one,
        corrected(one, reading(value=0.0241), by="odile", seen=1),
        corrected(one, reading(value=0.0242), by="tomasz", seen=1),
    )
    assert [c.later.by for c in state.conflicts] == ["tomasz"]


# what must always hold

places = st.sampled_from(["section 1", "section 2", "section 3"])
batch = st.lists(st.tuples(places, st.floats(0.02, 0.03)), max_size=6)


def _drafts(person: str, said: Sequence[tuple[str, float]]) -> list[Draft]:
    return [draft(reading(f"{place} {person}", number), by=person) for place, number in said]


@given(batch, batch, st.randoms())
def test_people_at_different_places_may_come_in_any_order(
    one: list[tuple[str, float]], two: list[tuple[str, float]], rng: object
) -> None:
    """Each one's own entries stay in order; how the two mix does not matter."""
    mine, yours = _drafts("odile", one), _drafts("tomasz", two)
    mixed = _mixed(mine, yours, rng)
    straight, other = folded(*mine, *yours), folded(*mixed)
    assert {k: e.body for k, e in straight.readings.items()} == {
        k: e.body for k, e in other.readings.items()
    }
    assert straight.conflicts == other.conflicts == ()


def _mixed(mine: list[Draft], yours: list[Draft], rng: object) -> list[Draft]:
    left, right = list(mine), list(yours)
    out: list[Draft] = []
    while left or right:
        pick = left if not right or (left and rng.random() < 0.5) else right  # type: ignore[attr-defined]
        out.append(pick.pop(0))
    return out


@given(batch, st.integers(0, 6))
def test_folding_in_two_parts_is_folding_at_once(said: list[tuple[str, float]], cut: int) -> None:
    drafts = _drafts("odile", said)
    drafts += [corrected(one, None) for one in itertools.islice(drafts, 2)]
    events = chain(drafts)
    assert further(fold("KQ-1", events[:cut]), events[cut:]) == fold("KQ-1", events)


@given(batch)
def test_nothing_is_ever_forgotten(said: list[tuple[str, float]]) -> None:
    drafts = _drafts("odile", said)
    drafts += [corrected(one, None) for one in list(drafts)]
    state = folded(*drafts)
    touches = [event.id for entry in state.entries.values() for event in entry.touches]
    assert sorted(touches) == sorted(one.id for one in drafts)
    assert state.readings == {}
