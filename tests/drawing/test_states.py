"""A part's state shows without colour: by sign, by hatch and in words."""

import math
import re
from typing import Any

import pytest

from hoistwright.drawing import STATES, State, exploded
from hoistwright.hoist.library import shipped

PARTS = ["pawl", "ratchet_disc", "friction_disc_outer", "load_chain"]


def _svg(**more: Any) -> str:
    states: dict[str, State] = dict(zip(PARTS, STATES, strict=True))
    return exploded(shipped("ardle-2000"), parts=[*PARTS, "disc_hub"], states=states, **more)


def test_each_state_has_its_own_sign(read: Any) -> None:
    reading = read(_svg())
    signs = {
        key: [sign.get("d") for sign in reading.signs(group)]
        for key, group in reading.balloons.items()
    }
    assert all(len(signs[key]) == 1 for key in PARTS)
    assert len({signs[key][0] for key in PARTS}) == len(STATES)
    assert signs["disc_hub"] == []


def test_state_in_class_and_words(read: Any) -> None:
    groups = {g.get("data-part"): g for g in read(_svg()).parts}
    for key, state in zip(PARTS, STATES, strict=True):
        assert f"state-{state.replace(' ', '-')}" in groups[key].get("class").split()
        assert groups[key].get("aria-label").endswith(state)
    assert groups["disc_hub"].get("class") == "part"


def test_hatch_on_all_but_fit(read: Any) -> None:
    groups = {g.get("data-part"): g for g in read(_svg()).parts}
    for key, state in zip(PARTS, STATES, strict=True):
        hatched = [e for e in groups[key].iter() if "url(#" in (e.get("fill") or "")]
        hatched += [e for e in groups[key].iter() if "url(#" in (e.get("stroke") or "")]
        assert bool(hatched) == (state != "fit"), key


def test_legend_names_only_what_is_shown(read: Any) -> None:
    svg = exploded(shipped("ardle-2000"), parts=PARTS, states={"pawl": "renew"}, lit=["pawl"])
    legend = next(g for g in read(svg).root.iter() if g.get("class") == "legend")
    words = "".join(legend.itertext())
    assert "renew" in words
    assert "comes off now" in words
    assert "borderline" not in words


def test_lit_part_is_bold_and_says_so(read: Any) -> None:
    svg = exploded(shipped("ardle-2000"), parts=PARTS, lit=["ratchet_disc"])
    groups = {g.get("data-part"): g for g in read(svg).parts}
    widths = {key: float(group.get("stroke-width")) for key, group in groups.items()}
    others = [width for key, width in widths.items() if key != "ratchet_disc"]
    assert widths["ratchet_disc"] > 1.4 * max(others)
    assert groups["ratchet_disc"].get("aria-label").endswith("comes off now")
    assert [e for e in groups["ratchet_disc"].iter() if e.get("class") == "arrow"]


def numbers(text: str) -> list[float]:
    return [float(found) for found in re.findall(r"-?\d+(?:\.\d+)?", text)]


def _arrow(read: Any, key: str, **how: Any) -> tuple[Any, Any, Any]:
    """Tail and tip of the part's arrow and the middle of its balloon's foot, on the page."""
    drawing = read(exploded(shipped("ardle-2000"), parts=PARTS, lit=[key], **how))
    (group,) = [g for g in drawing.parts if g.get("data-part") == key]
    shaft, head = [numbers(e.get("d")) for e in group.iter() if e.get("class") == "arrow"][:2]
    neck = shaft[2:4]
    tip = max((head[k : k + 2] for k in (0, 2, 4)), key=lambda at: math.dist(at, shaft[:2]))
    assert math.dist(tip, shaft[:2]) > math.dist(neck, shaft[:2])
    return shaft[:2], tip, drawing.leaders()[key][2:]


@pytest.mark.parametrize("move", ["off", "on"])
def test_arrows_point_the_way_the_part_goes(read: Any, move: Any) -> None:
    """Off: the tip is further from the part than the tail; on: nearer (plain sense)."""
    tail, tip, part = _arrow(read, "ratchet_disc", move=move)
    leads_away = math.dist(tip, part) > math.dist(tail, part)
    assert leads_away == (move == "off")


def test_marked_parts_have_no_arrow_and_the_legend_says_what_was_asked(read: Any) -> None:
    svg = exploded(
        shipped("ardle-2000"), parts=PARTS, lit=["pawl"], move="none", lit_words="wanted"
    )
    assert 'class="arrow"' not in svg
    assert ">wanted</text>" in svg and "comes off now" not in svg


def test_states_of_parts_not_shown_are_left_out() -> None:
    design = shipped("ardle-2000")
    with_more = exploded(design, parts=["pawl"], states={"pawl": "fit", "load_chain": "renew"})
    assert with_more == exploded(design, parts=["pawl"], states={"pawl": "fit"})


def test_unknown_state_is_named() -> None:
    states: Any = {"pawl": "ok"}
    with pytest.raises(ValueError, match=r"no state 'ok'; states are: fit, renew, borderline"):
        exploded(shipped("ardle-2000"), states=states)
