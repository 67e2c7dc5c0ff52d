"""The recipe in `docs/journal.md`, done as it stands there."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

from hoistwright.store.lines import export_lines
from hoistwright.store.sql_store import SqlStore

DOCUMENT = Path(__file__).parents[2] / "docs" / "journal.md"


def by_hand(folder: Path) -> str:
    recipe = re.search(r"```sh\n(.*?)```", DOCUMENT.read_text(encoding="utf-8"), re.S)
    assert recipe is not None
    done = subprocess.run(
        ["sh", "-c", recipe[1]], cwd=folder, capture_output=True, text=True, check=False
    )
    assert done.stderr == ""
    return done.stdout


def test_the_recipe_agrees_with_a_sound_export(filled: SqlStore, tmp_path: Path) -> None:
    export_lines(filled, tmp_path / "shop.jsonl")
    assert by_hand(tmp_path) == ""


def test_the_recipe_finds_an_altered_entry(filled: SqlStore, tmp_path: Path) -> None:
    path = tmp_path / "shop.jsonl"
    export_lines(filled, path)
    path.write_text(path.read_text().replace('"by":"tomasz"', '"by":"thomas"', 1))
    assert by_hand(tmp_path).startswith('altered: {"at":')
