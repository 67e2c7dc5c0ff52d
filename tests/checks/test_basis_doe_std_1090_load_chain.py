"""Load-chain replacement as DOE-STD-1090-96 words it after ASME B30.16.

Source: United States Department of Energy, DOE-STD-1090-96, Hoisting and Rigging, load chain of
hoists (text read): the outside length of a convenient number of links, about 12 in (305 mm) to
14 in (356 mm), of used chain against the same number of unworn links; replace where the maker's
figure is exceeded or, without one, at 1.5 % (powered) or 2.5 % (hand-operated). Inches and
millimetres are both printed there, rounded to the millimetre.
"""

from __future__ import annotations

import datetime

import pytest

from hoistwright.basis.limit_value import criterion_limit
from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.model import Criterion
from hoistwright.basis.rulings import rulings
from hoistwright.hoist.as_new import chain_gauge_length, gauge_links
from hoistwright.hoist.library import shipped, shipped_keys

BASIS = shipped_basis("b30-hand-hoists")
DAY = datetime.date(2026, 11, 25)


def _criterion(name: str) -> Criterion:
    return next(c for c in BASIS.criteria if c.id == f"b30-load-chain-gauge-length{name}")


@pytest.mark.parametrize(("name", "percent"), [("", 2.5), ("-powered", 1.5)])
def test_limits_of_hand_operated_and_powered_hoists(name: str, percent: float) -> None:
    criterion = _criterion(name)
    found = criterion_limit(criterion, DAY)
    assert found is not None
    assert found.si == pytest.approx(percent / 100, rel=1e-15)
    assert criterion.comparison == "rise from as new"
    assert (criterion.use == "decides") is (name == "")


def test_gauge_length_in_inches_and_in_the_printed_millimetres() -> None:
    criterion = _criterion("")
    assert criterion.gauge_from is not None
    assert criterion.gauge_to is not None
    assert criterion.gauge_from == 0.305  # printed; 12 in is 304.8 mm
    assert criterion.gauge_to == 0.356  # printed; 14 in is 355.6 mm
    assert round(12 * 25.4) == 305
    assert round(14 * 25.4) == 356


@pytest.mark.parametrize("key", shipped_keys())
def test_the_makers_figure_comes_first_and_the_general_one_is_shown(key: str) -> None:
    found = [
        r for r in rulings(shipped(key), [BASIS], DAY) if r.feature == "load_chain.gauge_length"
    ]
    limits = [m for m in shipped(key).maker_limits if m.feature == "load_chain.gauge_length"]
    assert [r.stands.by for r in found] == ["maker" if limits else "basis"]
    everything = [s for r in found for s in (r.stands, *r.shown_besides)]
    assert "b30-load-chain-gauge-length" in {s.criterion for s in everything}


@pytest.mark.parametrize("key", shipped_keys())
def test_a_whole_number_of_links_fits_the_gauge_length(key: str) -> None:
    """Fine chain of 4 x 12 to 10 x 30 always has a number of links between 305 and 356 mm."""
    design = shipped(key)
    length = chain_gauge_length(design, gauge_links(design))
    assert length is not None
    assert 0.300 < length < 0.356
