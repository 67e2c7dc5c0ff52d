"""The faults that a proof can show, with priors, sizes and what to look at first."""

from __future__ import annotations

import functools
from importlib import resources

import attrs

from hoistwright.basis.model import Known
from hoistwright.datafile import load_text

NONE = "none"


@attrs.frozen(kw_only=True)
class Fault:
    """One fault. `size` is its least and greatest size, in the unit its data file says."""

    key: str
    name: str
    prior: float
    look_first: str
    caution: str = ""
    size: tuple[float, ...] = (0.0, 0.0)


@attrs.frozen(kw_only=True)
class Sound:
    """What every hoist has, sound or not: least and greatest."""

    losses: tuple[float, ...]
    drag: tuple[float, ...]
    ripple: tuple[float, ...]
    mesh_ripple: tuple[float, ...]
    free_play: tuple[float, ...]


@attrs.frozen(kw_only=True)
class Scatter:
    """How closely the model meets a real hoist, one standard deviation for each observable."""

    pull_up: float
    pull_down: float
    pull_light: float
    ripple_shaft: float
    ripple_layshaft: float
    ripple_pocket: float
    ripple_sheave: float
    ripple_mesh: float
    creep: float
    clicks: float
    travel: float
    free_play: float
    stop_drop: float
    slip: float


@attrs.frozen(kw_only=True)
class FaultData:
    """The whole file."""

    known: Known
    scatter: Scatter
    sound: Sound
    fault: tuple[Fault, ...]

    def of(self, key: str) -> Fault:
        """The fault with this key; KeyError where there is none."""
        for fault in self.fault:
            if fault.key == key:
                return fault
        raise KeyError(key)


@functools.cache
def fault_data() -> FaultData:
    """The shipped faults."""
    file = resources.files("hoistwright.prove") / "diagnosis.toml"
    return load_text(file.read_text(encoding="utf-8"), FaultData, file=file.name)
