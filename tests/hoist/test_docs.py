"""docs/design-files.md names every key of a design file, and none that is not there."""

from __future__ import annotations

import re
import typing
from pathlib import Path
from typing import Any

import attrs
import pytest

from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.limits import Comparison, MakerLimit
from hoistwright.hoist.machine import (
    Bearing,
    GearTrain,
    HandDrive,
    Hook,
    IdleSheave,
    LoadBrake,
    LoadChain,
    LoadSheave,
    LubricationPoint,
    OverloadLimiter,
    Pin,
    Rating,
    Spring,
    StayBolt,
)
from hoistwright.hoist.parts import Drawn, Part
from hoistwright.hoist.take_apart import Refit, Step

TEXT = (Path(__file__).parents[2] / "docs" / "design-files.md").read_text(encoding="utf-8")
HEADINGS: dict[str, Any] = {
    "`[identity]`": Identity,
    "`[rating]`": Rating,
    "`[load_chain]`": LoadChain,
    "`[load_sheave]`": LoadSheave,
    "`[[idle_sheaves]]`": IdleSheave,
    "`[gear_train]`": GearTrain,
    "`[hand_drive]`": HandDrive,
    "`[load_brake]`": LoadBrake,
    "`[[hooks]]`": Hook,
    "`[[pins]]`": Pin,
    "`[[stay_bolts]]`": StayBolt,
    "`[[springs]]`": Spring,
    "`[[bearings]]`": Bearing,
    "`[overload_limiter]`": OverloadLimiter,
    "`[[lubrication]]`": LubricationPoint,
    "`[[parts]]`": Part,
    "`drawn` of a part": Drawn,
    "`[[take_apart]]`": Step,
    "`refit` of a step": Refit,
    "`[[maker_limits]]`": MakerLimit,
}


def documented(heading: str) -> list[str]:
    section = TEXT.split(f"### {heading}\n")[1].split("\n##")[0]
    return re.findall(r"^\| `(\w+)` \|", section, re.M)


@pytest.mark.parametrize("heading", HEADINGS)
def test_every_key_of_the_table_is_documented_in_order(heading: str) -> None:
    assert documented(heading) == [field.name for field in attrs.fields(HEADINGS[heading])]


def test_every_table_of_a_design_has_its_heading() -> None:
    tables = {field.name for field in attrs.fields(Design)} - {"format", "key"}
    told = {re.sub(r"\W", "", heading) for heading in HEADINGS if " " not in heading}
    assert told == tables
    assert documented("Top level") == ["format", "key", "like", "without"]


def test_every_comparison_is_explained() -> None:
    for word in typing.get_args(Comparison):
        assert f'| `"{word}"` |' in TEXT
