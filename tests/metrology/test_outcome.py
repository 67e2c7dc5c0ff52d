"""Which verdict wins upward (the project's own rule: the worst, and unknown is not fit)."""

from __future__ import annotations

from itertools import permutations

from hoistwright.metrology import Outcome, worst


def test_the_words() -> None:
    assert [o.words for o in Outcome] == ["fit", "borderline", "not established", "renew"]


def test_the_worst_wins_in_any_order() -> None:
    for order in permutations(Outcome):
        assert worst(order) is Outcome.RENEW
    assert worst([Outcome.FIT, Outcome.NOT_ESTABLISHED, Outcome.BORDERLINE]).words == (
        "not established"
    )
    assert worst([Outcome.FIT, Outcome.FIT]) is Outcome.FIT


def test_of_nothing_nothing_is_established() -> None:
    assert worst(iter(())) is Outcome.NOT_ESTABLISHED
