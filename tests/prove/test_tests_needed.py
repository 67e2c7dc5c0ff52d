"""Which tests a job needs: by the facts of the sources, and for every shipped part."""

from __future__ import annotations

import attrs
import pytest

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.model import BasisHead, LoadTest
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.prove.tests_data import proof_data
from hoistwright.prove.tests_needed import Done, needed_tests
from hoistwright.quantity import Ratio

B30 = shipped_basis("b30-hand-hoists").head
PRACTICE = shipped_basis("workshop-practice").head
LOLER = shipped_basis("uk-loler").head
FEDERAL = shipped_basis("us-federal").head
CHAIN = Done(part="load_chain", role="load_chain", name="load chain")
HOOK = Done(part="top_hook", role="hook", name="top hook")


def test_only_the_chain_renewed_asks_for_no_load_test() -> None:
    """ASME HST-3-2017 (read): only the lifting medium renewed, function test."""
    for kind in ("hand chain hoist", "lever hoist"):
        found = needed_tests([CHAIN], [B30], kind)
        assert found.extent == "functional only"
        assert found.band is None
        assert any(test.kind == "function test" for test in found.needed)
        assert not any(test.kind == "load test" for test in found.needed)


def test_a_chain_repaired_and_not_renewed_is_load_sustaining_work() -> None:
    found = needed_tests([attrs.evolve(CHAIN, work="repaired")], [B30], "hand chain hoist")
    assert found.extent == "rated-load test"


def test_a_hook_asks_for_100_to_125_percent() -> None:
    """ASME B30.16 16-2.2, from memory."""
    found = needed_tests([HOOK, CHAIN], [B30], "hand chain hoist")
    assert found.extent == "rated-load test"
    assert found.band == (1.0, 1.25)
    test = next(test for test in found.needed if test.kind == "load test")
    assert (test.source, test.clause, test.known) == ("asme-b30.16", "16-2.2", "memory")
    assert "top hook renewed" in test.why


def test_nothing_renewed_is_functional_only() -> None:
    plate = Done(part="data_plate", role="data_plate")
    assert needed_tests([], [B30], "lever hoist").extent == "functional only"
    assert needed_tests([plate], [B30], "lever hoist").extent == "functional only"


def test_every_rebuild_asks_for_the_brake_tests_of_practice() -> None:
    found = needed_tests([], [B30, PRACTICE], "hand chain hoist")
    assert [test.name for test in found.needed] == ["light-load brake test", "brake holds"]
    assert all(test.kind == "brake test" for test in found.needed)


def test_a_basis_that_names_no_load_leaves_it_not_established() -> None:
    """LOLER asks for examination and names no test load: silence is not a permission."""
    found = needed_tests([HOOK], [LOLER], "hand chain hoist")
    assert found.extent == "not established"
    assert found.band is None
    assert "competent person" in found.why


def test_marine_cargo_gear_asks_for_150_percent() -> None:
    """29 CFR 1919.31, read. It states no highest load: 150 % itself is then the only load."""
    found = needed_tests([], [FEDERAL], "hand chain hoist", marine_cargo_gear=True)
    assert found.extent == "proof load"
    assert found.band == (1.5, 1.5)


def test_two_tests_without_a_common_load_are_said_so() -> None:
    found = needed_tests([HOOK], [B30, FEDERAL], "hand chain hoist", marine_cargo_gear=True)
    assert found.extent == "not established"
    assert "no load serves all" in found.warnings[0]


def test_words_nobody_has_settled_stay_unsettled() -> None:
    odd = LoadTest(
        name="odd", when="on a blue moon", load_from=Ratio(1.1), source="practice", clause="-",
        edition="-", known="practice",
    )  # fmt: skip
    head = BasisHead(format=1, key="own", title="own", load_test=(odd,))
    found = needed_tests([], [head], "lever hoist")
    assert [test.name for test in found.unsettled] == ["odd"]
    assert "a competent person must say" in found.unsettled[0].why


def test_a_part_in_no_list_is_taken_as_load_sustaining() -> None:
    found = needed_tests([Done(part="strange_cam")], [B30], "lever hoist")
    assert found.extent == "rated-load test"
    assert "in no list of parts" in found.why


def test_alteration_of_anything_asks_for_a_load_test() -> None:
    case = Done(part="gear_case", role="gear_case", work="altered")
    assert needed_tests([case], [B30], "hand chain hoist").extent == "rated-load test"


def test_without_a_basis_it_refuses() -> None:
    with pytest.raises(ValueError, match="bases: given none"):
        needed_tests([CHAIN], [], "lever hoist")


@pytest.mark.parametrize("key", shipped_keys())
def test_every_part_of_a_shipped_design_stands_in_a_group(key: str) -> None:
    for part in shipped(key).parts:
        assert proof_data().group_of(part.key, part.role) is not None, part.key


@pytest.mark.parametrize("key", shipped_bases())
def test_every_occasion_of_a_shipped_basis_is_settled(key: str) -> None:
    for test in shipped_basis(key).head.load_test:
        assert proof_data().occasion_of(test.when) is not None, test.when


def test_no_part_stands_in_two_groups() -> None:
    for kind in ("parts", "roles"):
        listed = [name for group in proof_data().group for name in getattr(group, kind)]
        assert len(listed) == len(set(listed))
