"""A verdict that explains itself: everything it leans on is in it.

Pages, the command line and reports show this value; none of them computes it again.
"""

from __future__ import annotations

import attrs

from hoistwright.basis.rulings import Ruling
from hoistwright.hoist.as_new import Baseline
from hoistwright.metrology import Budget, DecisionRule, Outcome
from hoistwright.quantity import Dimension


@attrs.frozen(kw_only=True)
class Judgement:
    """The figures of a measured verdict, SI. `value` is what the limit is for (a share for
    elongation, rise and loss); `reading` is what was read.
    """

    reading: float
    reading_uncertainty: float
    repeats: int
    name: str
    """What is judged: "elongation", "loss", "reading"."""
    dimension: Dimension
    value: float
    uncertainty: float
    dof: float
    coverage_factor: float
    limit: float
    upper: bool
    """True where values above the limit are bad."""
    guard: float
    acceptance_limit: float
    probability: float
    """That the true value is at or beyond the limit."""
    budget: Budget = attrs.field(eq=False)

    @property
    def expanded(self) -> float:
        return self.coverage_factor * self.uncertainty


@attrs.frozen(kw_only=True)
class Verdict:
    """One ruling held against what was found at one place.

    `why` is one sentence on how the outcome came about, `next_step` what to do now. `unit` is
    the unit the reading was typed in. `ruling` is None where no limit is known.
    """

    part: str
    part_name: str
    feature: str
    feature_name: str
    place: str
    outcome: Outcome
    why: str
    next_step: str
    rule: DecisionRule
    dimension: Dimension
    unit: str
    gauge: str = ""
    ruling: Ruling | None = None
    baseline: Baseline | None = None
    judgement: Judgement | None = None
    answer: str = ""
    remark: str = ""
    photo: str = ""
    by: str = ""

    @property
    def measured(self) -> bool:
        """True for a verdict on a reading (or a missing one), False for a look."""
        return self.dimension is not Dimension.NUMBER or self.judgement is not None

    @property
    def title(self) -> str:
        """Part, feature and place in one line."""
        where = f", {self.place}" if self.place else ""
        return f"{self.part_name}: {self.feature_name}{where}"
