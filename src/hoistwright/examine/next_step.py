"""What to do now about a verdict."""

from __future__ import annotations

from hoistwright.metrology import Outcome

_FOR_MISSING = (
    ("better than as new", "Count the links and measure again; compare the part with the design."),
    ("no reading", "Measure it and enter the reading."),
    ("not looked", "Look at it and enter the answer."),
    ("no gauge", "Name the gauge of the shop file that was used."),
    ("not in the shop file", "Enter the gauge with its calibration in the shop file."),
    ("was due for calibration", "Measure again with a gauge that is in date."),
    ("calibrat", "Measure again with a gauge that is in date."),
    ("no as-new value", "Find the as-new value: design file, maker, or an unworn place."),
    ("pitch", "Enter the chain's pitch and the number of gauge links."),
    ("number of links", "Measure the unworn place over the same number of links."),
    ("no limit", "Ask the maker for the limit, or let a competent person decide and sign."),
    ("no source", "A competent person decides and signs."),
)


def next_step(outcome: Outcome, missing: str, action: str) -> str:
    """The next step in words. `action` is the ruling's own; `missing` why nothing is established.

    >>> next_step(Outcome.RENEW, "", "Renew the load chain.")
    'Renew the load chain.'
    >>> next_step(Outcome.NOT_ESTABLISHED, "no reading", "")
    'Measure it and enter the reading.'
    """
    if outcome is Outcome.FIT:
        return "Goes back."
    if outcome is Outcome.RENEW:
        return action or "Renew it."
    if outcome is Outcome.BORDERLINE:
        return "Measure again, with repeats or a better gauge, or take it as renew."
    for word, step in _FOR_MISSING:
        if word in missing:
            return step
    return "Establish what is missing, then examine again."
