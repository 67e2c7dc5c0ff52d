"""What a small drawing shows round the parts of a step."""

from hoistwright.drawing import around
from hoistwright.hoist.design import Design
from hoistwright.hoist.library import shipped


def test_neighbours_on_both_sides() -> None:
    """The ratchet disc runs between the friction discs on its bush (common practice)."""
    found = around(shipped("ardle-2000"), ["ratchet_disc"], count=2)
    assert {"friction_disc_outer", "ratchet_disc_bush", "friction_disc_inner"} < set(found)
    assert "load_gear" not in found


def test_parts_already_off_are_not_shown() -> None:
    present = ["ratchet_disc", "friction_disc_inner", "disc_hub"]
    found = around(shipped("ardle-2000"), ["ratchet_disc"], present=present, count=3)
    assert set(found) == set(present)


def test_never_fewer_than_asked_and_none_of_another_line(design: Design) -> None:
    found = around(design, ["bottom_hook", "warning_tag"], count=1)
    assert {"bottom_hook", "warning_tag"} <= set(found)
    assert not any(key.startswith("top_hook") for key in found)


def test_without_drawn_data_just_the_parts(bare: Design) -> None:
    assert around(bare, ["pawl"], count=5) == ("pawl",)


def test_a_riveted_plate_goes_with_the_cover_it_sits_on() -> None:
    """The cover is off while the brake is bare: its data plate hangs in no picture of a disc."""
    lever = shipped("ardle-l750")
    present = [part.key for part in lever.parts if "cover" not in part.key]
    beside = around(lever, ["friction_disc_inner"], present=present)
    assert "data_plate" not in beside
    assert "disc_hub" in beside
