"""Rules of the house that no type checker holds."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = sorted((ROOT / "src").rglob("*.py"))


def tracked() -> list[Path]:
    """The files of the project: those git tracks, or all where there is no git."""
    try:
        done = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True
        )
    except (OSError, subprocess.CalledProcessError):
        return [p for p in ROOT.rglob("*") if p.is_file() and ".venv" not in p.parts]
    return [ROOT / name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


@pytest.mark.parametrize("path", SOURCE, ids=lambda p: str(p.relative_to(ROOT / "src")))
def test_source_files_are_small(path: Path) -> None:
    """Looked at twice at 400 lines: then it is two ideas."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_no_lock_file_holds_an_address() -> None:
    for path in (ROOT / "requirements").iterdir():
        text = path.read_text(encoding="utf-8")
        assert "http://" not in text
        assert "https://" not in text
        assert "index-url" not in text


def test_no_path_of_some_machine_is_committed() -> None:
    homes = re.compile(r"(?<![\w.])/(?:home|root|Users|work)/\w")
    for path in tracked():
        if path.suffix in {".py", ".md", ".toml", ".typ", ".sh", ".csv", ".txt", ""}:
            found = homes.search(path.read_text(encoding="utf-8", errors="replace"))
            assert found is None, f"{path}: {found and found[0]}"


def test_engines_print_nothing_and_open_no_files() -> None:
    """Only data that ships with an engine may be read, through importlib.resources."""
    engines = {"physics", "metrology", "examine", "strip", "drawing", "check"}
    engines |= {"wear", "renew", "prove", "fleet"}
    calls = re.compile(r"^(?!\s*>>>)(?!\s*def ).*(?<![\w.])(?:print|open)\(", re.M)
    reads = re.compile(r"\.(?:read_text|read_bytes|write_text|write_bytes)\(")
    for path in SOURCE:
        if engines & set(path.relative_to(ROOT / "src").parts):
            text = path.read_text(encoding="utf-8")
            assert calls.search(text) is None, path
            assert reads.search(text) is None or "importlib import resources" in text, path


def test_every_readme_recipe_exists() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    for recipe in re.findall(r"`?make (\w+)", (ROOT / "README.md").read_text(encoding="utf-8")):
        assert re.search(rf"^{recipe}:", makefile, re.M), recipe


def test_every_place_the_documents_name_exists() -> None:
    """A path in backquotes in README or docs that is not a pattern must be there."""
    for document in (ROOT / "README.md", *(ROOT / "docs").glob("*.md")):
        for name in re.findall(
            r"`((?:src|docs|tests|tools|benchmarks)/[\w./-]+)`", document.read_text()
        ):
            assert (ROOT / name).exists(), f"{document.name} names {name}"


def test_every_check_has_its_row_and_every_row_its_check() -> None:
    folder = ROOT / "tests" / "checks"
    rows = re.findall(r"^\| `(test_\w+\.py)`", (folder / "README.md").read_text(), re.M)
    files = sorted(path.name for path in folder.glob("test_*.py"))
    assert sorted(rows) == files


def test_every_verb_has_its_page() -> None:
    from hoistwright.cli.main import VERBS

    text = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    for verb in VERBS:
        assert f"## {verb}\n" in text, verb
