"""From what the proof found to the tests that a certificate states."""

from __future__ import annotations

import math

import attrs

from hoistwright.certificate.release.values import TestFigure, TestMade
from hoistwright.metrology import Outcome
from hoistwright.prove.bed import Applied
from hoistwright.prove.finding import Band as ProofBand
from hoistwright.prove.finding import ProofFinding, ProofResult, bounds_text
from hoistwright.prove.tests_needed import AskedTest, NeededTests
from hoistwright.quantity import show

_FORMULAS = {"efficiency": "η = W / (P VR)", "load": "sum of weights and tackle, or the test bed"}


def proved(
    result: ProofResult,
    needed: NeededTests,
    *,
    applied: Applied | None = None,
    hold: float | None = None,
    by: str = "",
    weights: str = "",
) -> tuple[TestMade, ...]:
    """One entry for each test that the job needed.

    The figures of the proof stand with the test whose load they were read under.

    Args:
        result: the findings of the proof.
        needed: the tests that the job needed.
        applied: the load that was on the hook; None where none was.
        hold: how long it was held, s.
        by: who made the tests.
        weights: which test weights hung, where the load was made of them.
    """
    tests = needed.needed
    made = [_made(test, result, applied, hold, by) for test in tests]
    figures = tuple(_figure(f, weights) for f in result.findings if _has_figure(f))
    if made and figures:
        loaded = [place for place, test in enumerate(tests) if test.kind == "load test"]
        place = loaded[0] if loaded else -1
        made[place] = attrs.evolve(made[place], figures=figures)
    return tuple(made)


def _made(
    test: AskedTest, result: ProofResult, applied: Applied | None, hold: float | None, by: str
) -> TestMade:
    loaded = applied if test.kind == "load test" else None
    return TestMade(
        name=test.name,
        passed=result.passed,
        particulars=_particulars(test, result),
        load=loaded.load if loaded else None,
        load_uncertainty=loaded.expanded if loaded else None,
        hold=hold if loaded else None,
        source=test.source,
        clause=test.clause,
        edition=test.edition,
        by=by,
    )


def _particulars(test: AskedTest, result: ProofResult) -> str:
    bad = [f"{f.name}: {f.why}" for f in result.findings if f.required and not _fit(f)]
    asked = ""
    if test.load_from is not None:
        top = f" to {test.load_to:.0%}" if test.load_to is not None else " or more"
        asked = f"{test.load_from:.0%}{top} of the rated load asked for. "
    return f"{asked}{'; '.join(bad) if bad else f'Made because: {test.why}.'}"


def _fit(finding: ProofFinding) -> bool:
    return finding.outcome is Outcome.FIT


def _has_figure(finding: ProofFinding) -> bool:
    return bool(finding.unit) and math.isfinite(finding.value) and math.isfinite(finding.u)


def _figure(finding: ProofFinding, weights: str) -> TestFigure:
    band = ProofBand(low=finding.low, high=finding.high)
    bounded = finding.low is not None or finding.high is not None
    return TestFigure(
        what=finding.name,
        value=_value(finding),
        gauge=weights if finding.key == "load" and weights else finding.gauge,
        formula=_FORMULAS.get(finding.key, ""),
        limit=bounds_text(band, finding.dimension, finding.unit) if bounded else "",
        source=finding.source,
    )


def _value(finding: ProofFinding) -> str:
    """With its U, but not "± 0": a time whose uncertainty nobody stated is no exact time."""
    if finding.u > 0:
        return finding.text
    return show(finding.value, finding.dimension, finding.unit)
