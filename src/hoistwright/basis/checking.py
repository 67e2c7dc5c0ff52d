"""Does a criterion say only what can be held? Every check that one file's types cannot make."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from hoistwright.basis.feature_names import feature_names
from hoistwright.basis.limit_value import SHARES, limit_si
from hoistwright.basis.model import BasisHead, Criterion, DatedLimit
from hoistwright.datafile.lines import KeyPath
from hoistwright.hoist.feature import Measure, catalogue, is_measured, measure
from hoistwright.quantity import Dimension, QuantityError, parse

FORMAT = 1

Found = tuple[KeyPath, str, str]
"""Key path, what was read, what may stand there."""

_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")


def head_faults(head: BasisHead, folder: str, sources: Collection[str]) -> Iterator[Found]:
    """What is wrong with a basis's own file."""
    if head.format != FORMAT:
        yield ("format",), str(head.format), f"{FORMAT}, the format this version reads"
    if head.key != folder:
        yield ("key",), repr(head.key), f"{folder!r}, the name of the basis's folder"
    if not 0.0 < head.rule.guard_factor <= 10.0:
        yield ("rule", "guard_factor"), str(head.rule.guard_factor), "above 0 and at most 10"
    if not 0.0 < head.rule.most_probability <= 0.5:
        yield ("rule", "most_probability"), str(head.rule.most_probability), "above 0, at most 0.5"
    for place, interval in enumerate(head.interval):
        path: KeyPath = ("interval", place)
        if min(interval.months, interval.days) != 0 or max(interval.months, interval.days) < 1:
            read = f"{interval.months} months and {interval.days} days"
            yield (*path, "months"), read, "months or days, one of them, 1 or more"
        yield from _cited(path, interval.source, sources, clause=interval.clause)
        yield from _filled(path, edition=interval.edition)
    for place, item in enumerate(head.report_item):
        yield from _cited(("report_item", place), item.source, sources, clause=item.clause)
        yield from _filled(("report_item", place), number=item.number, what=item.what)
    yield from _tests_and_records(head, sources)


def _tests_and_records(head: BasisHead, sources: Collection[str]) -> Iterator[Found]:
    for place, test in enumerate(head.load_test):
        path: KeyPath = ("load_test", place)
        low, high = test.load_from, test.load_to
        if low is not None and high is not None and low > high:
            yield (*path, "load_from"), "a range that runs backwards", "load_from <= load_to"
        for key, share in (("load_from", low), ("load_to", high)):
            if share is not None and not 0.0 < share <= 3.0:
                yield (*path, key), f"{share:g}", "a share of the rated load up to 300 %"
        yield from _cited(path, test.source, sources, clause=test.clause)
        yield from _filled(path, name=test.name, when=test.when, edition=test.edition)
    for place, keeping in enumerate(head.keeping):
        yield from _cited(("keeping", place), keeping.source, sources, clause=keeping.clause)
        yield from _filled(("keeping", place), what=keeping.what, until=keeping.until)


def criterion_faults(criterion: Criterion, sources: Collection[str]) -> Iterator[Found]:
    """What is wrong with one criterion's file."""
    if not _ID.match(criterion.id):
        yield ("id",), repr(criterion.id), "small letters, figures and single hyphens"
    yield from _filled((), title=criterion.title)
    if criterion.applies.falls_at_least < 1:
        yield ("applies", "falls_at_least"), str(criterion.applies.falls_at_least), "1 or more"
    try:
        feature = measure(criterion.feature) if is_measured(criterion.feature) else None
    except KeyError:
        yield ("feature",), repr(criterion.feature), _features(criterion.feature)
    else:
        yield from _fits(criterion, feature)
    yield from _limits(criterion, sources)


def _features(name: str) -> str:
    role = name.partition(".")[0]
    if role not in catalogue():
        return "a feature as role.key; roles are: " + ", ".join(catalogue())
    keys = ", ".join(f"{role}.{key}" for key in feature_names(role))
    return f"a feature of the role {role!r}: {keys}"


def _fits(criterion: Criterion, feature: Measure | None) -> Iterator[Found]:
    """Comparison, gauge and figures against the kind of feature."""
    read = repr(criterion.comparison)
    if feature is None:
        if criterion.comparison != "in order":
            yield ("comparison",), f"{read} on a look", '"in order"'
        for place, limit in enumerate(criterion.limit):
            if limit.value:
                yield ("limit", place, "value"), repr(limit.value), "no value: a look has no limit"
        return
    if criterion.comparison == "in order":
        yield ("comparison",), f"{read} on a measured feature", "a comparison with a limit"
        return
    if criterion.comparison in SHARES and feature.as_new == "zero":
        yield ("comparison",), f"{read}, as new being zero", '"at most" or "rise by"'
    if criterion.of == "mean of directions" and not feature.directions:
        yield ("of",), f"{criterion.of!r} of a feature without directions", '"each" or "smallest"'
    yield from _gauge(criterion, feature)
    yield from _values(criterion, feature)


def _gauge(criterion: Criterion, feature: Measure) -> Iterator[Found]:
    counted = criterion.gauge_from, criterion.gauge_to, criterion.gauge_links
    if not feature.counts_links and (criterion.comparison == "elongation" or any(counted)):
        key = "comparison" if criterion.comparison == "elongation" else "gauge_from"
        yield (key,), "a chain gauge on a feature without links", "a feature that counts links"
    low, high = criterion.gauge_from, criterion.gauge_to
    if (low is None) != (high is None) or (low is not None and high is not None and low > high):
        yield ("gauge_from",), "half a range, or one that runs backwards", "gauge_from <= gauge_to"
    if criterion.gauge_links is not None and criterion.gauge_links < 1:
        yield ("gauge_links",), str(criterion.gauge_links), "1 or more"


def _values(criterion: Criterion, feature: Measure) -> Iterator[Found]:
    for place, limit in enumerate(criterion.limit):
        path: KeyPath = ("limit", place, "value")
        if criterion.table and not limit.value:
            continue
        try:
            limit_si(limit.value, criterion.comparison, feature)
        except QuantityError as error:
            mend = f". {error.mend}" if error.mend else ""
            yield path, error.read, f"{error.expected} ({criterion.comparison}){mend}"
    yield from _table(criterion)


def _table(criterion: Criterion) -> Iterator[Found]:
    if criterion.table and criterion.use != "number check":
        yield ("table", 0), "a table on a criterion that decides", 'use = "number check"'
    for place, row in enumerate(criterion.table):
        for key, text in (("size", row.size), ("value", row.value)):
            try:
                parse(text, Dimension.LENGTH, decimal=".")
            except QuantityError as error:
                yield ("table", place, key), error.read, error.expected


def _limits(criterion: Criterion, sources: Collection[str]) -> Iterator[Found]:
    if not criterion.limit:
        yield ("limit",), "no dated limit", "at least one [[limit]] with since, source and clause"
    seen: set[object] = set()
    for place, limit in enumerate(criterion.limit):
        path: KeyPath = ("limit", place)
        if limit.since in seen:
            yield (*path, "since"), f"{limit.since} a second time", "one limit from each day"
        seen.add(limit.since)
        yield from _until(criterion, limit, path)
        yield from _cited(path, limit.source, sources, clause=limit.clause)
        yield from _filled(path, edition=limit.edition)


def _until(criterion: Criterion, limit: DatedLimit, path: KeyPath) -> Iterator[Found]:
    later = [other.since for other in criterion.limit if other.since > limit.since]
    if limit.until is None:
        return
    if limit.until < limit.since:
        yield (*path, "until"), f"{limit.until}, before its since", f"a day from {limit.since}"
    if later and limit.until >= min(later):
        yield (*path, "until"), f"{limit.until}, past the next limit", f"a day before {min(later)}"


def _cited(path: KeyPath, key: str, sources: Collection[str], *, clause: str) -> Iterator[Found]:
    if key not in sources:
        yield (*path, "source"), repr(key), "a key of SOURCES.toml: " + ", ".join(sorted(sources))
    yield from _filled(path, clause=clause)


def _filled(path: KeyPath, **texts: str) -> Iterator[Found]:
    for key, text in texts.items():
        if not text.strip():
            yield (*path, key), "nothing", "words: a limit without its source cannot be used"
