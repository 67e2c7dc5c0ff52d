"""Metric threads by name: "M12" or "M12 x 1.25", and the proof stress of property classes."""

from __future__ import annotations

import functools
import re
from importlib import resources

import attrs

from hoistwright.check.facts import Fact
from hoistwright.datafile import load_text
from hoistwright.quantity import Length, Stress

_THREAD = re.compile(r"M\s*(\d{1,3}(?:\.\d)?)(?:\s*[x×]\s*(\d{1,2}(?:\.\d{1,2})?))?")


@attrs.frozen(kw_only=True)
class ThreadTable:
    pitch: dict[str, Length]
    proof: dict[str, Stress]


@functools.cache
def table() -> ThreadTable:
    file = resources.files("hoistwright.check") / "threads.toml"
    return load_text(file.read_text(encoding="utf-8"), ThreadTable, file="threads.toml")


def thread_size(name: str | None, key: str) -> tuple[Fact, Fact]:
    """Nominal diameter and pitch of a metric thread, m."""
    if name is None:
        return Fact(lacking=(key,)), Fact(lacking=(key,))
    found = _THREAD.fullmatch(name.strip())
    pitch = _pitch(found) if found else None
    if found is None or pitch is None:
        refused = f"{key}: given {name!r}; expected a metric thread like M12 or M12 x 1.25"
        return Fact(refused=refused), Fact(refused=refused)
    return Fact(float(found[1]) * 1e-3), Fact(pitch)


def proof_stress(name: str | None, key: str) -> Fact:
    """Proof stress of a property class, Pa."""
    if name is None:
        return Fact(lacking=(key,))
    proof = table().proof.get(name)
    if proof is None:
        known = ", ".join(table().proof)
        return Fact(refused=f"{key}: given {name!r}; expected one of {known}")
    return Fact(float(proof))


def _pitch(found: re.Match[str]) -> float | None:
    if found[2]:
        return float(found[2]) * 1e-3
    coarse = table().pitch.get(f"M{found[1]}")
    return None if coarse is None else float(coarse)
