"""Every public function of the engines says where it comes from and shows itself at work."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator

import pytest

PACKAGES = ["hoistwright.physics"]
"""Engine packages held to this; add a package here when its engines are ready."""


def public_functions(package: str) -> Iterator[tuple[str, Callable[..., object]]]:
    root = importlib.import_module(package)
    for found in pkgutil.walk_packages(root.__path__, f"{package}."):
        module = importlib.import_module(found.name)
        for name, thing in vars(module).items():
            own = inspect.isfunction(thing) and thing.__module__ == module.__name__
            if own and not name.startswith("_"):
                yield f"{found.name}.{name}", thing


FUNCTIONS = [pair for package in PACKAGES for pair in public_functions(package)]


def test_the_walk_finds_functions_in_every_package() -> None:
    for package in PACKAGES:
        assert sum(name.startswith(package) for name, _ in FUNCTIONS) > 10


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_docstring_has_meaning_sections_example_and_source(
    name: str, function: Callable[..., object]
) -> None:
    text = inspect.getdoc(function) or ""
    assert text.splitlines()[0].endswith("."), f"{name}: first line is no sentence"
    for section in ("Args:", "Raises:", "References:"):
        assert f"\n{section}\n" in text, f"{name}: no section {section}"
    source = text.split("\nReferences:\n")[1].strip()
    assert source, f"{name}: empty References"
    assert ">>> " in text, f"{name}: no doctest"


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_every_argument_is_described(name: str, function: Callable[..., object]) -> None:
    text = inspect.getdoc(function) or ""
    for argument in inspect.signature(function).parameters:
        assert f"\n    {argument}: " in text, f"{name}: argument {argument} is not described"
