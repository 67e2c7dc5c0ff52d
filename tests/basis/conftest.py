"""A small basis in a folder that a test may break."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

HEAD = """format = 1
key = "own"
title = "Own basis"
"""

CRITERION = """id = "own-throat"
title = "Hook opened"
feature = "hook.throat"
comparison = "rise from as new"

[[limit]]
since = 2005-12-05
value = "5 %"
source = "asme-b30.10"
clause = "10"
edition = "2005"
known = "memory"
"""

Written = Callable[..., Path]


@pytest.fixture
def own(tmp_path: Path) -> Written:
    """Write a basis `own` whose files the keywords replace or add; gives its folder."""

    def write(head: str = HEAD, throat: str = CRITERION, **more: str) -> Path:
        folder = tmp_path / "own"
        folder.mkdir(exist_ok=True)
        files = {"basis": head, "throat": throat, **more}
        for name, text in files.items():
            (folder / f"{name}.toml").write_text(text, encoding="utf-8", newline="")
        return folder

    return write
