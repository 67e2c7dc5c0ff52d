"""A hoist, its readings and their examination, made so that every verdict word occurs."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterator

import attrs
import pypdfium2
import pytest

from hoistwright.basis.loading import shipped_basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.entries import Circumstances, Entries, LookAnswer, Reading
from hoistwright.examine.findings import Plate
from hoistwright.examine.points import Point, points
from hoistwright.examine.result import Examination, examine
from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.machine import Hook, LoadBrake, LoadChain, Rating
from hoistwright.hoist.parts import Part
from hoistwright.job.job_sheet import Customer, HoistIdentity, JobSheet, Work
from hoistwright.job.shop import Person, Shop
from hoistwright.metrology import Gauge
from hoistwright.quantity import Dimension, Length, Mass

DAY = datetime.date(2026, 3, 9)
BASES = ("b30-hand-hoists", "europe-round-link", "workshop-practice")

GAUGES = (
    Gauge(
        "C1", "caliper C1", "digital caliper", Dimension.LENGTH, 1e-5, 2e-5,
        calibrated_on=datetime.date(2025, 9, 1), due_on=datetime.date(2026, 9, 1),
        certificate="K-114",
    ),
    Gauge(
        "A1", "angle gauge A1", "angle gauge", Dimension.ANGLE, 1e-3, 2e-3,
        calibrated_on=datetime.date(2025, 9, 1), due_on=datetime.date(2026, 9, 1),
    ),
    Gauge(
        "C9", "caliper C9", "dial caliper", Dimension.LENGTH, 2e-5, 5e-5,
        calibrated_on=datetime.date(2024, 1, 1), due_on=datetime.date(2025, 1, 1),
    ),
)  # fmt: skip

SHOP = Shop(
    format=1,
    name="Kittiwake Quay Lifting Works",
    address="Slip 3, Kittiwake Quay",
    demo=True,
    people=(
        Person(
            key="mw",
            name="Maren Wick",
            roles=("technician",),
            qualification="hoist fitter, shop training 2021",
        ),
    ),
)


def _part(key: str, name: str, role: str, quantity: int = 1) -> Part:
    return Part(key=key, name=name, role=role, quantity=quantity)


DESIGN = Design(
    format=1,
    key="sample-2000",
    identity=Identity(
        maker="Ardle", model="2000", kind="hand chain hoist", invented=True, note="Invented."
    ),
    rating=Rating(rated_load=Mass(2000.0), falls=1, lift=Length(3.0)),
    load_chain=LoadChain(
        wire=Length(0.008), pitch=Length(0.024), grade="T", gauge_links=11, length=Length(3.6)
    ),
    load_brake=LoadBrake(lining_new=Length(0.003), lining_minimum=Length(0.002)),
    hooks=(
        Hook(part="top_hook", position="top", throat=Length(0.034), depth=Length(0.030)),
        Hook(part="bottom_hook", position="bottom", throat=Length(0.034), depth=Length(0.030)),
    ),
    parts=(
        _part("hoist", "Hoist", "hoist"),
        _part("top_hook", "Top hook", "hook"),
        _part("bottom_hook", "Bottom hook", "hook"),
        _part("load_chain", "Load chain", "load_chain"),
        _part("friction_disc_outer", "Friction disc, outer", "friction_disc"),
        _part("pawl", "Pawl", "pawl", 2),
        _part("pawl_spring", "Pawl spring", "pawl_spring", 2),
        _part("data_plate", "Data plate", "data_plate"),
    ),
)

FACTORS: dict[tuple[str, str], tuple[float, float, float]] = {
    ("load_chain", "section 1"): (1.030, 1.0302, 1.0301),
    ("load_chain", "section 2"): (1.0232, 1.0230, 1.0234),
    ("bottom_hook", "throat"): (1.0499, 1.0492, 1.0495),
}
"""Readings over as new: an overstrained section, a worn one, a throat close to its limit."""


def reading_of(point: Point, units: str) -> Reading | None:
    """A reading close to as new, or as FACTORS says; None where no as-new value is known."""
    if point.baseline is None or point.feature == "load_chain.barrel_diameter":
        return None
    factors = (1.001, 1.0012, 1.0011)
    for (part, word), given in FACTORS.items():
        here = f"{point.place}/{point.feature}"
        if point.part == part and word in here and "crown" not in here:
            factors = given
    if "crown_diameter" in point.feature and point.place == "section 2 along":
        factors = (0.966, 0.9661, 0.9659)
    angle = point.dimension is Dimension.ANGLE
    return Reading(
        part=point.part,
        feature=point.feature,
        place=point.place,
        values=tuple(point.baseline.value * f for f in factors),
        unit="°" if angle else units,
        gauge="A1" if angle else "C9" if point.feature == "friction_disc.thickness" else "C1",
        by="mw",
    )


def look_of(point: Point) -> LookAnswer | None:
    """In order, but for one defect and one look that was missed."""
    if point.feature == "data_plate.legible":
        return None
    bad = point.feature == "friction_disc.clean_dry"
    return LookAnswer(
        part=point.part,
        feature=point.feature,
        place=point.place,
        answer="defect" if bad else "in order",
        remark="wet with gear oil, runs from the seal" if bad else "",
        photo="disc-wet-1.jpg" if bad else "",
        by="mw",
    )


@attrs.frozen
class Sample:
    examination: Examination
    sheet: JobSheet
    shop: Shop


def made(design: Design = DESIGN, units: str = "mm", **changes: object) -> Sample:
    """Examine the sample hoist; `changes` go into the job sheet."""
    bases = [shipped_basis(key) for key in BASES]
    wanted = points(design, rulings(design, bases, DAY))
    readings = tuple(filter(None, (reading_of(p, units) for p in wanted if p.measured)))
    looks = tuple(filter(None, (look_of(p) for p in wanted if not p.measured)))
    sheet = JobSheet(
        job="J-2026-014",
        design=design.key,
        hoist=HoistIdentity(maker="Ardle", model="2000", serial="A 40117", rated_load=2000.0),
        customer=Customer(name="Fulmar Boatyard", address="North Hard", premises="Shed 2"),
        work=Work(
            examined_on=DAY,
            examined_by="mw",
            bases=BASES,
            complaint="slips a little when lowering",
        ),
        units="in" if units == "in" else "mm",
        readings=readings,
        looks=looks,
    )
    entries = Entries(
        readings=readings, looks=looks, gauges=GAUGES, circumstances=Circumstances(day=DAY)
    )
    examination = examine(design, bases, entries, plate=Plate(rated_load=2000.0))
    return Sample(examination, attrs.evolve(sheet, **changes), SHOP)  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def sample() -> Sample:
    return made()


@pytest.fixture(scope="session")
def make_sample() -> Iterator[Callable[..., Sample]]:
    yield made


def squeezed(text: str) -> str:
    """One space for each run of white space, no places to break, hyphens as typed."""
    text = text.replace("\ufffe", "-").replace("\u200b", "")
    return re.sub(r"\s+", " ", text)


def pages(pdf: bytes) -> list[str]:
    """The text of each page of a PDF, read by another library than the one that wrote it."""
    document = pypdfium2.PdfDocument(pdf)
    texts = []
    for page in document:
        part = page.get_textpage()
        texts.append(squeezed(part.get_text_range()))
        part.close()
        page.close()
    document.close()
    return texts


@pytest.fixture(scope="session")
def pages_of() -> Callable[[bytes], list[str]]:
    return pages


@pytest.fixture(scope="session")
def words() -> Callable[[bytes], str]:
    return lambda pdf: " ".join(pages(pdf))
