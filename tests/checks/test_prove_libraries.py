"""General reference libraries: least squares of numpy and scipy, Fourier transform of numpy.

Slope of pull over speed with its uncertainty; amplitude of a wave in a pull over time. The
routines are independent of ours; agreement to rounding, the Fourier one to its leakage.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import curve_fit

from hoistwright.hoist.library import shipped
from hoistwright.prove.machine import machine_of
from hoistwright.prove.pocket_ripple import arm
from hoistwright.prove.pull_speed import pull_against_speed
from hoistwright.prove.record import Pull, PullSeries, Readings
from hoistwright.prove.series import series_figures


def test_slope_and_its_uncertainty() -> None:
    speed = np.array([0.10, 0.15, 0.22, 0.30, 0.41])
    force = np.array([351.0, 354.0, 359.0, 362.0, 371.0])
    pulls = [
        Pull(pull=Readings(readings=(float(p),)), load=2000, speed=float(v))
        for v, p in zip(speed, force, strict=True)
    ]
    found = pull_against_speed(pulls)
    assert found is not None
    coefficients, covariance = np.polyfit(speed, force, 1, cov=True)
    assert found.slope == pytest.approx(coefficients[0])
    assert found.u == pytest.approx(np.sqrt(covariance[0, 0]))
    fitted, spread = curve_fit(lambda v, a, b: a + b * v, speed, force)
    assert found.slope == pytest.approx(fitted[1], rel=1e-6)
    assert found.u == pytest.approx(np.sqrt(spread[1, 1]), rel=1e-6)


def test_amplitudes_as_by_fourier_transform() -> None:
    """A whole number of sheave turns: every order falls on a line of the spectrum."""
    machine = machine_of(shipped("ardle-l750"))
    turns, count = 22 * 5, 22 * 5 * 40  # i = 22/7: 110 shaft turns are 35 sheave turns
    theta = np.arange(count) / 40
    shape = arm(theta / machine.ratio, machine.pockets, machine.pitch, machine.wire)
    pull = 250 * shape / shape.mean() * (1 + 0.05 * np.cos(2 * np.pi * theta))
    travel = theta * 2 * np.pi * machine.hand_radius
    series = PullSeries(time=theta + 1.0, pull=pull, load=750, travel=travel)
    spectrum = 2 * np.abs(np.fft.rfft(pull)) / count / pull.mean()
    found = series_figures(series, machine, 0.0).ripple
    at_pocket = round(turns * machine.pockets / machine.ratio)
    assert found["ripple_shaft"].value == pytest.approx(spectrum[turns], abs=2e-3)
    assert found["ripple_pocket"].value == pytest.approx(spectrum[at_pocket], abs=2e-3)
