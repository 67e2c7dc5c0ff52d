"""Simulated hoists and the wrong-release figures that are drawn from them."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import attrs
import numpy as np
import pytest

from hoistwright.physics.load_brake import lock_ratio
from hoistwright.wear.fitting import fit
from hoistwright.wear.prognosis import forecast
from hoistwright.wear.simulate import simulate
from hoistwright.wear.simulated_series import chain_series, chain_visits
from hoistwright.wear.simulated_shop import SimulatedHoist, SimulatedUse, SimulatedVisits
from hoistwright.wear.state import states
from hoistwright.wear.visits import Visits, stack
from hoistwright.wear.wrong_release import wrong_release
from hoistwright.wear.wrong_release_figure import wrong_release_svg


def test_the_same_seed_gives_the_same_fleet() -> None:
    plan = SimulatedVisits(missed=0.0)
    a, b = (simulate(20, np.random.default_rng(4), visits=plan) for _ in range(2))
    assert a.read_elongation.tolist() == b.read_elongation.tolist()


def test_wear_only_grows_until_a_renewal() -> None:
    history = simulate(200, np.random.default_rng(2), renew_elongation=0.02)
    kept = ~history.renewed_chain[:-1]
    assert (np.diff(history.elongation, axis=0)[kept] >= 0).all()
    after = history.elongation[1:][history.renewed_chain[:-1]]
    assert np.median(after) < 0.01


def test_readings_scatter_about_the_truth_as_stated() -> None:
    history = simulate(4000, np.random.default_rng(3))
    z = (history.read_elongation - history.elongation) / history.elongation_u
    z = z[np.isfinite(z)]
    assert z.mean() == pytest.approx(0, abs=4 / np.sqrt(z.size))
    assert z.std() == pytest.approx(1, abs=4 / np.sqrt(2 * z.size))


def test_without_lifts_nothing_wears_and_nothing_is_overstrained_without_overloads() -> None:
    still = SimulatedUse(lifts=1e-9, overloads=0.0)
    history = simulate(50, np.random.default_rng(1), use=still)
    assert history.elongation.max() == 0
    assert history.lining_loss.max() == 0


def test_oil_lowers_the_lock_ratio_by_its_share_of_friction() -> None:
    machine, use = SimulatedHoist(), SimulatedUse(oil_on_brake=50.0, brake_friction_spread=0.0)
    history = simulate(30, np.random.default_rng(1), use=use)
    m = machine
    oiled = lock_ratio(
        use.brake_friction * use.oiled_share,
        m.face_radius,
        m.thread_radius,
        m.thread_lead,
        m.thread_friction,
    )
    assert history.oiled.all()
    assert history.lock.ravel() == pytest.approx(np.full(history.lock.size, float(oiled)))


def test_a_dry_chain_wears_faster() -> None:
    wet = simulate(300, np.random.default_rng(1), use=SimulatedUse(neglect=0.0))
    dry = simulate(300, np.random.default_rng(1), use=SimulatedUse(neglect=20.0, care=0.01))
    assert np.median(dry.elongation[-1]) > 2 * np.median(wet.elongation[-1])


def test_series_and_arrays_of_one_history_agree() -> None:
    plan = SimulatedVisits(missed=0.0)
    history = simulate(150, np.random.default_rng(8), visits=plan, renew_elongation=0.02)
    arrays, series = chain_visits(history), stack(chain_series(history))
    assert fit(arrays).log_likelihood == pytest.approx(fit(series).log_likelihood, rel=1e-6)


def test_the_forecast_holds_on_wear_that_the_model_does_not_know() -> None:
    """Archard wear with dry spells and overloads: 90 % intervals of the truth a visit later."""
    plan = SimulatedVisits(years=6.0)
    history = simulate(3000, np.random.default_rng(10), visits=plan)
    first = early(chain_visits(history), 5)
    past = states(first, fit(first))
    mean, sd = past.after(history.time[5] - history.time[4])
    inside = np.abs(history.elongation[5] - mean) <= 1.645 * sd
    assert 0.86 <= inside.mean() <= 0.94  # the model is not the truth here


def early(whole: Visits, count: int) -> Visits:
    names = ("gap", "value", "u", "fresh", "start", "start_u")
    return attrs.evolve(whole, **{name: getattr(whole, name)[:count] for name in names})


def test_gross_errors_are_found_by_the_fleet() -> None:
    plan = SimulatedVisits(wrong_readings=0.01)
    history = simulate(200, np.random.default_rng(5), visits=plan)
    found = forecast(chain_series(history), 0.025, horizon=1.0)
    off = np.abs(history.read_elongation - history.elongation) > 8 * history.elongation_u
    columns = {suspect.column for suspect in found.check.suspects}
    caught = [h for h in np.flatnonzero(off.any(axis=0)) if h in columns]
    assert len(caught) >= 0.5 * off.any(axis=0).sum()


def test_wrong_release_figures_keep_their_order() -> None:
    """What each rule is for: guard bands let less through and cost more; so does looking ahead."""
    found = wrong_release(20_000, seed=3)
    plain = {row.rule: row for row in found.rows if not row.forecast}
    ahead = {row.rule: row for row in found.rows if row.forecast}
    assert found.examinations >= 20_000
    simple, strict = plain["simple acceptance"], plain["guarded, 2 u"]
    assert strict.wrong_release < plain["guarded, 1.645 u"].wrong_release < simple.wrong_release
    assert strict.sound_renewed > simple.sound_renewed
    for rule, row in ahead.items():
        assert row.beyond_by_return < plain[rule].beyond_by_return / 3
        assert row.mean_interval < 1
    # the risk that was asked for is kept, on wear that the model does not know
    assert ahead["guarded, 2 u"].beyond_by_return <= found.risk


def test_maximum_probability_five_percent_is_the_guard_of_1_645() -> None:
    """Φ(−1.645) = 5 %: with a normal error the two rules are one (JCGM 106)."""
    found = wrong_release(5000, seed=4)
    rows = {row.rule: row for row in found.rows if not row.forecast}
    a, b = rows["maximum probability 5 %"], rows["guarded, 1.645 u"]
    assert abs(a.called_fit - b.called_fit) <= 2


def test_the_picture_is_sound_and_told_in_words() -> None:
    found = wrong_release(2000, seed=4)
    root = ET.fromstring(wrong_release_svg(found))
    space = "{http://www.w3.org/2000/svg}"
    assert root.tag == f"{space}svg"
    description = root.findtext(f"{space}desc") or ""
    assert all(row.rule in description for row in found.rows)


@pytest.mark.parametrize("hoists", [0, -1])
def test_no_hoists_are_refused(hoists: int) -> None:
    with pytest.raises(ValueError, match="expected at least one"):
        simulate(hoists, np.random.default_rng(1))
