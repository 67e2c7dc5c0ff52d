"""The shop file: every fault at once, gauges that can be calculated with, adoptions recorded."""

import datetime
import math
from pathlib import Path

import pytest

from hoistwright.basis.adoption import Adoption
from hoistwright.faults import FaultsError
from hoistwright.job.shop_file import load_shop, record_adoption, shop_from_text
from hoistwright.quantity import Dimension

GOOD = """\
format = 1
name = "Kittiwake Quay Lifting Works"
address = "Quay Road 4"

[[people]]
key = "mara"
name = "Mara Lindqvist"
roles = ["competent person", "technician"]

[[people]]
key = "tom"
name = "Tom Arkle"
roles = ["technician"]

[[gauges]]
key = "C1"
name = "caliper 1"
kind = "digital caliper"
resolution = "0.01 mm"
uncertainty = "0.03 mm"
calibrated_on = 2026-03-01
due_on = 2027-02-28
reads_to = "150 mm"

[[gauges]]
key = "P1"
name = "protractor"
kind = "protractor"
resolution_angle = "0.5°"
uncertainty_angle = "0.3°"

[[gauges]]
key = "S1"
name = "spring balance"
kind = "spring balance"
resolution_force = "2 N"
uncertainty_force = "3 N"

[[test_weights]]
key = "W500"
mass = "500 kg"
uncertainty = "0.25 kg"
count = 4
"""


def test_gauges_measure_what_their_figures_say() -> None:
    shop = shop_from_text(GOOD)
    caliper, protractor, balance = shop.all_gauges()
    assert (caliper.measures, caliper.resolution, caliper.range_max) == (
        Dimension.LENGTH,
        1e-5,
        0.15,
    )
    assert protractor.measures is Dimension.ANGLE
    assert protractor.resolution == pytest.approx(math.radians(0.5), rel=1e-12)
    assert (balance.measures, balance.resolution) == (Dimension.FORCE, 2.0)
    assert balance.calibrated_on is None


def test_only_competent_persons_adopt() -> None:
    assert shop_from_text(GOOD).adopters() == ("mara",)


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        ("format = 1", "format = 7", "format", "the format this version reads"),
        ('key = "tom"', 'key = "Mara"', "people[2].key", "a second time"),
        ('resolution = "0.01 mm"\n', "", "gauges[1].resolution", "its resolution as well"),
        ('resolution = "0.01 mm"', 'resolution = "0 mm"', "gauges[1].resolution", "above zero"),
        ('"0.5°"', '"0.5°"\nresolution = "1 mm"', "gauges[2].resolution", "of length and of angle"),
        ("due_on = 2027-02-28", "due_on = 2025-02-28", "gauges[1].due_on", "not before"),
        ('reads_to = "150 mm"', 'reads_to = "0 mm"', "gauges[1].reads_to", "below reads_to"),
        ('"2 N"', '"2 N"\nreads_to = "1 m"', "gauges[3].reads_to", "gauges of length only"),
        ('mass = "500 kg"', 'mass = "0 kg"', "test_weights[1].mass", "above zero"),
        ("count = 4", "count = 0", "test_weights[1].count", "1 or more"),
        ('roles = ["technician"]', 'roles = ["boss"]', "people[2].roles[1]", '"technician"'),
        ("count = 4", "colour = 4", "test_weights[1].colour", "unknown key"),
        ('uncertainty = "0.25 kg"', 'uncertainty = "0.25 mm"', "test_weights[1].unc", "'mm'"),
    ],
)
def test_each_slip_is_named_with_its_line(old: str, new: str, key: str, said: str) -> None:
    assert GOOD.count(old) >= 1
    with pytest.raises(FaultsError) as caught:
        shop_from_text(GOOD.replace(old, new, 1), file="shop.toml")
    text = str(caught.value)
    assert key in text
    assert said in text
    assert "shop.toml, line " in text


def test_all_faults_come_at_once() -> None:
    wrong = GOOD.replace("count = 4", "count = 0").replace('"mara"', '"tom"')
    with pytest.raises(FaultsError) as caught:
        shop_from_text(wrong)
    assert len(caught.value.faults) == 2


def test_an_adoption_is_added_and_nothing_else_changes(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(GOOD, encoding="utf-8")
    adoption = Adoption(
        basis="b30-hand-hoists",
        digest="ab" * 32,
        by="mara",
        on=datetime.date(2026, 11, 25),
        compared_with='own copy, "2022" edition',
    )
    assert record_adoption(path, adoption) == path
    assert path.read_text(encoding="utf-8").startswith(GOOD)
    assert load_shop(path).adoptions == (adoption,)
    assert [file.name for file in tmp_path.iterdir()] == ["shop.toml"]


def test_an_adoption_is_not_written_into_a_faulty_file(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(GOOD.replace("count = 4", "count = 0"), encoding="utf-8")
    before = path.read_bytes()
    adoption = Adoption(
        basis="b", digest="d", by="mara", on=datetime.date(2026, 11, 25), compared_with="c"
    )
    with pytest.raises(FaultsError):
        record_adoption(path, adoption)
    assert path.read_bytes() == before
