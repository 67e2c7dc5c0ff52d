"""What the shipped designs must hold so that every later step finds what it needs."""

from __future__ import annotations

import pytest

from hoistwright.hoist.as_new import as_new
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import catalogue
from hoistwright.hoist.library import shipped, shipped_keys

KEYS = shipped_keys()
DESIGNS = [pytest.param(shipped(key), id=key) for key in KEYS]
each = pytest.mark.parametrize("design", DESIGNS)

PUBLISHED = {"hook.throat", "hook.saddle_depth", "load_chain.gauge_length"}
"""Measured features whose limits are left to the published bases."""


def test_the_seven_differ_in_kind() -> None:
    assert KEYS == (
        "ardle-10000",
        "ardle-2000",
        "ardle-2000-ol",
        "ardle-3000",
        "ardle-500",
        "ardle-l3000",
        "ardle-l750",
    )
    assert {shipped(key).rating.falls for key in KEYS} == {1, 2, 4}
    assert {shipped(key).identity.kind for key in KEYS} == {"hand chain hoist", "lever hoist"}
    assert [key for key in KEYS if shipped(key).overload_limiter] == ["ardle-2000-ol"]


@each
def test_the_maker_is_invented_and_says_so(design: Design) -> None:
    assert design.identity.maker == "Ardle"
    assert design.identity.invented
    assert "Invented" in design.identity.note
    assert all("invented" in limit.source for limit in design.maker_limits)


@each
def test_a_hoist_has_its_number_of_parts(design: Design) -> None:
    """Issue of the project: a hand hoist has some 60 to 90 parts."""
    assert 60 <= len(design.parts) <= 95
    assert [part.key for part in design.parts_of("hoist")] == ["hoist"]


@each
def test_every_part_is_named_placed_and_counted(design: Design) -> None:
    for part in design.parts:
        assert part.name
        assert part.quantity >= 1
        assert part.material or part.role == "hoist", part.key


@each
def test_what_is_renewed_together_says_so_both_ways(design: Design) -> None:
    for part in design.parts:
        if part.renewal == "in pairs":
            mates = [design.part(key) for key in part.renew_with]
            assert part.quantity > 1 or mates, part.key
            assert all(part.key in mate.renew_with for mate in mates), part.key


@each
def test_one_use_parts_are_renewed_always(design: Design) -> None:
    """Split pins, lock washers, retaining rings, gaskets, seals (common practice)."""
    words = ("split_pin", "lock_washer", "retaining_ring", "gasket", "rivet", "seal", "_tie")
    for part in design.parts:
        if part.key.endswith(words):
            assert part.renewal == "always", part.key


@each
def test_friction_faces_stay_dry(design: Design) -> None:
    """No face of the brake may be listed for grease or oil."""
    dry = {"friction_disc", "ratchet_disc", "disc_hub", "changeover_wheel"}
    for point in design.lubrication:
        if design.part(point.part).role in dry:
            assert point.lubricant == "keep dry", point.part
    told = {point.part for point in design.lubrication if point.lubricant == "keep dry"}
    assert {part.key for role in dry for part in design.parts_of(role)} <= told


@each
def test_every_measured_feature_has_its_as_new_value(design: Design) -> None:
    """Except those whose as-new value only the maker's limit carries."""
    for part in design.parts:
        for measure in catalogue()[part.role].measure if part.role else ():
            if measure.as_new != "maker":
                assert as_new(design, part, measure) is not None, (part.key, measure.key)


@each
def test_every_feature_has_a_limit_of_the_maker_or_a_published_one(design: Design) -> None:
    limits = {(limit.feature, limit.part) for limit in design.maker_limits}
    for part in design.parts:
        if not part.role:
            continue
        features = catalogue()[part.role]
        keys = [measure.key for measure in features.measure]
        for key in [*keys, *(look.key for look in features.look)]:
            name = f"{part.role}.{key}"
            covered = {(name, ""), (name, part.key)} & limits
            assert covered or name in PUBLISHED, (part.key, name)


@each
def test_no_feature_of_a_part_has_two_limits(design: Design) -> None:
    limits = [(limit.feature, limit.part) for limit in design.maker_limits]
    assert len(set(limits)) == len(limits)


@each
def test_sheaves_go_with_falls(design: Design) -> None:
    counted = sum(design.part(sheave.part).quantity for sheave in design.idle_sheaves)
    assert counted == (design.rating.falls or 0) - 1
    assert sum(part.quantity for part in design.parts_of("idle_sheave")) == counted


@each
def test_linings_have_something_to_lose(design: Design) -> None:
    brake = design.load_brake
    assert brake.lining_new is not None
    assert brake.lining_minimum is not None
    assert brake.lining_minimum < brake.lining_new


@each
def test_gauge_length_is_the_one_that_asme_names(design: Design) -> None:
    """About 305 to 356 mm (12 to 14 in), ASME B30.16 as carried in DOE-STD-1090-96."""
    chain = design.load_chain
    assert chain.gauge_links and chain.pitch and chain.wire
    assert 0.305 <= chain.gauge_links * chain.pitch + 2 * chain.wire <= 0.356
