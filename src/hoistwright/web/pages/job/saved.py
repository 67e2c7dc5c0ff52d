"""A reading just entered, as its place on the page shows it: the figures and their verdicts.

The rest of the page (what is left, the bar of stages, ghosts of earlier visits) follows when the
tablet asks for it a moment later.
"""

from __future__ import annotations

import functools

from jinja2 import Template

from hoistwright.examine.entries import Entries
from hoistwright.examine.evaluate import verdicts
from hoistwright.examine.points import same_pattern
from hoistwright.examine.rules import decision_rules
from hoistwright.examine.verdict import Verdict
from hoistwright.job.events import ReadingEntered
from hoistwright.job.to_entries import circumstances_of, reading_of
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.examined import first_sight
from hoistwright.web.pages.job.values import values_text
from hoistwright.web.templating import environment


def saved_place(case: Case) -> str:
    """The reading that the last entry left standing, with its verdicts: a piece of the page."""
    standing = max(case.state.entries.values(), key=lambda entry: entry.last.seq, default=None)
    body = standing.body if standing else None
    if not isinstance(body, ReadingEntered):
        return ""
    found = feature_verdicts(case, body.part, body.feature)
    lines = [
        first_sight(case, verdict, case.visit.units)
        for verdict in found
        if _speaks_of(verdict.place, body.place)
    ]
    return _template().render(
        say=case.visit.say, place=body.place, figures=values_text(case, body), verdicts=lines
    )


def _speaks_of(verdict: str, place: str) -> bool:
    """Whether a verdict is on this place, or on it and others together: "section 1" of its two."""
    return verdict in ("", place) or place.startswith(f"{verdict} ")


@functools.cache
def _template() -> Template:
    return environment().get_template("job/saved.html")


def feature_verdicts(case: Case, part: str, feature: str) -> tuple[Verdict, ...]:
    """The verdicts on one measured feature of one part. Those on others do not hang on it."""
    here = [p for p in case.points if (p.part, p.feature) == (part, feature)]
    if not here or case.design is None:
        return ()
    entries = Entries(
        readings=tuple(
            reading_of(body, entry.last.by)
            for entry in case.state.readings.values()
            if isinstance(body := entry.body, ReadingEntered)
            and (body.part, body.feature) == (part, feature)
            and any(same_pattern(body.place, point.place) for point in here)
        ),
        looks=(),
        gauges=case.shop.all_gauges(),
        circumstances=circumstances_of(case.state, case.day),
    )
    return verdicts(case.design, here, entries, decision_rules(case.facts.bases))
