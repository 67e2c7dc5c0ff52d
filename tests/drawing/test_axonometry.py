"""The projection is a true parallel projection at right angles to the paper."""

import numpy as np
import pytest

from hoistwright.drawing.project import HANGING, SHAFT, TO_PAPER, TO_VIEWER, Frame


def test_fundamental_theorem_of_axonometry() -> None:
    """Gauss: the images of three unit vectors at right angles, read as complex numbers, have
    squares that sum to nought (from memory). Holds for every such projection and for no
    oblique one, up to rounding."""
    images = TO_PAPER[:, 0] + 1j * TO_PAPER[:, 1]
    assert abs((images**2).sum()) < 1e-12
    assert (abs(images) ** 2).sum() == pytest.approx(2.0, abs=1e-12)


def test_viewer_sees_wheel_side_front_and_top() -> None:
    """Faces to the wheel side (-x), to the front (-y) and upwards (+z) are turned to the viewer."""
    assert TO_VIEWER[0] < 0
    assert TO_VIEWER[1] < 0
    assert TO_VIEWER[2] > 0
    assert np.linalg.norm(TO_VIEWER) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("frame", [SHAFT, HANGING])
def test_frames_are_at_right_angles(frame: Frame) -> None:
    assert np.allclose(frame.axes @ frame.axes.T, np.eye(3), atol=1e-12)


def test_shaft_rises_to_the_right_and_hangs_straight_down() -> None:
    along = SHAFT.paper(np.array([[0.0, 0.0, 1.0]]))[0]
    down = HANGING.paper(np.array([[0.0, 0.0, 1.0]]))[0]
    assert along[0] > 0
    assert along[1] > 0
    assert down[0] == pytest.approx(0.0, abs=1e-12)
    assert down[1] < 0
