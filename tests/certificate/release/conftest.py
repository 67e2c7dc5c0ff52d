from __future__ import annotations

import pytest
from release_scene import Scene, make_scene


@pytest.fixture(scope="session")
def scene() -> Scene:
    return make_scene()
