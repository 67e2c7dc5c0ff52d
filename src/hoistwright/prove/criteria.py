"""The figures a proof is held against where neither maker nor basis states one."""

from __future__ import annotations

import functools
from importlib import resources

import attrs

from hoistwright.basis.model import Known
from hoistwright.datafile import load_text
from hoistwright.quantity import Angle, Duration, Temperature, TemperatureDifference


@attrs.frozen(kw_only=True)
class Shares:
    """Least and greatest share, and where they are from."""

    low: float
    high: float
    source: str
    known: Known


@attrs.frozen(kw_only=True)
class LeastHold:
    least: Duration
    source: str
    known: Known


@attrs.frozen(kw_only=True)
class LeverSwing:
    """Least and greatest angle that one stroke turns the drive shaft by."""

    least: Angle
    most: Angle
    source: str
    known: Known


@attrs.frozen(kw_only=True)
class Cover:
    """The warmest that a brake cover may get, and U of a reading of it (k = 2)."""

    warmest: Temperature
    reading: TemperatureDifference
    source: str
    known: Known


@attrs.frozen(kw_only=True)
class ProofCriteria:
    """The whole file."""

    efficiency_losses: Shares
    turns_share: Shares
    hold: LeastHold
    free_play_share: Shares
    lever_swing: LeverSwing
    cover: Cover


@functools.cache
def proof_criteria() -> ProofCriteria:
    """The shipped figures."""
    file = resources.files("hoistwright.prove") / "criteria.toml"
    return load_text(file.read_text(encoding="utf-8"), ProofCriteria, file=file.name)


@attrs.frozen(kw_only=True)
class CreepLimit:
    """A maker's limit on creep, m in `seconds`, and where it stands."""

    most: float
    seconds: float
    source: str
