"""What a competent person says about the tests of a job, where the bases leave it open."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import attrs

if TYPE_CHECKING:
    from hoistwright.prove.tests_needed import AskedTest


@attrs.frozen(kw_only=True)
class Settled:
    """Whether a test applies, as a competent person says, and why."""

    applies: bool
    by: str
    reason: str = ""

    @property
    def why(self) -> str:
        said = "asks for it" if self.applies else "says that it does not apply"
        return f"{self.by} {said}" + (f": {self.reason}" if self.reason else "")


@attrs.frozen(kw_only=True)
class Stated:
    """A load test that a competent person asks for where no basis names a load.

    Loads are shares of the rated load; `hold` in s, None where none is stated.
    """

    load_from: float
    load_to: float
    by: str
    reason: str = ""
    hold: float | None = None

    def __attrs_post_init__(self) -> None:
        """Refuse a band that is upside down."""
        if not 0 < self.load_from <= self.load_to:
            raise ValueError(
                f"test load: given {self.load_from:g} to {self.load_to:g} of the rated load; "
                "expected 0 < from ≤ to."
            )


def settle(test: AskedTest, settled: Mapping[tuple[str, str], Settled]) -> AskedTest:
    """A test with what was said of it.

    Open tests are settled either way; a test that is not needed may be asked for all the same;
    a test that is needed stays needed: nobody talks it away here.

    Args:
        test: the test as the bases and the work leave it.
        settled: what was said, by basis and name of the test.

    Returns:
        The test, with the person's word in place of the reason where it counts.

    References:
        own rule, on the safe side.
    """
    said = settled.get((test.basis, test.name))
    if said is None or test.needed or (test.needed is False and not said.applies):
        return test
    return attrs.evolve(test, needed=said.applies, why=said.why)
