"""The digest: the same on every machine, another after any change of meaning."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.basis.digest import digest_of
from hoistwright.basis.loading import load_basis, shipped_bases, shipped_basis, shipped_folder
from hoistwright.basis.model import Source

Written = Callable[..., Path]
SOURCE = Source(key="book", title="A book")
TEXTS = st.dictionaries(st.text("ab.", min_size=1, max_size=3), st.text("ab=\n", max_size=8))


def test_it_is_the_sha256_of_lengths_names_and_texts() -> None:
    """The rule written out by hand, so that another program can check an adoption."""
    told = "1:a" "3:x\ny" "1:b" "0:" "4:book" "6:A book" "0:" "0:"  # fmt: skip
    assert digest_of({"b": "", "a": "x\ny"}, [SOURCE]) == hashlib.sha256(told.encode()).hexdigest()


@given(TEXTS)
def test_line_endings_marks_and_order_do_not_count(files: dict[str, str]) -> None:
    dos = {name: "\ufeff" + files[name].replace("\n", "\r\n") for name in reversed(list(files))}
    assert digest_of(dos) == digest_of(files)


@given(TEXTS, TEXTS)
def test_other_files_have_another_digest(one: dict[str, str], other: dict[str, str]) -> None:
    assert (digest_of(one) == digest_of(other)) is (one == other)


def test_a_source_under_another_title_counts() -> None:
    assert digest_of({}, [SOURCE]) != digest_of({}, [attrs.evolve(SOURCE, title="Another")])


def test_a_changed_file_changes_it_and_a_copy_does_not(own: Written) -> None:
    folder = own()
    before = load_basis(folder).digest
    throat = folder / "throat.toml"
    throat.write_bytes(throat.read_bytes().replace(b"\n", b"\r\n"))
    assert load_basis(folder).digest == before
    throat.write_bytes(throat.read_bytes().replace(b"5 %", b"6 %"))
    assert load_basis(folder).digest != before


@pytest.mark.parametrize("key", shipped_bases())
def test_it_does_not_depend_on_the_place(key: str, tmp_path: Path) -> None:
    copy = tmp_path / key
    copy.mkdir()
    for file in (shipped_folder() / key).glob("*.toml"):
        (copy / file.name).write_bytes(file.read_bytes())
    assert load_basis(copy).digest == shipped_basis(key).digest
