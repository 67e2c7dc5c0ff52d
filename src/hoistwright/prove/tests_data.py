"""The data behind the choice of tests: occasions and groups of parts, with their sources."""

from __future__ import annotations

import functools
from importlib import resources
from typing import Literal

import attrs

from hoistwright.basis.model import Known
from hoistwright.datafile import load_text
from hoistwright.quantity import Mass, Ratio

Occasion = Literal[
    "load-sustaining work",
    "lifting medium only",
    "every rebuild",
    "new hoist",
    "marine cargo gear",
]
"""What a test is asked for."""

LIFTING_MEDIUM = "lifting medium"
CARRIES_NOTHING = "does not carry the load"


@attrs.frozen(kw_only=True)
class OccasionWords:
    """The free words of a basis file and what they mean."""

    when: str
    means: Occasion


@attrs.frozen(kw_only=True)
class Size:
    """A test of a basis that is for some rated loads only."""

    basis: str
    name: str
    rated_from: Mass | None = None
    rated_below: Mass | None = None

    def holds(self, rated: float) -> bool:
        """Whether the test is for a hoist of this rated load, kg."""
        above = self.rated_from is None or rated >= self.rated_from
        return above and (self.rated_below is None or rated < self.rated_below)


@attrs.frozen(kw_only=True)
class Group:
    """Parts that count alike, by key or by role."""

    name: str
    roles: tuple[str, ...]
    parts: tuple[str, ...]
    source: str
    known: Known
    note: str


@attrs.frozen(kw_only=True)
class Highest:
    """The highest share of the rated load where a source states only the least."""

    load_to: Ratio
    source: str
    known: Known
    note: str


@attrs.frozen(kw_only=True)
class ProofData:
    """The whole file."""

    occasion: tuple[OccasionWords, ...]
    size: tuple[Size, ...]
    group: tuple[Group, ...]
    highest_where_none_is_stated: Highest

    def occasion_of(self, when: str) -> Occasion | None:
        """What the words of a basis mean; None where nobody has said."""
        return next((words.means for words in self.occasion if words.when == when), None)

    def size_of(self, basis: str, name: str) -> Size | None:
        """The rated loads a test is for; None: any."""
        same = (size for size in self.size if (size.basis, size.name) == (basis, name))
        return next(same, None)

    def group_of(self, part: str, role: str) -> Group | None:
        """The group of a part, by its key before its role; None where it stands in none."""
        by_key = (group for group in self.group if part in group.parts)
        by_role = (group for group in self.group if role and role in group.roles)
        return next(by_key, None) or next(by_role, None)


@functools.cache
def proof_data() -> ProofData:
    """The shipped data."""
    file = resources.files("hoistwright.prove") / "tests_needed.toml"
    return load_text(file.read_text(encoding="utf-8"), ProofData, file=file.name)
