"""The columns of a price list, and the ways people head them."""

from __future__ import annotations

from collections.abc import Mapping

from hoistwright.sheet.columns import folded

COLUMNS = ("number", "name", "price", "currency", "stock", "lead days", "replaced by", "fits")
"""Columns of the list. `fits` holds design:part pairs."""
FITS_COLUMNS = ("design", "part", "number")
"""Columns of the second table, which says in place of `fits` what each number is for."""

_OTHERS: Mapping[str, str] = {
    "part number": "number", "part no": "number", "article": "number", "item number": "number",
    "référence": "number", "reference": "number", "numéro": "number",
    "description": "name", "part name": "name", "désignation": "name", "nom": "name",
    "unit price": "price", "price each": "price", "prix": "price", "prix unitaire": "price",
    "devise": "currency", "in stock": "stock", "on hand": "stock", "en stock": "stock",
    "lead time": "lead days", "lead time days": "lead days", "days": "lead days",
    "délai": "lead days", "délai jours": "lead days",
    "superseded by": "replaced by", "remplacé par": "replaced by", "remplacée par": "replaced by",
    "for": "fits", "convient à": "fits", "pour": "fits",
    "modèle": "design", "model": "design", "part key": "part", "pièce": "part",
}  # fmt: skip


def column_of(text: str, columns: tuple[str, ...] = COLUMNS) -> str | None:
    """The column that a heading names; None where it names none.

    >>> column_of("Part No."), column_of("Replaced by"), column_of("colour")
    ('number', 'replaced by', None)
    """
    name = folded(text.replace("(", " ").replace(")", " "))
    name = _OTHERS.get(name, name)
    return name if name in columns else None


def is_list_heading(texts: list[str]) -> bool:
    """True for the line that heads the list: it names number and price."""
    return {"number", "price"} <= {column_of(text) for text in texts}


def is_fits_heading(texts: list[str]) -> bool:
    """True for the line that heads the table of what fits what."""
    return {column_of(text, FITS_COLUMNS) for text in texts} >= set(FITS_COLUMNS)
