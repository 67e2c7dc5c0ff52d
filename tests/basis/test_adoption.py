"""Adopting: by whom, compared with what, and when it must be done again."""

from __future__ import annotations

import datetime
import tomllib

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.basis.adoption import Adoption, adopt, adoption_state
from hoistwright.basis.adoption_text import adoption_toml
from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.model import Basis

BASIS = shipped_basis("b30-hand-hoists")
DAY = datetime.date(2026, 3, 1)
COMPETENT = ("mara", "odd")


def _adoption(by: str = "mara", on: datetime.date = DAY) -> Adoption:
    return adopt(BASIS, by=by, on=on, compared_with="own copies", competent=(by,))


def test_adopted_by_a_competent_person() -> None:
    state = adoption_state(BASIS, [_adoption()], COMPETENT)
    assert (state.word, state.holds) == ("adopted", True)
    assert state.sentence == (
        "The basis b30-hand-hoists was adopted by mara on 2026-03-01, compared with own copies."
    )


def test_not_adopted() -> None:
    other = attrs.evolve(_adoption(), basis="uk-loler")
    state = adoption_state(BASIS, [other], COMPETENT)
    assert (state.word, state.holds, state.adoption) == ("not adopted", False, None)
    assert "compare its figures with their own copy" in state.sentence


def test_a_changed_basis_must_be_adopted_again() -> None:
    changed: Basis = attrs.evolve(BASIS, digest="0" * 64)
    state = adoption_state(changed, [_adoption()], COMPETENT)
    assert (state.word, state.holds) == ("changed since", False)
    assert state.sentence.endswith("adopted it on 2026-03-01: compare and adopt it again.")


def test_somebody_not_entitled_cannot_adopt() -> None:
    state = adoption_state(BASIS, [_adoption("tim")], COMPETENT)
    assert (state.word, state.holds) == ("person not entitled", False)
    with pytest.raises(ValueError, match=r"'tim' is not a competent person.*one of: mara, odd"):
        adopt(BASIS, by="tim", on=DAY, compared_with="own copies", competent=COMPETENT)


def test_one_entitled_adoption_suffices_and_the_last_is_named() -> None:
    later = datetime.date(2026, 4, 1)
    found = [_adoption("odd", later), _adoption("tim", later), _adoption()]
    state = adoption_state(BASIS, found, COMPETENT)
    assert state.adoption is not None
    assert (state.word, state.adoption.by) == ("adopted", "odd")


def test_an_adoption_of_tomorrow_does_not_count_today() -> None:
    before = DAY - datetime.timedelta(days=1)
    assert adoption_state(BASIS, [_adoption()], COMPETENT, day=before).word == "not adopted"
    assert adoption_state(BASIS, [_adoption()], COMPETENT, day=DAY).word == "adopted"


def test_nothing_compared_is_nothing_adopted() -> None:
    empty = attrs.evolve(_adoption(), compared_with=" ")
    assert adoption_state(BASIS, [empty], COMPETENT).word == "not adopted"
    with pytest.raises(ValueError, match="nothing was named that the figures were compared with"):
        adopt(BASIS, by="mara", on=DAY, compared_with=" ", competent=COMPETENT)


@given(st.text(), st.text())
def test_its_lines_for_the_shop_file_read_back_the_same(by: str, compared: str) -> None:
    adoption = attrs.evolve(_adoption(), by=by, compared_with=compared)
    if any("\ud800" <= c <= "\udfff" for c in by + compared):
        return
    (entry,) = tomllib.loads(adoption_toml(adoption))["adoptions"]
    assert entry == attrs.asdict(adoption)
