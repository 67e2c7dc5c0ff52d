"""Price lists as shops send them: CSV and XLSX, and everything that can be wrong with one."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.demo.shop_files import demo_folder
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.pricing.kept import book_of, book_text
from hoistwright.pricing.known import shipped_parts, without_price
from hoistwright.pricing.read import prices_of, read_prices
from hoistwright.renew.prices import PriceBook

HEAD = "part number,name,price,stock,lead days,replaced by,fits\n"


def csv_list(*rows: str, head: str = HEAD) -> PriceBook:
    return prices_of((head + "\n".join(rows) + "\n").encode(), "list.csv")


def faults(*rows: str, head: str = HEAD) -> list[str]:
    with pytest.raises(FaultsError) as caught:
        prices_of(
            (head + "\n".join(rows) + "\n").encode(), "list.csv", known={"ardle-2000": {"pawl"}}
        )
    return [str(fault) for fault in caught.value.faults]


def workbook(sheets: dict[str, Sequence[Sequence[object]]]) -> bytes:
    """Written by a spreadsheet library of its own, as a supplier's program would."""
    import openpyxl

    book = openpyxl.Workbook()
    del book[book.sheetnames[0]]
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_a_list_is_read() -> None:
    book = csv_list(
        'P-1,pawl,"GBP 1,234.50",3,5,,ardle-2000:pawl; ardle-500:pawl', "P-2,washer,GBP 0.40,90,2,,"
    )
    assert book.currency == "GBP"
    assert book.lines["P-1"].price == 123450
    assert (book.lines["P-1"].stock, book.lines["P-1"].lead_days) == (3, 5)
    assert book.of_design("ardle-500").price("pawl", 2) == 2 * 123450
    assert book.of_design("ardle-3000").price("pawl", 2) is None


def test_a_list_in_french_with_semicolons_and_decimal_commas() -> None:
    head = "Référence;Désignation;Prix;Devise;En stock;Délai;Remplacé par\n"
    book = csv_list("P-1;cliquet;12,50;EUR;3;5;P-2", "P-2;cliquet;13,00;EUR;0;;", head=head)
    found = book.of_design("x").of("P-1")
    assert found is not None
    assert (book.currency, found.line.price, found.through) == ("EUR", 1300, ("P-2",))


def test_every_fault_is_told_at_once_with_line_and_column() -> None:
    told = faults(
        "P-1,pawl,GBP 12.50,3,5,P-9,",
        ",nameless,GBP 1,1,1,,",
        "P-2,disc,GBP 1.234,many,-3,,ardle-2000:paul",
        "P-1,pawl,EUR 12.50,3,5,,ardle-2000",
        "P-3,ring,GBP 1,1,1,P-4,",
        "P-4,ring,GBP 1,1,1,P-3,",
    )
    text = "\n".join(told)
    assert "line 2, column 6 (replaced by): read 'P-9'; expected a part number" in text
    assert "line 3, column 1 (number): read nothing; expected a part number" in text
    assert "line 4, column 3 (price): read 'GBP 1.234'" in text
    assert "Type 1234.00 if so" in text
    assert "column 4 (stock): read 'many'; expected a whole number of pieces" in text
    assert "column 5 (lead days): read '-3'" in text
    assert "read 'ardle-2000:paul'; expected a part of ardle-2000. Did you mean 'pawl'?" in text
    assert "line 5, column 1 (number): read 'P-1' a second time (first in line 2)" in text
    assert "expected GBP, as the rest of the list" in text
    assert "pairs of design and part such as ardle-2000:pawl" in text
    assert text.count("stands on its own") == 1
    assert "P-3 → P-4 → P-3" in text


def test_two_numbers_for_one_part_are_a_fault() -> None:
    told = faults("P-1,a,GBP 1,1,1,,ardle-2000:pawl", "P-2,b,GBP 1,1,1,,ardle-2000:pawl")
    assert told == [
        "list.csv, line 3, column 7 (fits): read 'P-2'; expected one number for ardle-2000:pawl; "
        "P-1 fits it, too"
    ]


def test_a_price_without_currency_is_asked_back_and_a_shop_with_another_one_is_told() -> None:
    assert "expected a price with its currency" in faults("P-1,pawl,12.50,3,5,,")[0]
    with pytest.raises(FaultsError, match="expected EUR, as the rest of the list"):
        prices_of((HEAD + "P-1,pawl,GBP 12.50,3,5,,\n").encode(), "l.csv", currency="EUR")


def test_a_price_of_nothing_is_not_known_rather_than_free() -> None:
    book = csv_list("P-1,pawl,,3,5,,", "P-2,disc,GBP 0.00,3,5,,")
    assert book.lines["P-1"].price is None
    assert book.lines["P-2"].price == 0


def test_a_workbook_with_a_second_table_of_what_fits() -> None:
    data = workbook(
        {
            "Prices": [
                ["Autumn list"],
                ["Part no", "Name", "Price", "Currency", "Stock", "Lead days"],
                ["P-1", "pawl", 12.5, "GBP", 3, 5],
                [4711, "disc", 8.1, "GBP", 0, 12],
            ],
            "Fits": [["design", "part", "number"], ["ardle-2000", "pawl", "P-1"],
                     ["ardle-2000", "friction_disc_inner", 4711]],
            "Remarks": [["anything at all"]],
        }
    )  # fmt: skip
    book = prices_of(data, "list.xlsx", known=shipped_parts())
    assert book.lines["4711"].price == 810
    assert book.of_design("ardle-2000").price("friction_disc_inner", 1) == 810
    assert book.of_design("ardle-2000").price("pawl", 2) == 2500


def test_faults_of_a_workbook_name_sheet_row_and_column() -> None:
    data = workbook({"Prices": [["number", "price"], ["P-1", "GBP twelve"]]})
    with pytest.raises(FaultsError) as caught:
        prices_of(data, "list.xlsx")
    assert str(caught.value).startswith("list.xlsx, sheet Prices, row 2, column B (price): read")


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04rubbish", b"\xff\xfe\x00", b"a;b;c\n1;2;3\n"])
@pytest.mark.parametrize("name", ["l.csv", "l.xlsx", "l.pdf"])
def test_what_is_no_list_is_refused_in_plain_words(data: bytes, name: str) -> None:
    with pytest.raises(FaultsError, match="expected"):
        prices_of(data, name)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="No such file"):
        read_prices(tmp_path / "none.csv")


@given(st.binary(max_size=400))
def test_no_bytes_bring_the_reader_down(data: bytes) -> None:
    for name in ("l.csv", "l.xlsx"):
        try:
            prices_of(data, name)
        except FaultsError as error:
            assert error.faults


def test_a_list_is_kept_and_comes_back_the_same() -> None:
    book = read_prices(demo_folder() / "prices.csv")
    assert book_of(book_text(book)) == book
    assert book_of("") == PriceBook()


def test_the_demo_list_has_numbers_for_every_part_of_the_shipped_designs() -> None:
    book = read_prices(demo_folder() / "prices.csv", currency="GBP", known=shipped_parts())
    for key in shipped_keys():
        design = shipped(key)
        asked = {part.key for part in design.parts if part.role != "hoist"}
        assert asked <= set(book.of_design(key).numbers)
    # three prices are on request, so that the bench has something to ask for
    assert sum(len(without_price(book, shipped(key))) for key in shipped_keys()) == 3
    assert book.of_design("ardle-2000").of("pawl").words  # type: ignore[union-attr]
