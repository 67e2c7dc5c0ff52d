"""The figures that a step of the proof asks for: unit, gauge, and the band of a sound hoist."""

from __future__ import annotations

import math
from collections.abc import Mapping

import attrs

from hoistwright.job.proof_record import COUNTED_AT, HOLDS
from hoistwright.job.to_proof import Proof
from hoistwright.language import marked
from hoistwright.prove import expected
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.expected import Expected
from hoistwright.prove.sequence import ProofStep
from hoistwright.quantity import Dimension

D = Dimension
WHOLE = ("clicks", "pawls heard", "strokes")
"""Counts: whole figures, each replaces the one before."""
ONCE = (*WHOLE, "hold time", "cover before", "cover after", "bed reading")
"""Figures that are read once; of the others more readings are repeats."""


@attrs.frozen(kw_only=True)
class Ask:
    """One figure. `gauges`: which instruments are offered first; none: no gauge is asked for."""

    what: str
    words: str
    dimension: Dimension
    unit: str
    inch: str = ""
    gauges: tuple[str, ...] = ()
    needed: bool = False
    """A release waits for it."""

    def unit_for(self, units: str) -> str:
        """The unit it is typed in by a person who likes these units."""
        return self.inch if units == "in" and self.inch else self.unit


_DIAL = ("dial gauge", "depth gauge", "caliper")
_PULL = ("spring balance", "load cell")
_BED = ("load cell", "dynamometer")
_ASKS: Mapping[str, tuple[Ask, ...]] = {
    "free play": (
        Ask(what="free play", words=marked("free play"), dimension=D.LENGTH, unit="mm", inch="in",
            gauges=_DIAL),
    ),
    "pull light": (
        Ask(what="pull up", words=marked("pull while raising"), dimension=D.FORCE, unit="N",
            inch="lbf", gauges=_PULL),
    ),
    "load": (
        Ask(what="bed reading", words=marked("load on the test bed"), dimension=D.FORCE,
            unit="kN", inch="lbf", gauges=_BED, needed=True),
    ),
    "clicks": (
        Ask(what="lift", words=marked("measured lift"), dimension=D.LENGTH, unit="m", inch="ft",
            gauges=("tape measure",)),
        Ask(what="clicks", words=marked("clicks counted"), dimension=D.COUNT, unit=""),
    ),
    "pawls heard": (
        Ask(what="pawls heard", words=marked("pawls told apart"), dimension=D.COUNT, unit="",
            needed=True),
    ),
    "hand path": (
        Ask(what="hand path", words=marked("path of the hand"), dimension=D.LENGTH, unit="m",
            inch="ft", gauges=("tape measure",)),
    ),
    "strokes": (
        Ask(what="strokes", words=marked("strokes of the lever"), dimension=D.COUNT, unit=""),
    ),
    "pull up": (
        Ask(what="pull up", words=marked("pull while raising"), dimension=D.FORCE, unit="N",
            inch="lbf", gauges=_PULL),
        Ask(what="hand speed", words=marked("speed of the hand"), dimension=D.NUMBER, unit="m/s"),
    ),
    "pull down": (
        Ask(what="pull down", words=marked("pull while lowering"), dimension=D.FORCE, unit="N",
            inch="lbf", gauges=_PULL),
    ),
    "stop drop": (
        Ask(what="stop drop", words=marked("sinks until it stands"), dimension=D.LENGTH,
            unit="mm", inch="in", gauges=_DIAL),
    ),
    "cover temperature": (
        Ask(what="cover before", words=marked("brake cover before"), dimension=D.TEMPERATURE,
            unit="°C", inch="°F"),
        Ask(what="cover after", words=marked("brake cover after"), dimension=D.TEMPERATURE,
            unit="°C", inch="°F"),
    ),
    "hold": (
        Ask(what="hold time", words=marked("time held"), dimension=D.TIME, unit="s", needed=True),
    ),
    "creep": (
        Ask(what="creep", words=marked("creep meanwhile"), dimension=D.LENGTH, unit="mm",
            inch="in", gauges=_DIAL),
    ),
    "slip load": (
        Ask(what="slip load", words=marked("load at which it slips"), dimension=D.FORCE,
            unit="kN", inch="lbf", gauges=_BED, needed=True),
    ),
}  # fmt: skip


NAMES: Mapping[str, str] = {ask.what: ask.words for asks in _ASKS.values() for ask in asks}
"""What is read, in words."""


def asks_of(proof: Proof, step: ProofStep) -> tuple[Ask, ...]:
    """The figures that a step asks for on this hoist."""
    lever = proof.design.identity.kind == "lever hoist"
    chosen = proof.state.test_load
    left_out = {"hand path"} if lever else {"strokes"}
    if chosen is None or chosen.by != "test bed":
        left_out.add("load")
    if step.key not in HOLDS:
        left_out |= {"hold", "creep"}
    return tuple(ask for word in step.record if word not in left_out for ask in _ASKS.get(word, ()))


def expected_of(proof: Proof, step: str, what: str, load: float | None = None) -> Expected | None:
    """The band in which the figure of a sound hoist lies, SI; None where nothing is expected."""
    if what == "hold time":
        return _at_least(proof.needed.hold or float(proof_criteria().hold.least))
    if what == "bed reading":
        return _permitted(proof)
    if step == COUNTED_AT and what != "pawls heard":
        return _counted(proof, what)
    return _of_design(proof, what) or _under(proof, what, load or proof.load)


def _of_design(proof: Proof, what: str) -> Expected | None:
    """What the design alone says."""
    machine = proof.machine
    if machine is None:
        return None
    known = {
        "pawls heard": Expected(low=machine.pawls, high=machine.pawls, likely=machine.pawls),
        "free play": expected.free_play(machine),
        "slip load": expected.slip_load(machine),
    }
    return known.get(what)


def _under(proof: Proof, what: str, load: float) -> Expected | None:
    """What depends on the load on the hook."""
    by_load = {
        "pull up": expected.pull_up,
        "pull down": expected.pull_down,
        "stop drop": expected.stop_drop,
    }
    make = by_load.get(what)
    return make(proof.machine, load) if make and proof.machine and load > 0 else None


def _counted(proof: Proof, what: str) -> Expected | None:
    """What depends on the lift that was measured."""
    lift = proof.told.figure([COUNTED_AT], "lift")
    by_lift = {
        "clicks": expected.clicks,
        "hand path": expected.hand_path,
        "strokes": expected.strokes,
    }
    make = by_lift.get(what)
    return make(proof.machine, lift) if make and lift and lift > 0 and proof.machine else None


def _permitted(proof: Proof) -> Expected | None:
    band = proof.permitted
    return None if band is None else Expected(low=band.low, high=band.high, likely=band.target)


def _at_least(least: float) -> Expected:
    return Expected(low=least, high=math.inf, likely=least)


def light_load(proof: Proof) -> float | None:
    """The load that hangs at the light-load test, kg: as it was said, else the least of it."""
    said = proof.told.measured.get(("light", "pull up"))
    if said is not None and said.load:
        return said.load
    shares = [test.load_from for test in proof.needed.needed if test.kind == "brake test"]
    share = next((share for share in shares if share is not None), None)
    return None if share is None or proof.rated is None else share * proof.rated
