"""Every text in the code of the engines that reads like words for people."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import hoistwright

ROOT = Path(hoistwright.__file__).parent
SAMPLE = "3"
"""Stands for whatever an engine puts in: a figure, which every language can write."""


def modules(*names: str) -> list[Path]:
    """Files by name, or all files of a folder."""
    found: list[Path] = []
    for name in names:
        path = ROOT / name
        found += sorted(path.glob("*.py")) if path.is_dir() else [path]
    return found


def texts(path: Path) -> Iterator[str]:
    """Texts of two words or more that are neither told in an error nor in a docstring; what is
    put in is `SAMPLE`.
    """
    tree = ast.parse(path.read_text("utf-8"))
    silent = set(_silent(tree))
    for node in ast.walk(tree):
        if id(node) in silent:
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        elif isinstance(node, ast.JoinedStr):
            text = "".join(_piece(value) for value in node.values)
        else:
            continue
        if re.search(r"[a-z]{2,}\W+[a-z]{2,}", text.replace(SAMPLE, "")) and " " in text.strip():
            yield " ".join(text.split())


def _piece(value: ast.expr) -> str:
    if isinstance(value, ast.Constant):
        return str(value.value)
    quoted = isinstance(value, ast.FormattedValue) and value.conversion == ord("r")
    return f"'{SAMPLE}'" if quoted else SAMPLE


def _silent(tree: ast.Module) -> Iterator[int]:
    """Nodes inside errors and docstrings, and the constants inside of formatted texts."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise):
            yield from (id(inner) for inner in ast.walk(node))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield id(node.value)
        if isinstance(node, ast.JoinedStr):
            yield from (id(inner) for inner in ast.walk(node) if inner is not node)
