"""What must hold of the shipped bases together."""

from __future__ import annotations

from collections import Counter

import pytest

from hoistwright.basis.feature_names import feature_names
from hoistwright.basis.loading import (
    SourceList,
    load_basis,
    shipped_bases,
    shipped_basis,
    shipped_folder,
)
from hoistwright.basis.model import Criterion
from hoistwright.datafile import load_file
from hoistwright.hoist.feature import catalogue, is_measured

ALL = {key: shipped_basis(key) for key in shipped_bases()}
CRITERIA = [(key, c) for key, basis in ALL.items() for c in basis.criteria]


def test_there_are_five() -> None:
    assert list(ALL) == [
        "b30-hand-hoists",
        "europe-round-link",
        "uk-loler",
        "us-federal",
        "workshop-practice",
    ]


def test_an_id_stands_once_in_all_bases() -> None:
    counts = Counter(c.id for _, c in CRITERIA)
    assert [name for name, count in counts.items() if count > 1] == []


@pytest.mark.parametrize("key", shipped_bases())
def test_a_file_is_named_after_its_criterion(key: str) -> None:
    names = {f.stem for f in (shipped_folder() / key).glob("*.toml")} - {"basis"}
    ids = {
        c.id.split("-", 1)[1].replace("-", "_") for c in load_basis(shipped_folder() / key).criteria
    }
    assert names == ids


def test_every_source_is_cited_and_stands_once() -> None:
    listed = [s.key for s in load_file(shipped_folder() / "SOURCES.toml", SourceList).source]
    assert len(listed) == len(set(listed))
    assert set(listed) == {s.key for basis in ALL.values() for s in basis.sources}


@pytest.mark.parametrize(("key", "criterion"), CRITERIA, ids=[c.id for _, c in CRITERIA])
def test_a_limit_says_what_is_not_certain(key: str, criterion: Criterion) -> None:
    """From memory, or only the year known: the note says so. What decides says what to do."""
    for limit in criterion.limit:
        if (limit.since.month, limit.since.day) == (1, 1) and limit.known != "practice":
            assert "year" in limit.note.lower()
        if limit.known == "memory":
            assert "memory" in f"{limit.note} {ALL[key].head.note}"
        assert (limit.known == "practice") is (limit.source == "practice")
    assert bool(criterion.action) is (criterion.use == "decides")


def test_what_no_source_limits_has_no_limit_in_a_general_basis() -> None:
    """Nothing published was found for these: their limits come from the maker."""
    for feature in (
        "gear.span",
        "ratchet_disc.tooth_height",
        "pawl.tip_height",
        "drive_shaft.thread_clearance",
        "friction_disc.thickness",
        "pawl_spring.free_length",
        "stay_bolt.diameter",
        "guide_roller.diameter",
        "load_sheave.pocket_thickness",
        "chain_anchor_pin.diameter",
        "hand_chain.link_pitch",
    ):
        assert is_measured(feature)
        assert [c.id for _, c in CRITERIA if c.feature == feature] == []


def test_common_practice_asks_for_every_look_and_states_no_figure() -> None:
    asked = {c.feature for c in ALL["workshop-practice"].criteria}
    looks = {
        f"{role}.{key}"
        for role in catalogue()
        for key in feature_names(role)
        if not is_measured(f"{role}.{key}")
    }
    assert asked == looks


def test_no_shipped_basis_claims_to_govern_a_maker() -> None:
    """None of these sources says that it stands before a maker's more generous figure."""
    assert not [key for key, basis in ALL.items() if basis.head.governs_when_stricter]


def test_the_default_rule_is_guarded_at_two_standard_uncertainties() -> None:
    rules = {(basis.head.rule.kind, basis.head.rule.guard_factor) for basis in ALL.values()}
    assert rules == {("guarded", 2.0)}
