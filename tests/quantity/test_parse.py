"""What people type, and what must come of it. Expected values are plain arithmetic."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.quantity import Dimension, Length, QuantityError, parse, show, units_of

D = Dimension


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("2 t", D.MASS, 2000.0),
        ("2t", D.MASS, 2000.0),
        ("1 250 kg", D.MASS, 1250.0),
        ("1\u00a0250\u202f000 g", D.MASS, 1250.0),
        ("1/4 in", D.LENGTH, 0.00635),
        ("1 1/4 in", D.LENGTH, 0.03175),
        ('1-1/4"', D.LENGTH, 0.03175),
        ("1½ in.", D.LENGTH, 0.0381),
        ("¼″", D.LENGTH, 0.00635),
        (".5 in", D.LENGTH, 0.0127),
        ("249,8 mm", D.LENGTH, 0.2498),
        ("\ufeff249.8 MM", D.LENGTH, 0.2498),
        ("−5 mm", D.LENGTH, -0.005),
        ("٣ mm", D.LENGTH, 0.003),
        ("0,250 mm", D.LENGTH, 0.000_25),  # no thousand begins with 0: one reading only
        ("1250.125 kg", D.MASS, 1250.125),  # four digits before the mark: one reading only
        ("1 250.500 kg", D.MASS, 1250.5),
        ("1,250.5 kg", D.MASS, 1250.5),
        ("1.250,5 kg", D.MASS, 1250.5),
        ("1,250,000 N", D.FORCE, 1_250_000.0),
        ("180 deg", D.ANGLE, math.pi),
        ("12.5°", D.ANGLE, math.radians(12.5)),
        ("2 %", D.RATIO, 0.02),
        ("0.02", D.RATIO, 0.02),
        ("200 N/mm²", D.STRESS, 200e6),
        ("5 N·m", D.TORQUE, 5.0),
        ("20 °C", D.TEMPERATURE, 293.15),
        ("68 F", D.TEMPERATURE, 293.15),
        ("9 °F", D.TEMPERATURE_DIFFERENCE, 5.0),
        ("24 teeth", D.COUNT, 24.0),
        ("5 thou", D.LENGTH, 0.000_127),
    ],
)
def test_reads(text: str, dimension: Dimension, si: float) -> None:
    assert parse(text, dimension).si == pytest.approx(si, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "decimal", "si"),
    [
        ("1,250", ".", 1.25), ("1.250", ",", 1.25), ("1,250", ",", 0.001_25),
        ("1.250", ".", 0.001_25), ("1,250.75", ".", 1.250_75), ("1.250,75", ",", 1.250_75),
    ],
)  # fmt: skip
def test_a_stated_decimal_mark_settles_the_reading(text: str, decimal: str, si: float) -> None:
    assert parse(text, D.LENGTH, unit="mm", decimal=decimal).si == pytest.approx(si, rel=1e-15)


@pytest.mark.parametrize("text", ["1,250 kg", "1.250 kg", "12.500 kg", "-999,999 kg"])
def test_two_readings_are_named_and_refused(text: str) -> None:
    with pytest.raises(QuantityError, match="can be read as") as caught:
        parse(text, D.MASS)
    digits = text.removesuffix(" kg").lstrip("-")
    assert digits.replace(",", "").replace(".", "") in caught.value.read
    assert digits.replace(",", ".") in caught.value.read
    assert "decimal mark" in caught.value.mend


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", ".", ",", "-", "mm", "nan", "inf", "-inf mm", "1e3 mm", "1E-3", "0x1F mm",
        "1_000 mm", "--5 mm", "1..2 mm", "1.2.3 mm", "1,2,3 mm", "1 25 mm", "5. mm", "1/0 in",
        "1 5/4 in", "1/4.5 in", "1/4/2 in", "1/ in", "12'6\"", "5² mm", "5 furlongs", "5 mm mm",
        "5 kg", "9" * 65 + " mm", "1'250 mm", "£5", "1 250,500.5 mm", "=1+1", "5\x00 mm",
    ],
)  # fmt: skip
def test_refuses(text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, D.LENGTH, unit="mm")
    assert caught.value.read
    assert caught.value.expected


@pytest.mark.parametrize("text", ["1,25 kg", "1 250,5 kg", "12,50 kg", "1,2500 kg", "1.5.2 kg"])
def test_a_wrong_mark_is_refused_when_the_mark_is_known(text: str) -> None:
    with pytest.raises(QuantityError, match="decimal mark"):
        parse(text, D.MASS, decimal=".")


@pytest.mark.parametrize(
    "value", [math.nan, math.inf, -math.inf, True, None, 10**400, 1e308, b"5", [5]]
)
def test_refuses_numbers_that_are_none(value: object) -> None:
    with pytest.raises(QuantityError):
        parse(value, D.MASS, unit="t")  # type: ignore[arg-type]


def test_a_bare_figure_needs_a_unit() -> None:
    with pytest.raises(QuantityError, match="without a unit") as caught:
        parse(5, D.LENGTH)
    assert "mm" in caught.value.expected


def test_a_unit_of_another_dimension_is_named() -> None:
    with pytest.raises(QuantityError, match="'mm' is a unit of length"):
        parse("5 mm", D.MASS)


@pytest.mark.parametrize("word", ["ton", "tons", "TON"])
def test_ton_alone_asks_which(word: str) -> None:
    with pytest.raises(QuantityError, match=r"short ton \(2000 lb\)"):
        parse(f"2 {word}", D.MASS)


def test_a_count_is_whole() -> None:
    assert parse("12.0", D.COUNT).si == 12.0
    with pytest.raises(QuantityError, match="whole number"):
        parse("12.5", D.COUNT)


def test_what_is_in_si_already_is_not_parsed_again() -> None:
    with pytest.raises(TypeError, match="in SI already"):
        parse(Length(0.25), D.LENGTH, unit="mm")


def test_an_inch_fraction_is_the_same_float_as_its_millimetres() -> None:
    for sixtyfourths in range(1, 257):
        inch = parse(f"{sixtyfourths}/64 in", D.LENGTH).si
        millimetres = f"{sixtyfourths * 25.4 / 64:.12f}"
        assert inch == parse(f"{millimetres} mm", D.LENGTH).si


@given(st.text(max_size=80), st.sampled_from(D), st.sampled_from([None, ".", ","]))
def test_any_text_gives_a_finite_figure_or_a_clear_error(
    text: str, dimension: Dimension, decimal: str | None
) -> None:
    try:
        quantity = parse(text, dimension, unit=units_of(dimension)[0].symbol, decimal=decimal)
    except QuantityError as error:
        assert error.read
        assert error.expected
    else:
        assert math.isfinite(quantity.si)


_SIGNS = st.text(alphabet="0123456789.,/ -+eExX'\"½²µ°%mkgtin\u00a0", max_size=14)


@given(_SIGNS, st.sampled_from([D.LENGTH, D.MASS, D.RATIO]), st.sampled_from([None, ".", ","]))
def test_near_figures_never_break(text: str, dimension: Dimension, decimal: str | None) -> None:
    try:
        assert math.isfinite(parse(text, dimension, decimal=decimal).si)
    except QuantityError as error:
        assert "expected" in str(error)


_CASES = st.sampled_from([(d, unit.symbol) for d in D for unit in units_of(d) if d is not D.COUNT])


@given(_CASES, st.integers(-(10**9), 10**9), st.sampled_from([".", ","]))
def test_shown_and_read_again_is_the_same(
    case: tuple[Dimension, str], micro: int, decimal: str
) -> None:
    dimension, unit = case
    first = parse(micro / 1000, dimension, unit=unit)
    tiny = abs(parse(1e-6, dimension, unit=unit).si - parse(0, dimension, unit=unit).si)
    text = show(first.si, dimension, unit, uncertainty=tiny, decimal=decimal)
    again = parse(text, dimension, unit=unit, decimal=decimal)
    assert again.si == pytest.approx(first.si, abs=tiny)


@given(_CASES, st.floats(-1e6, 1e6))
def test_a_number_and_its_text_are_the_same(case: tuple[Dimension, str], value: float) -> None:
    dimension, unit = case
    text = f"{value:.6f} {unit}"
    number = parse(float(f"{value:.6f}"), dimension, unit=unit)
    assert parse(text, dimension, decimal=".").si == number.si
