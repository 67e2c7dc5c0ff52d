"""What a shop charges and how it weighs what may happen."""

from __future__ import annotations

import attrs


@attrs.frozen(kw_only=True)
class Policy:
    """Money in minor units.

    labour_per_hour: what an hour of work is charged at. call_back: what one visit out of turn
    costs beside part and labour (fetching, the customer's standstill). scrap_from: share of a
    new hoist's price from which repair is not advised; the shop's own choice.
    """

    labour_per_hour: int
    call_back: int
    scrap_from: float = 0.6

    def labour(self, seconds: float) -> int:
        """Charge for so much work, rounded to the minor unit."""
        return round(self.labour_per_hour * seconds / 3600)


@attrs.frozen(kw_only=True)
class Need:
    """A part that must be renewed, or may have to be, and the reason from its verdicts."""

    part: str
    why: str


@attrs.frozen(kw_only=True)
class PartRisk:
    """Probability that a part reaches its limit before the next visit, and where it is from."""

    part: str
    probability: float
    why: str

    def __attrs_post_init__(self) -> None:
        if not 0 <= self.probability <= 1:
            raise ValueError(
                f"{self.part}: the probability is {self.probability}; expected 0 to 1."
            )
