"""`docs/bases.md` against the files and the program."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from hoistwright.basis.adoption import Adoption
from hoistwright.basis.loading import load_basis, shipped_bases, shipped_basis
from hoistwright.basis.table import criteria_table, refreshed
from hoistwright.datafile import structure_table
from hoistwright.faults import FaultsError

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "docs" / "bases.md").read_text(encoding="utf-8")
BASES = [shipped_basis(key) for key in shipped_bases()]


def test_its_tables_are_those_of_the_files() -> None:
    """Otherwise: `.venv/bin/python tools/refresh_bases_doc.py`."""
    assert refreshed(TEXT, BASES) == TEXT


def test_a_table_has_a_row_per_criterion_and_no_stray_bar() -> None:
    for basis in BASES:
        rows = criteria_table(basis.criteria).splitlines()
        assert len(rows) == len(basis.criteria) + 2
        assert {row.count("|") for row in rows} == {7}


def test_a_document_without_a_place_for_them_is_refused() -> None:
    with pytest.raises(ValueError, match="no place for the tables"):
        refreshed("# Bases", BASES)


def test_its_list_of_bases_is_complete() -> None:
    assert re.findall(r"^\| `([a-z0-9-]+)` \|", TEXT.split("## What rules when")[0], re.M) == (
        ["b30-hand-hoists", "europe-round-link", "us-federal", "uk-loler", "workshop-practice"]
    )


def test_its_adoption_is_one() -> None:
    (table,) = tomllib.loads(_block("toml"))["adoptions"]
    assert structure_table(table, Adoption).basis in shipped_bases()


def test_its_faults_read_so(own: Callable[..., Path]) -> None:
    folder = own()
    sound = (folder / "throat.toml").read_text(encoding="utf-8")
    (folder / "throat.toml").unlink()
    broken = sound.replace("asme-b30.10", "asme-b31").replace("5 %", "5")
    (folder / "hook_throat.toml").write_text(broken, encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        load_basis(folder)
    said = {str(f).removeprefix(f"{folder.parent}/") for f in caught.value.faults}
    for line in _block("").splitlines():
        assert any(text.startswith(line.split("…")[0]) for text in said), line


def test_every_file_it_names_is_there() -> None:
    for name in re.findall(r"`((?:src|tests|tools|docs)/[\w./-]+\w)`", TEXT):
        assert (ROOT / name).exists(), name


def _block(language: str) -> str:
    found = re.search(rf"^```{language}\n(.*?)^```$", TEXT, re.M | re.S)
    if language == "":
        found = re.search(r"^```\n(own/.*?)^```$", TEXT, re.M | re.S)
    assert found
    return found[1]
