"""What a hoist's mechanism is made of, as the design file states it.

Everything but identity may be unknown (None): a hoist from an unknown maker begins with
the few figures a technician can read off its data plate or measure.
"""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.quantity import Angle, Force, Length, Mass, Ratio, Stress, Torque

HookPosition = Literal["top", "bottom"]
Section = Literal["trapezoid", "rectangle", "round"]


@attrs.frozen(kw_only=True)
class LoadChain:
    """Round-link load chain. `pitch` is the inside length of a link."""

    wire: Length | None = None
    pitch: Length | None = None
    outside_width: Length | None = None
    grade: str | None = None
    working_stress: Stress | None = None
    length: Length | None = None
    gauge_links: int | None = None
    """Links measured together as one gauge length."""
    closed_fall: Length | None = None
    """Mean length of one fall with the bottom hook at its upper limit."""
    slack_end: Length | None = None
    """Chain that must be left between load sheave and slack-end anchor at the lower limit."""


@attrs.frozen(kw_only=True)
class LoadSheave:
    """The driven pocket wheel. `pocket_pitch` and `pocket_wire` are the chain it was cut for."""

    pockets: int | None = None
    pocket_pitch: Length | None = None
    pocket_wire: Length | None = None
    pocket_length: Length | None = None
    """Clear length of a pocket, in which a lying link (p + 2 d) has to seat."""
    pocket_thickness: Length | None = None
    """Flange-to-floor thickness at the pocket's load face, as new."""


@attrs.frozen(kw_only=True)
class IdleSheave:
    """A wheel the chain turns round between falls. Pocketed or plain (pockets None)."""

    part: str
    pockets: int | None = None
    diameter: Length | None = None
    loss: Ratio | None = None
    """Share of the chain force lost at this wheel (bearing and chain bending)."""


@attrs.frozen(kw_only=True)
class GearTrain:
    """Pinion z1 drives layshaft gears z2; their small ends z3 drive the load gear z4."""

    layshafts: int | None = None
    pinion_teeth: int | None = None
    layshaft_large_teeth: int | None = None
    layshaft_small_teeth: int | None = None
    load_gear_teeth: int | None = None
    first_module: Length | None = None
    second_module: Length | None = None
    first_profile_shift: Ratio | None = None
    """Sum of both gears' profile shifts, in modules; unset: none. Likewise the second."""
    second_profile_shift: Ratio | None = None
    first_face_width: Length | None = None
    second_face_width: Length | None = None
    mesh_efficiency: Ratio | None = None
    bending_strength: Stress | None = None
    """Permitted tooth root stress at rated load (Lewis), both layshafts sharing it."""
    mark_phase: Ratio | None = None
    """Phase, in parts of a tooth pitch, that the marks of one layshaft stand off the others.

    Counted on the small gear z3, from the marked tooth of z2; 0 or unset: all keyed alike."""


@attrs.frozen(kw_only=True)
class HandDrive:
    """Hand chain and hand chain wheel (hand chain hoist), or lever (lever hoist)."""

    chain_wire: Length | None = None
    chain_pitch: Length | None = None
    chain_length: Length | None = None
    wheel_pockets: int | None = None
    wheel_diameter: Length | None = None
    lever_length: Length | None = None
    efficiency: Ratio | None = None
    """Bearings, seals and chain on the wheel together (the meshes are in the gear train)."""


@attrs.frozen(kw_only=True)
class LoadBrake:
    """Screw-and-disc load brake: thread on the drive shaft, friction discs, ratchet, pawls."""

    thread_pitch_diameter: Length | None = None
    thread_lead: Length | None = None
    thread_flank_angle: Angle | None = None
    """Half of the thread angle: 0° square, 15° trapezoidal, 30° metric."""
    thread_friction: Ratio | None = None
    disc_outer_diameter: Length | None = None
    disc_inner_diameter: Length | None = None
    friction_faces: int | None = None
    lining_new: Length | None = None
    lining_minimum: Length | None = None
    lining_material: str | None = None
    friction_dry_low: Ratio | None = None
    friction_dry_high: Ratio | None = None
    friction_oily_low: Ratio | None = None
    permitted_face_pressure: Stress | None = None
    ratchet_teeth: int | None = None
    pawls: int | None = None
    set_back_turns: Ratio | None = None
    """Part of a turn that the lock nut is set back after tightening."""
    lock_nut_pitch: Length | None = None
    """Pitch of the thread that the lock nut runs on."""


@attrs.frozen(kw_only=True)
class Hook:
    """A load or suspension hook as new. The section is taken at the saddle's mid-plane."""

    part: str
    position: HookPosition
    throat: Length | None = None
    mark_distance: Length | None = None
    """Distance between the two punch marks across the throat."""
    section: Section | None = None
    depth: Length | None = None
    inner_width: Length | None = None
    outer_width: Length | None = None
    inner_radius: Length | None = None
    shank_diameter: Length | None = None
    shank_thread: str | None = None
    latch: bool | None = None
    permitted_stress: Stress | None = None
    """Greatest stress at the inner fibre and in the shank thread at rated load."""


@attrs.frozen(kw_only=True)
class Pin:
    """A pin in shear: suspension pin, chain anchor pin, pawl pin."""

    part: str
    diameter: Length | None = None
    span: Length | None = None
    """Between the middles of its two supports."""
    load_width: Length | None = None
    load_share: Ratio | None = None
    """Force on it as a share of the rated load's weight."""
    shear_strength: Stress | None = None
    """Permitted mean shear stress."""


@attrs.frozen(kw_only=True)
class StayBolt:
    """The bolts that hold the side plates and covers together."""

    part: str
    thread: str | None = None
    property_class: str | None = None
    count: int | None = None
    torque: Torque | None = None
    diameter: Length | None = None


@attrs.frozen(kw_only=True)
class Spring:
    part: str
    kind: Literal["compression", "leg"] = "compression"
    wire: Length | None = None
    mean_diameter: Length | None = None
    coils: Ratio | None = None
    free_length: Length | None = None
    """Of a leg spring: how far the ends of its unloaded legs stand apart."""
    leg: Length | None = None
    """Of a leg spring: from the middle of the coil to where the leg presses."""
    force: Force | None = None


@attrs.frozen(kw_only=True)
class Bearing:
    part: str
    kind: Literal["ball", "needle", "bush"] = "needle"
    dynamic_capacity: Force | None = None
    bore: Length | None = None
    width: Length | None = None


@attrs.frozen(kw_only=True)
class OverloadLimiter:
    """A slipping clutch between hand wheel and drive. Ratios are to the rated load."""

    slip_low: Ratio | None = None
    slip_high: Ratio | None = None
    faces: int | None = None
    friction: Ratio | None = None
    outer_diameter: Length | None = None
    inner_diameter: Length | None = None
    spring_preload: Force | None = None


@attrs.frozen(kw_only=True)
class LubricationPoint:
    part: str
    lubricant: Literal["grease", "anti-seize", "oil", "keep dry", "thread lock"]
    where: str = ""


@attrs.frozen(kw_only=True)
class Rating:
    rated_load: Mass | None = None
    falls: int | None = None
    lift: Length | None = None
