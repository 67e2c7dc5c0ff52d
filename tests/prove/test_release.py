"""The release rule: removing any one requirement always refuses, and says what is missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.metrology import Outcome
from hoistwright.prove.release import (
    BasisState,
    Condemned,
    Exit,
    GaugeUse,
    HoldPoint,
    LowerLoad,
    Required,
    Signer,
    Summary,
    Unrepaired,
    release,
)

names = st.text(st.characters(min_codepoint=97, max_codepoint=122), min_size=1, max_size=8)
bases = st.lists(st.builds(BasisState, key=names, adopted=st.just(True)), min_size=1, max_size=3)
fit = st.lists(
    st.builds(Required, name=names, outcome=st.just(Outcome.FIT)), min_size=1, max_size=4
)
gauges = st.lists(st.builds(GaugeUse, name=names, in_date=st.just(True)), min_size=1, max_size=3)
points = st.lists(st.builds(HoldPoint, name=names, signed_by=names), min_size=1, max_size=4)
signers = st.builds(Signer, name=names, entitled=st.just(True), signed=st.just(True))


@st.composite
def sound(draw: st.DrawFn, wanted: Exit = "released") -> Summary:
    """A job that may be released."""
    lower = LowerLoad(
        rated=2000, lowered=1500, allowed_by="own basis, 4", plate_changed=True, proved_for_it=True
    )
    return Summary(
        wanted=wanted,
        bases=tuple(draw(bases)),
        examined=tuple(draw(fit)),
        gauges=tuple(draw(gauges)),
        hold_points=tuple(draw(points)),
        proof=tuple(draw(fit)),
        signer=draw(signers),
        lower=lower if wanted == "released with lower rated load" else None,
    )


@given(sound())
def test_a_sound_job_is_released(summary: Summary) -> None:
    found = release(summary)
    assert found.allowed
    assert found.missing == ()


Breaker = Callable[[Summary, int], Summary]


def one(field: str, **change: Any) -> Breaker:
    """Break one item of a tuple field."""

    def broken(summary: Summary, at: int) -> Summary:
        items = list(getattr(summary, field))
        items[at % len(items)] = attrs.evolve(items[at % len(items)], **change)
        change_of: dict[str, Any] = {field: tuple(items)}
        return attrs.evolve(summary, **change_of)

    return broken


def instead(**change: Any) -> Breaker:
    return lambda summary, _at: attrs.evolve(summary, **change)


def signer(**change: Any) -> Breaker:
    return lambda summary, _at: attrs.evolve(summary, signer=attrs.evolve(summary.signer, **change))


BREAKERS: dict[str, Breaker] = {
    "no basis": instead(bases=()),
    "basis not adopted": one("bases", adopted=False),
    "rule cannot release": one("bases", rule_can_release=False),
    "nothing examined": instead(examined=()),
    "part borderline": one("examined", outcome=Outcome.BORDERLINE),
    "part not established": one("examined", outcome=Outcome.NOT_ESTABLISHED),
    "part to renew": one("examined", outcome=Outcome.RENEW),
    "no gauge": instead(gauges=()),
    "gauge out of date": one("gauges", in_date=False),
    "no hold point": instead(hold_points=()),
    "hold point not signed": one("hold_points", signed_by=" "),
    "not proved": instead(proof=()),
    "proof borderline": one("proof", outcome=Outcome.BORDERLINE),
    "proof not established": one("proof", outcome=Outcome.NOT_ESTABLISHED),
    "proof failed": one("proof", outcome=Outcome.RENEW),
    "test unsettled": instead(unsettled_tests=("odd test",)),
    "nobody signs": signer(name=""),
    "may not sign": signer(entitled=False),
    "has not signed": signer(signed=False),
}


@pytest.mark.parametrize("name", BREAKERS)
@given(summary=sound(), at=st.integers(0, 20))
def test_removing_any_one_requirement_refuses(name: str, summary: Summary, at: int) -> None:
    found = release(BREAKERS[name](summary, at))
    assert not found.allowed
    assert len(found.missing) == 1
    assert found.missing[0].endswith(".")


@given(
    summary=sound(), at=st.integers(0, 20),
    chosen=st.lists(st.sampled_from(sorted(BREAKERS)), min_size=2, max_size=4, unique=True),
)  # fmt: skip
def test_several_removed_refuse_too(summary: Summary, at: int, chosen: list[str]) -> None:
    for name in chosen:
        if name not in ("no basis", "nothing examined", "no gauge", "no hold point", "not proved"):
            summary = BREAKERS[name](summary, at)
    for name in chosen:
        if name in ("no basis", "nothing examined", "no gauge", "no hold point", "not proved"):
            summary = BREAKERS[name](summary, at)
    assert not release(summary).allowed


@given(sound("released with lower rated load"))
def test_a_lower_rated_load_needs_all_and_its_own(summary: Summary) -> None:
    assert release(summary).allowed
    assert summary.lower is not None
    changes: tuple[dict[str, Any], ...] = (
        {"lowered": 2000.0},
        {"lowered": 0.0},
        {"lowered": float("nan")},
        {"allowed_by": ""},
        {"plate_changed": False},
        {"proved_for_it": False},
    )
    for change in changes:
        lower = attrs.evolve(summary.lower, **change)
        assert len(release(attrs.evolve(summary, lower=lower)).missing) == 1
    assert not release(attrs.evolve(summary, lower=None)).allowed
    for breaker in BREAKERS.values():
        assert not release(breaker(summary, 0)).allowed


COMPETENT = Signer(name="Odile Brannagh", entitled=True, signed=True)


def test_returned_unrepaired_needs_reason_mark_and_word_to_the_customer() -> None:
    facts = Unrepaired(reason="costs more than new", marked_not_to_be_used=True, customer_told=True)
    whole = Summary(wanted="returned unrepaired", unrepaired=facts, signer=COMPETENT)
    assert release(whole).allowed
    changes: tuple[dict[str, Any], ...] = (
        {"reason": ""}, {"marked_not_to_be_used": False}, {"customer_told": False},
    )  # fmt: skip
    for change in changes:
        broken = attrs.evolve(whole, unrepaired=attrs.evolve(facts, **change))
        assert len(release(broken).missing) == 1
    assert not release(attrs.evolve(whole, signer=Signer())).allowed
    assert len(release(attrs.evolve(whole, unrepaired=None)).missing) == 3


def test_condemned_needs_how_it_was_made_unusable() -> None:
    facts = Condemned(
        reason="side plate cracked", made_unusable_by="load sheave sawn through",
        done_by="Tomasz Ferrier", plate_removed=True,
    )  # fmt: skip
    whole = Summary(wanted="condemned", condemned=facts, signer=COMPETENT)
    assert release(whole).allowed
    broken = attrs.evolve(whole, condemned=attrs.evolve(facts, made_unusable_by=""))
    assert release(broken).missing == ("Say how the hoist was made unusable.",)
    assert len(release(attrs.evolve(whole, condemned=None)).missing) == 4


def test_the_sentences_name_what_is_missing() -> None:
    summary = Summary(
        wanted="released",
        bases=(BasisState(key="b30-hand-hoists", adopted=False, why_not="changed since"),),
        examined=(Required(name="Top hook: throat", outcome=Outcome.BORDERLINE, why="too near"),),
        gauges=(GaugeUse(name="caliper 2", in_date=False, why_not="due 2026-09-14"),),
        hold_points=(HoldPoint(name="brake set"),),
        signer=Signer(name="Wren Adeyemi"),
    )
    assert release(summary).missing == (
        "The basis b30-hand-hoists is not adopted by the shop (changed since).",
        "Top hook: throat is borderline: too near.",
        "caliper 2 was not in date when it was used: due 2026-09-14.",
        "The hold point 'brake set' is not signed.",
        "The hoist was not proved.",
        "Wren Adeyemi may not sign: not a competent person of the shop.",
        "Wren Adeyemi has not signed.",
    )


def test_an_unknown_exit_is_refused() -> None:
    with pytest.raises(ValueError, match="expected one of: released"):
        release(Summary(wanted="sold"))  # type: ignore[arg-type]
