"""Sentences of engines put into French: figures, days and own names inside of them."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoistwright.language import language
from hoistwright.language.sentences import Put, Translator, templates

FRENCH = language("fr")


def translator(texts: dict[str, str]) -> Translator:
    return Translator(
        texts=texts,
        templates=templates(texts),
        decimal=",",
        write_day=lambda day: f"le {day.day}",
        marks={": ": " : "},
    )


SMALL = translator(
    {
        "at most %(limit)s": "au plus %(limit)s",
        "%(own_gauge)s was due on %(day)s": "%(own_gauge)s arrivait à échéance %(day)s",
        "load chain": "chaîne de charge",
        "Oil it.": "Huilez.",
        "%(what)s of the %(part)s": "%(what)s – %(part)s",
        "wear": "usure",
    }
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("at most 2.5 mm", "au plus 2,5 mm"),
        ("At most 10 %", "Au plus 10 %"),
        ("caliper 1.5 was due on 2026-03-09", "caliper 1.5 arrivait à échéance le 9"),
        ("load chain: at most 0.85 ± 0.10 mm", "chaîne de charge : au plus 0,85 ± 0,10 mm"),
        ("Oil it. At most 3 N.", "Huilez. Au plus 3 N."),
        ("wear of the load chain", "usure – chaîne de charge"),
        ("1910.179(j)(2)", "1910.179(j)(2)"),
        ("5.2", "5.2"),
        (" (at most 5 mm)", " (au plus 5 mm)"),
        ("at most 5.2", "au plus 5,2"),
        ("b30-hook-cracks", "b30-hook-cracks"),
        ("ASME B30.16", "ASME B30.16"),
        ("29 CFR 1910.179", "29 CFR 1910.179"),
        ("", ""),
    ],
)
def test_what_is_known_is_said_and_nothing_is_lacking(text: str, said: str) -> None:
    assert SMALL.put(text) == Put(said)


def test_what_is_not_known_stays_and_is_told() -> None:
    assert SMALL.put("rusty hook").lacking == ("rusty hook",)
    half = SMALL.put("Oil it. Then run away.")
    assert half == Put("Huilez. Then run away.", ("Then run away.",))


def test_english_is_left_alone() -> None:
    text = "The basis b30-hand-hoists is not adopted."
    assert language("en").sentence(text) == text
    assert language("en").lacking(text) == ()


NAMES = st.text("abcdefgxyzABC 0123456789é", min_size=1, max_size=24).map(
    lambda text: " ".join(text.split())
)


@given(name=NAMES.filter(bool), day=st.dates(datetime.date(1950, 1, 1), datetime.date(2090, 1, 1)))
def test_own_names_stay_letter_for_letter(name: str, day: datetime.date) -> None:
    """A gauge may be called anything, even a figure or a day: it is never changed."""
    said = FRENCH.sentence(f"{name} was calibrated on {day}, after its use on {day}")
    assert said.startswith(f"{name} a été étalonné le ")
    assert said.count(FRENCH.date(day)) == 2


@given(value=st.decimals(0, 10_000, places=3), spread=st.decimals(0, 10, places=3))
def test_figures_keep_every_digit(value: object, spread: object) -> None:
    text = f"elongation {value} % ± {spread} % (k = 2.00)"
    said = FRENCH.sentence(text)
    assert "." not in said
    assert said.replace(",", ".") == text.replace("elongation", "allongement")


def test_a_clause_is_no_figure() -> None:
    """ASME numbers its clauses with points: 10-1.2.1 must not become 10-1,2,1."""
    assert FRENCH.sentence("10-1.2.1 and 10-1.2.3(b)") == "10-1.2.1 et 10-1.2.3(b)"
    assert FRENCH.sentence("ASME B30.16, Overhead hoists (underhung)").startswith("ASME B30.16")
