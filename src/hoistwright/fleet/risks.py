"""What every part of an opened hoist risks until its next visit, for the renewals."""

from __future__ import annotations

from collections.abc import Iterable

from hoistwright.fleet.bundles import FeatureOutlook
from hoistwright.fleet.forecasts import Fleet
from hoistwright.fleet.words import chance_words, percent
from hoistwright.renew.policy import PartRisk


def risks_for(fleet: Fleet, hoist: str) -> tuple[PartRisk, ...]:
    """The chance of each part to reach its limit before the next visit, and why.

    P = 1 − Π (1 − P_feature): features taken as independent, which errs to the safe side. The next
    visit is when the interval of the basis ends after the last one.

    Args:
        fleet: forecast, with the visit that is going on in it once it is examined.
        hoist: its key in the register.

    Returns:
        One risk for each part with a prognosis, the likeliest first. A part that is renewed at this
        visit counts as new once the rebuild is finished, not before.

    References:
        probability calculus; no outside source.
    """
    by_part: dict[str, list[FeatureOutlook]] = {}
    for outlook in fleet.outlooks.get(hoist, ()):
        if outlook.prognosis is not None:
            by_part.setdefault(outlook.part, []).append(outlook)
    found = [_risk(part, many) for part, many in by_part.items()]
    return tuple(sorted(found, key=lambda risk: (-risk.probability, risk.part)))


def _risk(part: str, many: Iterable[FeatureOutlook]) -> PartRisk:
    last, worst = 1.0, None
    for outlook in many:
        last *= 1 - outlook.chance
        if worst is None or outlook.chance > worst.chance:
            worst = outlook
    assert worst is not None
    chance = min(max(1 - last, 0.0), 1.0)
    return PartRisk(part=part, probability=chance, why=reason(worst))


def reason(outlook: FeatureOutlook) -> str:
    """Where a feature stands and what is to be expected of it, in one sentence."""
    assert outlook.prognosis is not None
    scale, chance = outlook.history.scale, chance_words(outlook.chance)
    if not scale.known:
        return (
            f"{scale.feature_name}: how far it has come is not known, because its as-new value is "
            f"not; by its readings alone, the chance of reaching its limit before the next visit "
            f"is {chance}."
        )
    now = max(float(outlook.prognosis.state.x), 0.0)
    return (
        f"{scale.feature_name} is {percent(now)} of the way to its limit; the chance of reaching "
        f"it before the next visit is {chance}."
    )
