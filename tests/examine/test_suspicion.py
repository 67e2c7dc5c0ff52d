"""What cannot be so must not pass as fit: it is asked back as not established."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import pytest

from hoistwright.basis.model import DecisionRule
from hoistwright.examine.chain_split import SplitKind
from hoistwright.examine.compare import BETTER
from hoistwright.examine.findings import Plate
from hoistwright.examine.result import examine
from hoistwright.metrology import Outcome

Sound = Callable[..., Any]


@pytest.mark.parametrize(
    ("feature", "place", "value"),
    [
        ("load_chain.gauge_length", "section 1", 0.3059),  # a link fewer than stated
        ("hook.throat", "", 0.060),  # 72 mm as new: it cannot close
        ("friction_disc.thickness", "", 0.0065),  # 4 mm as new: another part
    ],
)
def test_better_than_as_new_is_not_fit(
    sound: Sound, feature: str, place: str, value: float
) -> None:
    case = sound()
    found = examine(case.design, case.bases, case.with_value(feature, place, value))
    hit = [v for v in found.verdicts if v.feature == feature and v.place == place]
    assert hit
    assert {v.outcome for v in hit} == {Outcome.NOT_ESTABLISHED}
    assert all(BETTER in v.why for v in hit)


def test_a_lengthened_section_without_a_crown_reading_is_a_finding(sound: Sound) -> None:
    case = sound()
    first = next(r for r in case.entries.readings if r.place == "section 1")
    more = attrs.evolve(first, place="section 4", values=(first.values[0] * 1.02,))
    readings = (*case.entries.readings, more)
    found = examine(case.design, case.bases, attrs.evolve(case.entries, readings=readings))
    assert found.outcome is Outcome.NOT_ESTABLISHED
    assert any("section 4" in f.sentence for f in found.findings)


def test_sections_over_other_numbers_of_links_are_not_split(sound: Sound) -> None:
    case = sound()
    readings = tuple(
        attrs.evolve(r, links=r.links - 2) if r.place == "section 1" and r.links else r
        for r in case.entries.readings
    )
    found = examine(case.design, case.bases, attrs.evolve(case.entries, readings=readings))
    assert "section 1" not in {item.place for item in found.splits}
    assert found.outcome is Outcome.NOT_ESTABLISHED


def test_a_little_lengthening_is_said_to_be_lengthening(sound: Sound) -> None:
    case = sound()
    first = next(r for r in case.entries.readings if r.place == "section 1")
    entries = case.with_value(first.feature, "section 1", first.values[0] * 1.004)
    item = next(
        s for s in examine(case.design, case.bases, entries).splits if s.place == "section 1"
    )
    assert item.kind is SplitKind.UNRESOLVED
    assert "longer than as new" in item.sentence


@pytest.mark.parametrize(
    ("plate", "said"),
    [
        (Plate(maker="Borle", model="2000", rated_load=2000.0), "Borle"),
        (Plate(maker="Ardle", model="3000", rated_load=2000.0), "3000"),
        (Plate(maker="Ardle", model="2000"), "not entered"),
    ],
)
def test_a_plate_that_does_not_belong_is_a_finding(sound: Sound, plate: Plate, said: str) -> None:
    case = sound()
    found = examine(case.design, case.bases, case.entries, plate=plate)
    assert found.outcome is Outcome.NOT_ESTABLISHED
    assert said in found.findings[0].sentence


def test_the_order_of_bases_changes_no_verdict_and_simple_acceptance_cannot_release(
    sound: Sound,
) -> None:
    case = sound()
    easy = attrs.evolve(
        case.bases[0],
        head=attrs.evolve(case.bases[0].head, key="e", rule=DecisionRule(kind="simple")),
    )
    one = examine(case.design, (easy, *case.bases), case.entries)
    two = examine(case.design, (*case.bases, easy), case.entries)
    makers = [
        [v.outcome for v in found.verdicts if v.ruling and v.ruling.stands.by == "maker"]
        for found in (one, two)
    ]
    assert makers[0] == makers[1]
    assert one.rule == two.rule
    assert one.rule.can_release


def test_a_brake_part_at_its_limit_forbids_any_load(sound: Sound) -> None:
    case = sound()
    entries = case.with_value("friction_disc.thickness", "", 0.0025, part="friction_disc_outer")
    found = examine(case.design, case.bases, entries)
    assert any("Do not put any load" in f.next_step for f in found.findings)


@pytest.mark.parametrize("key", ["ardle-l750", "ardle-l3000"])
def test_a_changeover_wheel_with_a_bad_brake_thread_forbids_any_load(
    sound: Sound, key: str
) -> None:
    """It is the nut of the brake thread and presses the discs (common practice)."""
    case = sound(key)
    wheel = "changeover_wheel.condition"
    looks = tuple(
        attrs.evolve(look, answer="defect") if look.feature == wheel else look
        for look in case.entries.looks
    )
    found = examine(case.design, case.bases, attrs.evolve(case.entries, looks=looks))
    renewed = {v.feature for v in found.verdicts if v.outcome is Outcome.RENEW}
    assert renewed == {wheel}
    assert any("Do not put any load" in f.next_step for f in found.findings)
