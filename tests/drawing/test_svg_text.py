"""The SVG text: well formed, the same every time, legible, black on white."""

import re
import subprocess
import sys
from typing import Any

import pytest

from hoistwright.drawing import Drawing, drawn, exploded
from hoistwright.drawing.svg import number
from hoistwright.hoist.library import shipped

SVG = "{http://www.w3.org/2000/svg}"
SCRIPT = """
import sys
from hoistwright.hoist.library import shipped
from hoistwright.drawing import exploded
sys.stdout.write(exploded(shipped("ardle-l750"), states={"pawl": "renew", "lever": "fit"}))
"""


def test_same_bytes_in_another_process() -> None:
    """Nothing depends on the order of sets or on what was drawn before."""
    texts = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            capture_output=True,
            check=True,
            text=True,
            encoding="utf-8",
            env={"PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
        ).stdout
        for seed in ("1", "77")
    }
    here = exploded(shipped("ardle-l750"), states={"lever": "fit", "pawl": "renew"})
    assert texts == {here}


def test_order_of_choice_does_not_matter() -> None:
    design = shipped("ardle-3000")
    keys = ["pawl", "disc_hub", "ratchet_disc", "load_chain"]
    assert exploded(design, parts=keys) == exploded(design, parts=keys[::-1])


def test_no_text_below_three_millimetres(drawing: Drawing, read: Any) -> None:
    """3 mm is the usual smallest height of lettering on a drawing (common practice)."""
    root = read(drawing.svg).root
    assert float(root.get("font-size")) >= 3.0
    sizes = [float(e.get("font-size")) for e in root.iter() if e.get("font-size")]
    assert min(sizes) >= 3.0
    assert "scale(" not in drawing.svg
    width, height = (float(root.get(side).removesuffix("mm")) for side in ("width", "height"))
    assert [float(x) for x in root.get("viewBox").split()] == [0.0, 0.0, width, height]


def test_black_on_white_only(drawing: Drawing) -> None:
    used = set(re.findall(r'(?:fill|stroke)="([^"]+)"', drawing.svg))
    assert used <= {"none", "#000", "#fff"}


def test_two_decimals_at_most(drawing: Drawing) -> None:
    paths = re.findall(r' d="([^"]+)"', drawing.svg)
    assert not any(re.search(r"\.\d{3}|e-|nan|inf|-0(?![.\d])", path) for path in paths)


def test_names_are_read_out(drawing: Drawing, read: Any) -> None:
    for group in read(drawing.svg).parts:
        title = group.find(f"{SVG}title")
        assert title is not None
        assert group.get("aria-label") == title.text
    root = read(drawing.svg).root
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert set(root.get("aria-labelledby").split()) <= set(ids)


def test_prefix_begins_every_id(read: Any) -> None:
    svg = exploded(shipped("ardle-500"), lit=["pawl"], prefix="step-7")
    ids = [e.get("id") for e in read(svg).root.iter() if e.get("id")]
    assert all(found.startswith("step-7-") for found in ids)
    assert set(re.findall(r"url\(#([^)]+)\)", svg)) <= set(ids)


def test_markup_in_names_is_escaped(read: Any) -> None:
    import attrs

    design = shipped("ardle-500")
    parts = tuple(attrs.evolve(p, name='<b>"&') for p in design.parts if p.key == "pawl")
    svg = exploded(attrs.evolve(design, parts=parts), with_list=True)
    assert '<b>"&' in "".join(read(svg).root.itertext())


def test_focus_only_when_asked(read: Any) -> None:
    design = shipped("ardle-500")
    plain = read(exploded(design, parts=["pawl"])).parts
    menu = read(exploded(design, parts=["pawl"], focusable=True)).parts
    assert [g.get("tabindex") for g in plain] == [None]
    assert [g.get("tabindex") for g in menu] == ["0"]


def test_page_too_small_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a page of 30 by 190 mm; both sides must be 40 mm"):
        drawn(shipped("ardle-500"), size=(30.0, 190.0))


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (-0.001, "0"), (1.5, "1.5"), (2.004, "2"), (100.0, "100")]
)
def test_number(value: float, text: str) -> None:
    assert number(value) == text
