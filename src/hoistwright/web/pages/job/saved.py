"""A reading just entered, as its place on the page shows it: the figures and their verdicts.

The rest of the page (what is left, the bar of stages, ghosts of earlier visits) follows when the
tablet asks for it a moment later.
"""

from __future__ import annotations

from hoistwright.examine.entries import Circumstances, Entries, Reading
from hoistwright.examine.evaluate import verdicts
from hoistwright.examine.points import same_pattern
from hoistwright.examine.rules import decision_rules
from hoistwright.examine.verdict import Verdict
from hoistwright.job.events import ReadingEntered
from hoistwright.job.to_entries import day_of
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.earlier import Earlier
from hoistwright.web.pages.job.examined import verdict_line
from hoistwright.web.pages.job.values import values_text
from hoistwright.web.templating import render

_NO_GHOSTS = Earlier(by_address={})


def saved_place(case: Case, id_: str) -> str:
    """The reading that an entry left standing, with its verdicts, as a piece of the page."""
    standing = case.state.entries.get(case.state.roots.get(id_, id_))
    body = standing.body if standing else None
    if not isinstance(body, ReadingEntered):
        return ""
    found = feature_verdicts(case, body.part, body.feature)
    own = [verdict for verdict in found if verdict.place == body.place]
    units = case.visit.units
    return render(
        case.visit,
        "job/saved.html",
        {
            "place": body.place,
            "figures": values_text(case, body),
            "verdicts": [verdict_line(case, verdict, units, _NO_GHOSTS) for verdict in own],
        },
    )


def feature_verdicts(case: Case, part: str, feature: str) -> tuple[Verdict, ...]:
    """The verdicts on one measured feature of one part. Those on others do not hang on it."""
    here = [p for p in case.points if (p.part, p.feature) == (part, feature)]
    if not here or case.design is None:
        return ()
    stated = case.state.examined_on
    day = day_of(case.state) or case.visit.bench.today
    entries = Entries(
        readings=tuple(
            Reading(
                part=body.part,
                feature=body.feature,
                place=body.place,
                values=body.values,
                unit=body.unit,
                gauge=body.gauge,
                links=body.links,
                remark=body.remark,
                by=entry.last.by,
            )
            for entry in case.state.readings.values()
            if isinstance(body := entry.body, ReadingEntered)
            and (body.part, body.feature) == (part, feature)
            and any(same_pattern(body.place, point.place) for point in here)
        ),
        looks=(),
        gauges=case.shop.all_gauges(),
        circumstances=Circumstances(day=day)
        if stated is None
        else Circumstances(day=day, temperature_half_width=stated.temperature_half_width),
    )
    return verdicts(case.design, here, entries, decision_rules(case.facts.bases))
