"""From an examination and prognoses: parts that must be renewed, and how likely the rest fail."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import attrs

from hoistwright.examine.result import Examination, PartResult
from hoistwright.hoist.design import Design
from hoistwright.metrology import Outcome
from hoistwright.renew.policy import Need, PartRisk
from hoistwright.wear.prognosis import Prognosis

WHOLE_HOIST = "hoist"
SEEN = 120
"""Characters of a remark that a reason has room for."""


@attrs.frozen(kw_only=True)
class Needs:
    """`must`: renewed by verdict. `borderline`: measure again, or take as renew. `open`: not
    established; until it is, nobody knows whether it must.
    """

    must: tuple[Need, ...]
    borderline: tuple[Need, ...]
    open: tuple[Need, ...]


def needs_of(examination: Examination) -> Needs:
    """The parts by what their worst verdict asks for, each with its reason.

    Args:
        examination: the verdicts.

    Returns:
        Needs; looks at the whole hoist are no part and left out.

    References:
        decision of the project: the worst verdict wins upward.
    """
    by: dict[Outcome, list[Need]] = {outcome: [] for outcome in Outcome}
    for result in examination.parts:
        if _is_part(examination.design, result.part):
            by[result.outcome].append(Need(part=result.part, why=_why(result)))
    return Needs(
        must=tuple(by[Outcome.RENEW]),
        borderline=tuple(by[Outcome.BORDERLINE]),
        open=tuple(by[Outcome.NOT_ESTABLISHED]),
    )


def _is_part(design: Design, key: str) -> bool:
    return any(part.key == key and part.role != WHOLE_HOIST for part in design.parts)


def _why(result: PartResult) -> str:
    """What the worst verdict says; of a look also what was seen, for the customer decides by it."""
    worst = next(v for v in result.verdicts if v.outcome == result.outcome)
    seen = worst.remark if worst.judgement is None else ""
    seen = seen if len(seen) <= SEEN else f"{seen[: SEEN - 1]}…"
    return ": ".join(text for text in (worst.title, worst.why, seen) if text)


def risks(prognoses: Mapping[str, Iterable[Prognosis]]) -> tuple[PartRisk, ...]:
    """The risk of each part from the prognoses of its features.

    P = 1 − Π (1 − P_feature): features taken as independent, which errs to the safe side.

    Args:
        prognoses: for each part key, those of its features and places.

    Returns:
        One risk for each part, its reason the likeliest feature.

    References:
        probability calculus; no outside source.
    """
    found = []
    for part, each in prognoses.items():
        many = list(each)
        if not many:
            continue
        last = 1.0
        for prognosis in many:
            last *= 1 - prognosis.beyond_by_horizon
        worst = max(many, key=lambda p: p.beyond_by_horizon)
        share = float(worst.state.x) / worst.limit
        why = f"now at {100 * share:.0f} % of the way to its limit ({worst.series.hoist})"
        found.append(PartRisk(part=part, probability=1 - last, why=why))
    return tuple(found)
