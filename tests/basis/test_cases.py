"""Accept and reject cases of every measured criterion that decides: `tests/cases/<id>.toml`.

What happens exactly at a limit, on either side of it and inside the guard band is written there
as data, with the arithmetic in the file's first line. A deciding criterion without a case file
fails, and so does a case file without a criterion.
"""

from __future__ import annotations

import datetime
import tomllib
from pathlib import Path
from typing import Any

import pytest

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.model import Basis, Criterion
from hoistwright.basis.rulings import Ruling, statements
from hoistwright.examine.compare import compare
from hoistwright.examine.taken import Taken
from hoistwright.hoist.as_new import Baseline
from hoistwright.hoist.feature import is_measured, measure
from hoistwright.hoist.library import shipped
from hoistwright.metrology import Component, budget, guarded
from hoistwright.quantity import Dimension, QuantityError, parse

FOLDER = Path(__file__).parents[1] / "cases"
DECIDING: dict[str, tuple[Basis, Criterion]] = {
    c.id: (shipped_basis(key), c)
    for key in shipped_bases()
    for c in shipped_basis(key).criteria
    if c.use == "decides" and is_measured(c.feature)
}
NEEDED = (
    "clear fit",
    "clear renew",
    "exactly at the limit",
    "just on the good side",
    "just beyond",
    "inside the guard band",
    "missing reading",
    "wrong or missing unit",
)


def _files() -> dict[str, dict[str, Any]]:
    return {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted(FOLDER.glob("*.toml"))
    }


FILES = _files()
CASES = [
    pytest.param(stem, {**file, **case}, id=f"{stem}: {case['name']}")
    for stem, file in FILES.items()
    for case in file["case"]
]


def test_every_deciding_measured_criterion_has_its_cases() -> None:
    assert set(FILES) == set(DECIDING)


@pytest.mark.parametrize("stem", FILES)
def test_a_case_file_holds_every_kind_of_case(stem: str) -> None:
    assert FILES[stem]["criterion"] == stem
    names = [case["name"] for case in FILES[stem]["case"]]
    assert [kind for kind in NEEDED if not any(name.startswith(kind) for name in names)] == []


@pytest.mark.parametrize(("stem", "case"), CASES)
def test_case(stem: str, case: dict[str, Any]) -> None:
    assert _word(*DECIDING[stem], case) == case["expect"]


def _word(basis: Basis, criterion: Criterion, case: dict[str, Any]) -> str:
    angle = measure(criterion.feature).dimension == "angle"
    dimension = Dimension.ANGLE if angle else Dimension.LENGTH
    try:
        readings = [parse(text, dimension).si for text in case["readings"]]
        u = parse(case["u"], dimension).si
    except QuantityError:
        return "fault"
    ruling = _ruling(basis, criterion, case["day"])
    if ruling is None:
        return "no limit"
    assert ruling.of == "mean of directions" or len(readings) <= 1
    taken = (
        Taken(value=sum(readings) / len(readings), budget=budget([Component("as stated", u)]))
        if readings
        else Taken(missing="no reading")
    )
    rule = guarded(basis.head.rule.guard_factor)
    length = case["links"] * _length(case["pitch"]) if "links" in case else None
    new = Baseline(_length(case["as_new"]), 0.0, "case file") if case.get("as_new") else None
    compared = compare(taken, ruling, new, rule, dimension=dimension, gauge_length=length)
    return compared.outcome.words


def _ruling(basis: Basis, criterion: Criterion, day: datetime.date) -> Ruling | None:
    """The criterion alone as a ruling, without a maker's limit before it."""
    for stated in statements(shipped("ardle-2000"), basis, day):
        if stated.criterion == criterion.id:
            return Ruling(id="case", part="case", stands=stated, why="")
    return None


def _length(text: str) -> float:
    return parse(text, Dimension.LENGTH).si
