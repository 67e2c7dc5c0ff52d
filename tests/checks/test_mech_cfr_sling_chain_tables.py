"""29 CFR 1910.184 (least size at any point of a link) against 29 CFR 1926.251 (greatest wear).

Number checks only: both tables are for sling chain, allow 19 to 22 % loss and must never pass
a hoist chain. Size less wear of the one gives the other exactly, in inches.
"""

from __future__ import annotations

from fractions import Fraction as Inch

import numpy as np
import pytest

from hoistwright.physics.chain_wear import crown_wear, remaining_section

# nominal size: (least size, 1910.184; greatest wear, 1926.251)
TABLE = {
    Inch(1, 4): (Inch(13, 64), Inch(3, 64)),
    Inch(3, 8): (Inch(19, 64), Inch(5, 64)),
    Inch(1, 2): (Inch(25, 64), Inch(7, 64)),
    Inch(5, 8): (Inch(31, 64), Inch(9, 64)),
    Inch(3, 4): (Inch(19, 32), Inch(5, 32)),
    Inch(7, 8): (Inch(45, 64), Inch(11, 64)),
    Inch(1): (Inch(13, 16), Inch(3, 16)),
    Inch(9, 8): (Inch(29, 32), Inch(7, 32)),
    Inch(5, 4): (Inch(1), Inch(1, 4)),
    Inch(11, 8): (Inch(35, 32), Inch(9, 32)),
    Inch(3, 2): (Inch(19, 16), Inch(5, 16)),
    Inch(7, 4): (Inch(45, 32), Inch(11, 32)),
}
SIZE = np.asarray([float(size) * 0.0254 for size in TABLE])
LEAST = np.asarray([float(least) * 0.0254 for least, _ in TABLE.values()])
WEAR = np.asarray([float(wear) * 0.0254 for _, wear in TABLE.values()])


def test_wear_at_the_least_size_is_the_other_table() -> None:
    assert np.asarray(crown_wear(SIZE, LEAST)) == pytest.approx(WEAR, abs=1e-15)


def test_the_loss_they_allow_is_far_beyond_a_hoist_chain() -> None:
    loss = 1 - np.asarray(remaining_section(LEAST, SIZE, SIZE))
    assert loss.min() > 0.185 and loss.max() < 0.23
