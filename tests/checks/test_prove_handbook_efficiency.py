"""Handbook figures for hand hoists (read in a handbook): about 85 % for a spur-geared one.

The band that the proof expects must hold that figure for every shipped hand chain hoist, and
must not hold the 50 % of a screw-geared or the 35 % of a differential one.
"""

from __future__ import annotations

import pytest

from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.prove.found_drive import _expected_efficiency
from hoistwright.prove.machine import machine_of

KEYS = [key for key in shipped_keys() if shipped(key).identity.kind == "hand chain hoist"]


@pytest.mark.parametrize("key", KEYS)
def test_the_band_holds_the_handbook_figure_and_no_other_kind(key: str) -> None:
    band = _expected_efficiency(machine_of(shipped(key)))
    assert band.low is not None
    assert band.high is not None
    assert band.low <= 0.85 <= band.high
    assert band.low > max(0.50, 0.35)
