"""Nothing on a paper may lead somebody to use an unfit hoist."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import pytest
from release_scene import Scene, end_states

from hoistwright.certificate.release.mail import message
from hoistwright.certificate.release.page import certificate_page
from hoistwright.certificate.release.render import render
from hoistwright.certificate.release.values import Defect
from hoistwright.certificate.tag.label import label_data

USE = "try the brake with a light load"
"""A caution for somebody who is going to use the hoist."""


@pytest.mark.parametrize("state", end_states()[2:], ids=lambda s: str(s["decision"]))
def test_unfit_hoist_has_no_advice_how_to_use_it(
    scene: Scene, words: Callable[[bytes], str], state: dict[str, Any]
) -> None:
    record = scene.record(**state)
    text = words(render(record, code="x"))
    assert USE not in text
    assert certificate_page(record, "x")["band"]["due"] == ""
    assert "put right by" not in message(record)
    assert "Do not use this hoist" in text


def test_released_hoist_has_it(scene: Scene, words: Callable[[bytes], str]) -> None:
    text = words(scene.issued.pdf)
    assert USE in text
    assert "Do not use this hoist" not in text


def test_defect_with_a_day_stands_beside_the_decision(scene: Scene) -> None:
    """The hand chain is due long before the hoist: band, message and label must say so."""
    record = scene.record()
    assert "put right by 15 Jan 2027: Hand chain" in certificate_page(record, "")["band"]["due"]
    assert "put right by 15 Jan 2027" in message(record)
    assert ["Put right first, by", "15 Jan 2027"] in label_data(record, "x", "62x29")["lines"]


def test_of_several_the_first_day_counts(scene: Scene) -> None:
    days = [datetime.date(2027, 3, 1), datetime.date(2027, 2, 1)]
    open_ones = tuple(
        Defect(part="hook", defect="d", danger="could become a danger", remedy="r", by=day)
        for day in days
    )
    due = certificate_page(scene.record(defects=open_ones), "")["band"]["due"]
    assert "2 defects to be put right, the first by 1 Feb 2027" in due


def test_what_was_put_right_is_no_longer_told(scene: Scene) -> None:
    record = scene.record(defects=scene.certificate.defects[:1])
    assert "put right" not in certificate_page(record, "")["band"]["due"]
    assert "put right by" not in message(record)


def test_lower_load_names_the_one_before(scene: Scene) -> None:
    """Whoever used it up to 2 t must see that this is past."""
    assert "Rated load before: 2000 kg (2 t)" in message(scene.record(**end_states()[1]))


def test_no_test_is_not_called_one(scene: Scene) -> None:
    record = scene.record(**end_states()[2], tests=())
    assert "test" not in certificate_page(record, "")["subtitle"]
