"""The pass over many rows gives what the single steps give, row for row."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.metrology import (
    Component,
    Form,
    Side,
    budget,
    decide,
    derived_budget,
    guarded,
    judge_rows,
)

lengths = st.floats(0.001, 1.0)
spreads = st.floats(0, 0.01)
dofs = st.floats(1, 100) | st.just(math.inf)
row = st.tuples(lengths, lengths, spreads, spreads, dofs)


@given(
    st.lists(row, min_size=1, max_size=10),
    st.sampled_from(Form),
    st.floats(-0.5, 0.5),
    st.sampled_from(Side),
    st.sampled_from([0.0, 1.645, 2.0]),
)
def test_rows_equal_the_single_steps(
    rows: list[tuple[float, float, float, float, float]],
    form: Form,
    limit: float,
    side: Side,
    r: float,
) -> None:
    x, x0, a, b, dof = np.array(rows).T
    own = [Component("a", a), Component("b", b, dof=dof, kind="A"), Component("c", 1e-6)]
    new = [Component("n", 2e-5, dof=9.0)]
    many = judge_rows(form, x, own, limit, side, as_new=x0, as_new_components=new, rule=guarded(r))
    for i, (x1, x01, a1, b1, dof1) in enumerate(rows):
        own1 = [Component("a", a1), Component("b", b1, dof=dof1), Component("c", 1e-6)]
        y, combined = derived_budget(form, x1, budget(own1), x01, budget(new))
        u, nu = float(many.uncertainty[i]), float(many.dof[i])
        assert float(y) == many.value[i]
        assert float(combined.u) == pytest.approx(u, rel=1e-14)
        assert float(combined.dof) == pytest.approx(nu, rel=1e-12)
        alone = decide(float(y), u, limit, side, dof=nu, rule=guarded(r))
        assert alone.codes == many.codes[i]
        assert alone.beyond == many.beyond[i]
        single = judge_rows(
            form, x1, own1, limit, side, as_new=x01, as_new_components=new, rule=guarded(r)
        )
        assert single.codes.shape == ()
        assert (single.uncertainty, single.codes) == (many.uncertainty[i], many.codes[i])


def test_blocks_join_without_a_seam() -> None:
    x = np.linspace(0.16, 0.17, 200_001)
    whole = judge_rows(Form.RISE, x, [Component("s", 1e-4)], 0.02, as_new=0.16)
    half = judge_rows(Form.RISE, x[170_000:], [Component("s", 1e-4)], 0.02, as_new=0.16)
    assert np.array_equal(whole.codes[170_000:], half.codes)
    assert np.array_equal(whole.beyond[170_000:], half.beyond)


def test_a_missing_baseline_is_not_established() -> None:
    judged = judge_rows(
        Form.RISE, np.full(2, 0.16), [Component("s", 1e-4)], 0.02, as_new=np.array([np.nan, 0.16])
    )
    assert judged.codes.tolist() == [2, 0]


def test_refuses() -> None:
    scale = [Component("s", 1e-4)]
    with pytest.raises(ValueError, match="no component"):
        judge_rows(Form.DIRECT, 1.0, [], 2.0)
    with pytest.raises(ValueError, match="common length"):
        judge_rows(Form.DIRECT, np.ones(3), scale, np.ones(2))
    with pytest.raises(ValueError, match="common length"):
        judge_rows(Form.DIRECT, np.ones((3, 2)), scale, 2.0)
    with pytest.raises(ValueError, match="neither"):
        judge_rows(Form.DIRECT, np.ones(3), scale, 2.0, 5)


@given(st.integers(1, 5000), st.integers(1, 400), st.sampled_from([1, 10, 25, 50]))
def test_exactly_at_its_limit_by_hand_is_at_its_limit(new: int, step: int, per_mille: int) -> None:
    """165 mm and 2 % give 168.3 mm in whole-number arithmetic; the limit must then be met."""
    x0, x = new * step / 1000, new * step * (1000 + per_mille) / 1_000_000
    judged = judge_rows(Form.RISE, x, [Component("scale", 1e-5)], per_mille / 1000, as_new=x0)
    assert judged.codes == 3
    less = new * step * (1000 - per_mille) / 1_000_000
    judged = judge_rows(Form.LOSS, less, [Component("scale", 1e-5)], per_mille / 1000, as_new=x0)
    assert judged.codes == 3
