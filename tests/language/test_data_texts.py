"""Texts of the data files that pages and papers show: bases, designs, take-apart graphs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs
import pytest

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.check import check_design
from hoistwright.hoist.feature import catalogue
from hoistwright.hoist.library import load_design, shipped, shipped_keys
from hoistwright.language import language
from hoistwright.strip.plan import full_strip
from hoistwright.strip.rebuild import rebuild
from hoistwright.web.plate import Plate, begun_design

KEYS = {
    "key", "id", "digest", "basis", "criterion", "feature", "role", "part", "step", "use",
    "design", "way", "known", "purpose", "instead", "since", "as_new", "dimension", "maker",
    "model", "stage",
}  # fmt: skip
"""Fields that hold keys, words of the program, or names that stay as they are."""


def texts(value: Any, field: str = "") -> Iterator[str]:
    """Every text inside a value that is read out of a data file."""
    if isinstance(value, str):
        if field not in KEYS:
            yield value
    elif attrs.has(type(value)):
        for each in attrs.fields(type(value)):
            yield from texts(getattr(value, each.name), each.name)
    elif isinstance(value, dict):
        for item in value.values():
            yield from texts(item, field)
    elif isinstance(value, tuple | list | frozenset):
        for item in value:
            yield from texts(item, field)


def lacking(found: Iterator[str] | list[str]) -> set[str]:
    french = language("fr")
    return {piece for text in found for piece in french.lacking(text)}


@pytest.mark.parametrize("key", shipped_bases())
def test_bases(key: str) -> None:
    sources = {source.key for source in shipped_basis(key).sources}
    assert lacking(texts(shipped_basis(key))) - sources == set()


@pytest.mark.parametrize("key", shipped_keys())
def test_designs(key: str) -> None:
    design = shipped(key)
    shown = [design.identity.kind, design.identity.note]
    for part in design.parts:
        shown += [part.name, part.note, part.material]
    assert lacking([*shown, *texts(design.maker_limits)]) == set()


@pytest.mark.parametrize("key", shipped_keys())
def test_figures_that_follow_from_a_design(key: str) -> None:
    """How each is derived and from where: the page of a design shows both."""
    found = check_design(shipped(key)).figures
    assert len(found) > 20
    assert lacking([text for f in found for text in (f.how, f.source, f.limit_source)]) == set()


def test_what_is_not_known_of_a_design_just_begun(tmp_path: Path) -> None:
    """The page of a begun design says in French what to count and measure next."""
    path = tmp_path / "begun.toml"
    path.write_text(begun_design(Plate(), "begun"))
    remarks = check_design(load_design(path)).of("unknown")
    assert len(remarks) > 20
    told = [text for r in remarks for text in (r.read, r.expected, r.mend)]
    assert lacking(told) == set()


@pytest.mark.parametrize("key", shipped_keys())
def test_strip_and_rebuild(key: str) -> None:
    plan = full_strip(shipped(key))
    assert lacking([*texts(plan), *texts(rebuild(shipped(key), plan))]) == set()


def test_the_feature_catalogue() -> None:
    roles = catalogue()
    assert len(roles) > 20
    assert lacking(texts(roles)) - set(roles) == set()
