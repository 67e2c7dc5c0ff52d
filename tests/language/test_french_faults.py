"""Faults of a filled sheet, told in French: what was typed stays as it was typed."""

from __future__ import annotations

import pytest

from hoistwright.demo.shop_files import demo_folder, demo_sheets
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.shop_file import load_shop
from hoistwright.language import language
from hoistwright.quantity import Dimension, QuantityError, parse
from hoistwright.sheet import read_sheet
from hoistwright.web.fault_words import fault_words, figure_words

FRENCH = language("fr")


def mistakes() -> list[Fault]:
    """The faults of the demo sheet that is full of typing mistakes."""
    path = next(path for path in demo_sheets() if "mistakes" in path.stem)
    with pytest.raises(FaultsError) as caught:
        read_sheet(path, shop=load_shop(demo_folder() / "shop.toml"))
    return list(caught.value.faults)


def test_every_mistake_of_the_demo_sheet_is_told_in_french() -> None:
    faults = mistakes()
    assert len(faults) >= 10
    lacking = {
        piece
        for fault in faults
        for text in (fault.expected, fault.mend)
        for piece in FRENCH.lacking(text)
    }
    assert lacking == set()
    for fault in faults:
        said = fault_words(fault, FRENCH)
        assert f"ligne {fault.place.line}" in said
        assert "expected" not in said


def test_what_was_typed_is_not_translated() -> None:
    """Somebody typed "hook" where a figure was wanted: the fault shows just that."""
    fault = Fault(Place(sheet="Relevés", row=7, column="H"), "'hook'", "a figure of zero or more")
    said = fault_words(fault, FRENCH)
    assert "'hook'" in said
    assert said.startswith("feuille Relevés, rangée 7, colonne H")
    assert said.endswith("un nombre de zéro ou plus")


def test_english_is_the_fault_itself() -> None:
    for fault in mistakes():
        assert fault_words(fault, language("en")) == str(fault)


@pytest.mark.parametrize("dimension", [Dimension.LENGTH, Dimension.MASS, Dimension.ANGLE])
@pytest.mark.parametrize(
    "typed",
    ["abc", "24,9.1", "1,234", "12 kg", "12 mm", "5", "1/0", "2 ton", "1 5/4 in", "1e5", "inf", "",
     "9" * 400, "12 foo"],
)  # fmt: skip
def test_wrong_figures_are_told_in_french(typed: str, dimension: Dimension) -> None:
    try:
        parse(typed, dimension)
    except QuantityError as error:
        told = [text for text in (error.expected, error.mend) if text]
        assert [FRENCH.lacking(text) for text in told] == [()] * len(told)
        assert "attendu" in figure_words(error, FRENCH)
    else:
        assert dimension is not Dimension.LENGTH or typed == "12 mm"
