"""DIN 3990-3 / ISO 6336-3, chart of form factors Y_Fa for tip load, rack 1.25 / 0.38 (read from
memory off the chart, so 3 %): 20 teeth 2.80, 30 teeth 2.52, 100 teeth 2.18, without shift.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoistwright.physics.tooth_form import form_factor_from_shape


def test_chart_without_profile_shift() -> None:
    found = 1 / np.asarray(form_factor_from_shape([20, 30, 100]))
    assert found == pytest.approx([2.80, 2.52, 2.18], rel=0.03)
