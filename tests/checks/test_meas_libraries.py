"""Our budgets against two independent uncertainty libraries over random cases.

Source: GTC 1.5 (uncertain numbers with degrees of freedom) and uncertainties 3.2 (linear error
propagation by automatic differentiation), both run here. 600 seeded cases of each kind; inputs
span eight decades of size. Tolerance: 1e-9 relative for u (both sides are float arithmetic, the
libraries sum in another order), 1e-8 for degrees of freedom (fourth powers), 1e-9 for k.
"""

from __future__ import annotations

import math
from typing import Any

import GTC
import numpy as np
import pytest
import uncertainties  # type: ignore[import-untyped]

from hoistwright.metrology import (
    Component,
    Form,
    budget,
    coverage_factor,
    derived_budget,
    judge_rows,
)

CASES = 600


def random_parts(rng: np.random.Generator) -> list[tuple[float, float, float]]:
    """Value 1, u, ν for each part; a third of them known from knowledge alone (ν infinite)."""
    n = int(rng.integers(1, 7))
    dofs = [math.inf if rng.random() < 1 / 3 else float(rng.integers(1, 61)) for _ in range(n)]
    return [(float(10 ** rng.uniform(-6, 2)), float(rng.normal()), dof) for dof in dofs]


def test_linear_budgets_equal_gtc() -> None:
    rng = np.random.default_rng(20_081)
    for _ in range(CASES):
        parts = random_parts(rng)
        ours = budget([Component("x", u, c, dof) for u, c, dof in parts])
        theirs: Any = sum(c * GTC.ureal(1.0, u, dof) for u, c, dof in parts)
        assert float(ours.u) == pytest.approx(GTC.uncertainty(theirs), rel=1e-9)
        if float(ours.dof) < 1e6:  # GTC calls anything far above infinite
            assert float(ours.dof) == pytest.approx(GTC.dof(theirs), rel=1e-8)
        if float(ours.dof) < 1e3:  # and takes k from the normal distribution even sooner
            k = GTC.reporting.k_factor(float(ours.dof), 95)
            assert float(coverage_factor(0.95, float(ours.dof))) == pytest.approx(k, rel=1e-9)


def expression(form: Form, x: Any, x0: Any) -> Any:
    return {
        Form.DIRECT: lambda: x,
        Form.DIFFERENCE: lambda: x - x0,
        Form.RISE: lambda: (x - x0) / x0,
        Form.LOSS: lambda: (x0 - x) / x0,
        Form.REMAINING: lambda: x / x0,
    }[form]()


@pytest.mark.parametrize("form", Form)
def test_derived_quantities_equal_both_libraries(form: Form) -> None:
    rng = np.random.default_rng(sum(map(ord, form.name)))
    for _ in range(CASES):
        x0 = float(10 ** rng.uniform(-3, 0))
        x = x0 * float(rng.uniform(0.7, 1.3))
        u, u0 = (x0 * float(10 ** rng.uniform(-5, -2)) for _ in range(2))
        dof, dof0 = (float(rng.integers(2, 50)) for _ in range(2))
        y, ours = derived_budget(
            form,
            x,
            budget([Component("x", u, dof=dof)]),
            x0,
            budget([Component("x0", u0, dof=dof0)]),
        )
        gtc = expression(form, GTC.ureal(x, u, dof), GTC.ureal(x0, u0, dof0))
        other = expression(form, uncertainties.ufloat(x, u), uncertainties.ufloat(x0, u0))
        assert float(y) == pytest.approx(GTC.value(gtc), rel=1e-9, abs=1e-15)
        assert float(ours.u) == pytest.approx(GTC.uncertainty(gtc), rel=1e-9)
        assert float(ours.u) == pytest.approx(other.std_dev, rel=1e-9)
        assert float(ours.dof) == pytest.approx(GTC.dof(gtc), rel=1e-8)


def test_rows_equal_the_libraries_row_by_row() -> None:
    rng = np.random.default_rng(5)
    x0 = rng.uniform(0.01, 0.2, CASES)
    x = x0 * rng.uniform(1.0, 1.04, CASES)
    scale, repeat = rng.uniform(1e-5, 1e-4, (2, CASES))
    dof = np.where(rng.random(CASES) < 0.5, np.inf, rng.integers(1, 30, CASES))
    rows = judge_rows(
        Form.RISE,
        x,
        [Component("scale", scale), Component("repeats", repeat, dof=dof, kind="A")],
        0.02,
        as_new=x0,
        as_new_components=[Component("new", 2e-5)],
    )
    for i in range(CASES):
        reading = (
            float(x[i]) + GTC.ureal(0, float(scale[i])) + GTC.ureal(0, float(repeat[i]), dof[i])
        )
        new = GTC.ureal(float(x0[i]), 2e-5)
        rise = (reading - new) / new
        assert rows.uncertainty[i] == pytest.approx(GTC.uncertainty(rise), rel=1e-9)
        if rows.dof[i] < 1e6:
            assert rows.dof[i] == pytest.approx(GTC.dof(rise), rel=1e-8)
