"""Designs that build on a family: how tables merge and what `without` takes away."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from hoistwright.hoist.family import merged, not_in_family

FAMILY: dict[str, Any] = {
    "rating": {"falls": 1, "lift": "3 m"},
    "parts": [
        {"key": "hook", "name": "hook", "renew_with": ["latch", "pin"]},
        {"key": "latch", "name": "latch"},
        {"key": "pin", "name": "pin"},
    ],
    "pins": [{"part": "pin", "diameter": "10 mm"}],
    "maker_limits": [{"feature": "hook.throat", "comparison": "rise from as new", "limit": "5 %"}],
}


def test_tables_merge_key_by_key() -> None:
    found = merged(FAMILY, {"like": "x", "rating": {"falls": 2}})
    assert found["rating"] == {"falls": 2, "lift": "3 m"}
    assert "like" not in found


def test_entries_merge_by_key_or_part_and_keep_their_place() -> None:
    own = {
        "parts": [{"key": "latch", "quantity": 2}, {"key": "new", "name": "new"}],
        "pins": [{"part": "pin", "diameter": "12 mm"}],
    }
    found = merged(FAMILY, own)
    assert [part["key"] for part in found["parts"]] == ["hook", "latch", "pin", "new"]
    assert found["parts"][1] == {"key": "latch", "name": "latch", "quantity": 2}
    assert found["pins"] == [{"part": "pin", "diameter": "12 mm"}]


def test_limits_add_up() -> None:
    """A limit for one part must not drive out the limit for all parts of the role."""
    own = {"maker_limits": [{"feature": "hook.throat", "comparison": "at most", "part": "hook"}]}
    assert len(merged(FAMILY, own)["maker_limits"]) == 2


def test_without_takes_a_part_and_every_mention_of_it() -> None:
    found = merged(FAMILY, {"without": ["pin"]})
    assert [part["key"] for part in found["parts"]] == ["hook", "latch"]
    assert found["parts"][0]["renew_with"] == ["latch"]
    assert found["pins"] == []
    assert "without" not in found


def test_without_what_is_not_there_is_noticed() -> None:
    assert not_in_family(FAMILY, ["latch", "lach"]) == ["lach"]


@given(st.dictionaries(st.sampled_from(["rating", "a"]), st.integers()))
def test_nothing_said_changes_nothing(own: dict[str, int]) -> None:
    before = repr(FAMILY)
    found = merged(FAMILY, own)
    assert repr(FAMILY) == before
    assert all(found[key] == value for key, value in own.items())
    assert {key: found[key] for key in FAMILY if key not in own} == {
        key: FAMILY[key] for key in FAMILY if key not in own
    }
