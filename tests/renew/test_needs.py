"""From verdicts and prognoses to needs and risks."""

from __future__ import annotations

import datetime

import attrs
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.examine.entries import Circumstances, Entries, LookAnswer
from hoistwright.examine.result import examine
from hoistwright.hoist.library import shipped
from hoistwright.renew.needs import needs_of, risks
from hoistwright.wear.prognosis import forecast
from hoistwright.wear.series import Series, Start, WearReading


def fleet() -> list[Series]:
    return [
        Series(
            hoist=f"K 10{n}, section 1",
            starts=(Start(time=0),),
            readings=tuple(
                WearReading(time=t, value=(0.1 + 0.02 * n) * t, uncertainty=0.02) for t in (1, 2, 3)
            ),
        )
        for n in range(10)
    ]


def test_the_risk_of_a_part_is_that_any_of_its_features_fails() -> None:
    found = forecast(fleet(), 1.0, horizon=1.0).prognoses
    (both,) = risks({"load_chain": found[8:]})
    a, b = found[8].beyond_by_horizon, found[9].beyond_by_horizon
    assert both.probability == pytest.approx(1 - (1 - a) * (1 - b))
    assert "K 109, section 1" in both.why  # the likelier of the two


def test_parts_without_prognosis_have_no_risk() -> None:
    assert risks({"load_chain": []}) == ()


def test_verdicts_sort_parts_into_must_borderline_and_open() -> None:
    design = shipped("ardle-2000")
    basis = shipped_basis("b30-hand-hoists")
    entries = Entries(circumstances=Circumstances(day=datetime.date(2026, 11, 2)))
    nothing = examine(design, [basis], entries)
    needs = needs_of(nothing)
    assert (needs.must, needs.borderline) == ((), ())
    assert {need.part for need in needs.open} == {r.part for r in nothing.parts} - {"hoist"}
    look = next(p for p in nothing.points if p.part == "pawl" and not p.measured)
    bad = LookAnswer(part=look.part, feature=look.feature, place=look.place, answer="defect")
    found = needs_of(examine(design, [basis], attrs.evolve(entries, looks=(bad,))))
    assert [need.part for need in found.must] == ["pawl"]
    assert look.name in found.must[0].why
    seen = attrs.evolve(bad, remark="rusted solid on its pin")
    told = needs_of(examine(design, [basis], attrs.evolve(entries, looks=(seen,))))
    assert told.must[0].why == f"{found.must[0].why}: rusted solid on its pin"
