"""One invented fleet for all tests that only look at it."""

from __future__ import annotations

import datetime

import pytest
from fleet_scene import facts_of, known_on, made_fleet

from hoistwright.fleet.forecasts import Fleet, fleet
from hoistwright.fleet.visit_facts import VisitFacts

TODAY = datetime.date(2026, 11, 25)


@pytest.fixture(scope="session")
def visits() -> tuple[VisitFacts, ...]:
    return facts_of(made_fleet(60, TODAY))


@pytest.fixture(scope="session")
def whole(visits: tuple[VisitFacts, ...]) -> Fleet:
    return fleet(visits, known_on(TODAY))
