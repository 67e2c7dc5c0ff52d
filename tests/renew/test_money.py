"""Amounts as people type them."""

from __future__ import annotations

import pytest
from babel.numbers import format_decimal
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.renew.book_changes import changes
from hoistwright.renew.money import MoneyError, amount_of, money
from hoistwright.renew.prices import PriceBook, PriceLine


@given(st.integers(0, 10**9), st.sampled_from(["en_GB", "fr_FR", "de_DE", "de_CH"]))
def test_amounts_as_other_languages_write_them(minor: int, locale: str) -> None:
    """Written by a library of its own; the mark before two last digits is the decimal mark."""
    text = str(format_decimal(minor / 100, "#,##0.00", locale=locale)).replace("’", "'")
    assert amount_of(text) == (minor, "")
    assert amount_of(f"{text} EUR") == (minor, "EUR")


@given(st.integers(0, 10**11 - 1))
def test_what_we_write_we_read(minor: int) -> None:
    assert amount_of(money(minor, "GBP")) == (minor, "GBP")


@pytest.mark.parametrize("text", ["1,234", "1.234", "12.345", "999,000"])
def test_three_digits_after_one_mark_are_not_guessed_at(text: str) -> None:
    with pytest.raises(MoneyError, match="one way only"):
        amount_of(text)


@pytest.mark.parametrize(
    "text", ["", "twelve", "-1", "1.2.3", "12.345.67", "1,23,456", "GBP 1 EUR", "$5", "1e3", "٣"]
)
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(MoneyError, match="expected"):
        amount_of(text)


numbers = st.sampled_from(["A", "B", "C", "D"])
books = st.dictionaries(
    numbers, st.tuples(st.none() | st.integers(0, 9), st.integers(0, 3)), max_size=4
).map(
    lambda lines: PriceBook(
        currency="GBP",
        lines={n: PriceLine(number=n, price=p, stock=s) for n, (p, s) in lines.items()},
        fits={("d", n): n for n in lines},
    )
)


@given(books, books)
def test_changes_are_none_exactly_where_two_lists_say_the_same(
    one: PriceBook, two: PriceBook
) -> None:
    assert changes(one, one) == ()
    found = changes(one, two)
    assert (found == ()) == (one == two)
    assert {c.number for c in found if c.what == "new"} == set(two.lines) - set(one.lines)
    assert {c.number for c in found if c.what == "gone"} == set(one.lines) - set(two.lines)
