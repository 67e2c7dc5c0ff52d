"""Adopting a basis: a named competent person has compared our figures with their own copy.

Until then, and again after any change of the basis's files, no hoist is released on it.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Sequence
from typing import Literal

import attrs

from hoistwright.basis.model import Basis

AdoptionWord = Literal["adopted", "changed since", "not adopted", "person not entitled"]


@attrs.frozen(kw_only=True)
class Adoption:
    """Who adopted which basis, as it then stood, and what they compared it with."""

    basis: str
    digest: str
    by: str
    """Key of the person in the shop file."""
    on: datetime.date
    compared_with: str
    """The copies the figures were compared with, such as "own copy of B30.16, 2022"."""


@attrs.frozen(kw_only=True)
class AdoptionState:
    """Whether a basis may carry a release, in one word and one sentence."""

    basis: str
    word: AdoptionWord
    sentence: str
    adoption: Adoption | None = None

    @property
    def holds(self) -> bool:
        """True only where the basis is adopted as it stands, by somebody entitled."""
        return self.word == "adopted"


def adopt(
    basis: Basis, *, by: str, on: datetime.date, compared_with: str, competent: Collection[str]
) -> Adoption:
    """The adoption of `basis` as it now stands. `competent`: keys of the competent persons.

    Raises ValueError where the person is not entitled or names nothing that was compared.
    """
    if by not in competent:
        who = ", ".join(sorted(competent)) or "nobody of this shop yet"
        raise ValueError(
            f"{by!r} is not a competent person of the shop; expected one of: {who}. "
            "Give the person that role in the shop file first"
        )
    if not compared_with.strip():
        raise ValueError(
            "nothing was named that the figures were compared with; expected the copies of the "
            "standards that lay beside them, with their editions"
        )
    return Adoption(
        basis=basis.key, digest=basis.digest, by=by, on=on, compared_with=compared_with.strip()
    )


def adoption_state(
    basis: Basis,
    adoptions: Sequence[Adoption],
    competent: Collection[str],
    *,
    day: datetime.date | None = None,
) -> AdoptionState:
    """Is `basis`, as its files now stand, adopted? `competent`: keys of competent persons.

    Adoptions later than `day` do not count for a release on that day.
    """
    own = [
        a
        for a in adoptions
        if a.basis == basis.key and (day is None or a.on <= day) and a.compared_with.strip()
    ]
    if not own:
        return _state(basis, "not adopted", "is not adopted by this shop: a competent person "
                      "must compare its figures with their own copy first")  # fmt: skip
    current = [a for a in own if a.digest == basis.digest]
    entitled = [a for a in current if a.by in competent]
    if entitled:
        last = _last(entitled)
        sentence = f"was adopted by {last.by} on {last.on}, compared with {last.compared_with}"
        return _state(basis, "adopted", sentence, last)
    if current:
        last = _last(current)
        sentence = f"was adopted by {last.by} on {last.on}, who is not a competent person here"
        return _state(basis, "person not entitled", sentence, last)
    last = _last(own)
    sentence = f"has changed since {last.by} adopted it on {last.on}: compare and adopt it again"
    return _state(basis, "changed since", sentence, last)


def _last(adoptions: Sequence[Adoption]) -> Adoption:
    return max(adoptions, key=lambda a: a.on)


def _state(
    basis: Basis, word: AdoptionWord, sentence: str, adoption: Adoption | None = None
) -> AdoptionState:
    text = f"The basis {basis.key} {sentence}."
    return AdoptionState(basis=basis.key, word=word, sentence=text, adoption=adoption)
