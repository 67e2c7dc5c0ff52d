"""The wear of a job's parts over the visits as pictures, where there is a forecast."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from markupsafe import Markup

from hoistwright.web.pages.job.case import Case


def wear_plots(case: Case, parts: Iterable[str]) -> Mapping[str, Markup]:
    """For each part, the picture of the feature that is likeliest to reach its limit."""
    return {}
