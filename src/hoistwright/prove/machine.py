"""The figures of a design that proving leans on, gathered once."""

from __future__ import annotations

import attrs

from hoistwright.check import mechanism
from hoistwright.check.facts import Fact, constant, derive, first_known, stated, stated_or
from hoistwright.hoist.design import Design
from hoistwright.physics import disc, drive, reeving, screw
from hoistwright.physics.chain import STANDARD_GRAVITY


@attrs.frozen(kw_only=True)
class Limiter:
    """Slip band of an overload limiter, as shares of the rated load."""

    low: float
    high: float


@attrs.frozen(kw_only=True)
class Machine:
    """A design in plain figures, SI. Efficiencies and shares as plain numbers."""

    rated: float
    """Rated load, kg."""
    falls: int
    pockets: int
    pitch: float
    wire: float
    sheave: float
    """Effective diameter of the load sheave, m."""
    ratio: float
    teeth: tuple[int, int, int, int]
    layshafts: int
    mesh: float
    rest: float
    """Efficiency of hand drive, bearings and chain on the wheel together."""
    idle: float
    """Efficiency of one idle sheave; 1 without."""
    hand_radius: float
    """Hand chain wheel's radius or lever's length, m."""
    ratchet_teeth: int
    pawls: int
    thread_radius: float
    lead: float
    """Lead of the brake thread, m."""
    lead_angle: float
    thread_friction: float
    """Friction angle of the brake thread, rad."""
    face_radius: float
    dry: tuple[float, float]
    oily_low: float
    free_play: float
    """Axial free play that the lock nut leaves, m."""
    lining_wear: float
    """Thickness that one lining may lose, m."""
    limiter: Limiter | None = None

    @property
    def efficiency(self) -> float:
        """From hand to hook."""
        falls = float(reeving.reeving_efficiency(self.falls, self.idle))
        return self.mesh**2 * self.rest * falls

    @property
    def turns_per_lift(self) -> float:
        """Turns of the drive shaft per metre of lift."""
        return float(drive.shaft_turns_per_lift(self.falls, self.ratio, self.sheave))

    @property
    def velocity_ratio(self) -> float:
        """Path of the hand over path of the hook."""
        return 2 * 3.141592653589793 * self.hand_radius * self.turns_per_lift

    @property
    def clicks_per_lift(self) -> float:
        return self.turns_per_lift * self.ratchet_teeth

    def pull_up(self, load: float) -> float:
        """Pull that raises `load` kg at the design's efficiency, N."""
        return load * STANDARD_GRAVITY / (self.velocity_ratio * self.efficiency)


def machine_facts(design: Design) -> dict[str, Fact]:
    """Every figure of `Machine`, known or not, by its name. Lists stand under their parts."""
    radius = derive(lambda d: d / 2, stated(design, "load_brake.thread_pitch_diameter"))
    lead = stated(design, "load_brake.thread_lead")
    flank = stated_or(design, "load_brake.thread_flank_angle", 0.0)
    brake = "load_brake."
    return {
        "rated": stated(design, "rating.rated_load"),
        "falls": mechanism.falls(design),
        "pockets": mechanism.count(design, "load_sheave.pockets"),
        "pitch": stated(design, "load_chain.pitch"),
        "wire": stated(design, "load_chain.wire"),
        "sheave": mechanism.sheave_diameter(design),
        "ratio": mechanism.gear_ratio(design),
        **dict(zip(("z1", "z2", "z3", "z4"), mechanism.teeth(design), strict=True)),
        "layshafts": mechanism.layshafts(design),
        "mesh": stated(design, "gear_train.mesh_efficiency"),
        "rest": stated(design, "hand_drive.efficiency"),
        "idle": mechanism.idle_efficiency(design),
        "hand_radius": _hand_radius(design),
        "ratchet_teeth": mechanism.count(design, brake + "ratchet_teeth"),
        "pawls": stated_or(design, brake + "pawls", 1),
        "thread_radius": radius,
        "lead": lead,
        "lead_angle": derive(screw.lead_angle, lead, radius),
        "thread_friction": derive(
            screw.thread_friction_angle, stated(design, brake + "thread_friction"), flank
        ),
        "face_radius": _face_radius(design),
        "dry_low": stated(design, brake + "friction_dry_low"),
        "dry_high": stated(design, brake + "friction_dry_high"),
        "oily_low": stated(design, brake + "friction_oily_low"),
        "free_play": derive(
            lambda t, p: t * p,
            stated(design, brake + "set_back_turns"),
            stated(design, brake + "lock_nut_pitch"),
        ),
        "lining_wear": first_known(
            derive(
                lambda new, least: max(0.0, new - least),
                stated(design, brake + "lining_new"),
                stated(design, brake + "lining_minimum"),
            ),
            constant(0.0),
        ),
    }


def machine_of(design: Design) -> Machine:
    """The design as a `Machine`.

    All figures of `machine_facts`, none left out.

    Args:
        design: the design.

    Returns:
        The machine.

    Raises:
        ValueError: figures are missing (all of them are named) or make no hoist.

    >>> from hoistwright.hoist.library import shipped
    >>> print(f"{machine_of(shipped('ardle-2000')).pull_up(2000):.1f}")
    369.4

    References:
        none (a gathering); formulas and their sources in `hoistwright.physics`.
    """
    facts = machine_facts(design)
    lacking = dict.fromkeys(key for fact in facts.values() for key in fact.lacking)
    refused = [fact.refused for fact in facts.values() if fact.refused]
    if lacking or refused:
        told = "; ".join(
            [*refused, *([f"the design lacks {', '.join(lacking)}"] if lacking else [])]
        )
        raise ValueError(f"{told}. Complete the design file; expected figures are then known.")
    value = {name: fact.value or 0.0 for name, fact in facts.items()}
    teeth = tuple(round(value.pop(name)) for name in ("z1", "z2", "z3", "z4"))
    dry = (value.pop("dry_low"), value.pop("dry_high"))
    counts = ("falls", "pockets", "layshafts", "ratchet_teeth", "pawls")
    whole = {name: round(value.pop(name)) for name in counts}
    z1, z2, z3, z4 = teeth
    return Machine(
        teeth=(z1, z2, z3, z4),
        dry=dry,
        limiter=_limiter(design),
        falls=whole["falls"],
        pockets=whole["pockets"],
        layshafts=whole["layshafts"],
        ratchet_teeth=whole["ratchet_teeth"],
        pawls=whole["pawls"],
        **value,
    )


def _hand_radius(design: Design) -> Fact:
    if design.identity.kind == "lever hoist":
        return stated(design, "hand_drive.lever_length")
    return derive(lambda D: D / 2, mechanism.hand_wheel_diameter(design))


def _face_radius(design: Design) -> Fact:
    outer, inner = (
        derive(lambda D: D / 2, stated(design, f"load_brake.disc_{side}_diameter"))
        for side in ("outer", "inner")
    )
    return derive(disc.radius_uniform_wear, outer, inner)


def _limiter(design: Design) -> Limiter | None:
    band = design.overload_limiter
    if band is None or band.slip_low is None or band.slip_high is None:
        return None
    return Limiter(low=float(band.slip_low), high=float(band.slip_high))
