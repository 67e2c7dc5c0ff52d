"""The whole examination of a hoist: verdicts, what they add up to, and what stands in the way."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs

from hoistwright.basis.adoption import AdoptionState
from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.chain_split import ChainSplit, chain_splits
from hoistwright.examine.entries import Entries
from hoistwright.examine.evaluate import verdicts
from hoistwright.examine.findings import Finding, Plate, findings
from hoistwright.examine.points import Point, points
from hoistwright.examine.rules import decision_rules
from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.design import Design
from hoistwright.metrology import DecisionRule, Outcome, worst


@attrs.frozen(kw_only=True)
class PartResult:
    """One part's verdicts and the worst of them."""

    part: str
    name: str
    outcome: Outcome
    verdicts: tuple[Verdict, ...]


@attrs.frozen(kw_only=True)
class Examination:
    """What came of an examination. It advises; a named competent person decides and signs."""

    design: Design
    bases: tuple[Basis, ...]
    day: datetime.date
    rule: DecisionRule
    points: tuple[Point, ...]
    verdicts: tuple[Verdict, ...]
    splits: tuple[ChainSplit, ...]
    findings: tuple[Finding, ...]
    adoptions: tuple[AdoptionState, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """The worst of all verdicts and findings; without any, not established."""
        if not self.verdicts:
            return Outcome.NOT_ESTABLISHED
        return worst([v.outcome for v in self.verdicts] + [f.outcome for f in self.findings])

    @property
    def parts(self) -> tuple[PartResult, ...]:
        """Results by part, the worst first, else in parts-list order."""
        by_part: dict[str, list[Verdict]] = {}
        for verdict in self.verdicts:
            by_part.setdefault(verdict.part, []).append(verdict)
        results = [_part_result(key, found) for key, found in by_part.items()]
        return tuple(sorted(results, key=lambda result: -result.outcome))

    @property
    def worst_first(self) -> tuple[Verdict, ...]:
        """All verdicts, worst first; among equals the likeliest beyond its limit first."""
        return tuple(sorted(self.verdicts, key=_severity))

    @property
    def not_established(self) -> tuple[Verdict, ...]:
        """The verdicts for which something is missing."""
        return tuple(v for v in self.verdicts if v.outcome is Outcome.NOT_ESTABLISHED)

    @property
    def adopted(self) -> bool:
        """True where every basis used is adopted as it stands."""
        return len(self.adoptions) == len(self.bases) and all(a.holds for a in self.adoptions)


def examine(
    design: Design,
    bases: Sequence[Basis],
    entries: Entries,
    *,
    adoptions: Sequence[AdoptionState] = (),
    plate: Plate | None = None,
) -> Examination:
    """Examine one hoist by the limits in force on the day of the readings.

    Raises ValueError for an entry that belongs to no point of the design, FaultsError where a
    maker's limit of the design cannot be read. Anything missing is "not established".
    """
    day = entries.circumstances.day
    wanted = points(design, rulings(design, bases, day))
    rules = decision_rules(bases)
    found = verdicts(design, wanted, entries, rules)
    splits = chain_splits(design, wanted, entries)
    return Examination(
        design=design,
        bases=tuple(bases),
        day=day,
        rule=rules[""],
        points=wanted,
        verdicts=found,
        splits=splits,
        findings=findings(design, found, splits, plate),
        adoptions=tuple(adoptions),
    )


def _part_result(key: str, found: Sequence[Verdict]) -> PartResult:
    return PartResult(
        part=key,
        name=found[0].part_name,
        outcome=worst(v.outcome for v in found),
        verdicts=tuple(sorted(found, key=_severity)),
    )


def _severity(verdict: Verdict) -> tuple[int, float]:
    judged = verdict.judgement
    return -verdict.outcome, -(judged.probability if judged else 0.0)
