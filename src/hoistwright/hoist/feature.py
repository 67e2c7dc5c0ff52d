"""What can be measured and looked at on each kind of part: the feature catalogue.

The catalogue itself is data (`features/<role>.toml`). It holds no limit: limits come from
a basis or from the maker.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from importlib import resources
from typing import Literal

import attrs

from hoistwright.datafile import load_text
from hoistwright.quantity import Angle, Length, Ratio

MeasuredDimension = Literal["length", "angle", "force", "number"]
Stage = Literal["as received", "stripped", "rebuilt"]


@attrs.frozen(kw_only=True)
class Measure:
    """A measured feature of a part."""

    key: str
    name: str
    measurand: str
    """What exactly the number is, so that two people measure the same thing."""
    dimension: MeasuredDimension
    how: str
    instruments: tuple[str, ...]
    as_new: str = ""
    """Where the as-new value comes from: a dotted key of the design ("load_chain.wire"),
    a key of the part's own entry ("hook.throat"), or a named rule of `hoist/as_new.py`;
    "maker": what the maker states beside a limit of this feature."""
    as_new_half_width: Ratio | None = None
    """Half-width of what the as-new value may be off by, as a share of it (rectangular)."""
    places: tuple[str, ...] = ()
    """Places on one part that must each be measured; more of the same name may be added."""
    directions: tuple[str, ...] = ()
    reference_place: str = ""
    """A place on an unworn part of the same piece that stands for as new when it is read."""
    repeatability: Length | None = None
    """Standard deviation of one careful reading by hand (common practice unless repeated)."""
    repeatability_angle: Angle | None = None
    counts_links: bool = False
    stage: Stage = "stripped"
    note: str = ""


@attrs.frozen(kw_only=True)
class Look:
    """A yes/no examination point."""

    key: str
    name: str
    question: str
    """Asked so that "in order" is the good answer."""
    how: str = ""
    finding: str = ""
    """What to do on a finding."""
    stage: Stage = "stripped"
    places: tuple[str, ...] = ()


@attrs.frozen(kw_only=True)
class RoleFeatures:
    """All features of one role."""

    role: str
    name: str
    caution: str = ""
    measure: tuple[Measure, ...] = ()
    look: tuple[Look, ...] = ()


@functools.cache
def catalogue() -> Mapping[str, RoleFeatures]:
    """The shipped features by role, in file-name order."""
    folder = resources.files("hoistwright.hoist") / "features"
    found: dict[str, RoleFeatures] = {}
    for file in sorted(folder.iterdir(), key=lambda item: item.name):
        if file.name.endswith(".toml"):
            role = load_text(file.read_text(encoding="utf-8"), RoleFeatures, file=file.name)
            found[role.role] = role
    return found


@functools.cache
def measure(feature: str) -> Measure:
    """The measured feature named `role.key`; KeyError where there is none."""
    role, _, key = feature.partition(".")
    for item in catalogue()[role].measure:
        if item.key == key:
            return item
    raise KeyError(feature)


def look(feature: str) -> Look:
    """The look named `role.key`; KeyError where there is none."""
    role, _, key = feature.partition(".")
    for item in catalogue()[role].look:
        if item.key == key:
            return item
    raise KeyError(feature)


def is_measured(feature: str) -> bool:
    """True for a measured feature, False for a look; KeyError for neither."""
    try:
        measure(feature)
    except KeyError:
        look(feature)
        return False
    return True
