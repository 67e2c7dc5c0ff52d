"""What simulated hoists are made of and how they are used. All figures are invented, of the
size met in practice; none belongs to a real maker.
"""

from __future__ import annotations

import attrs


@attrs.frozen(kw_only=True)
class SimulatedHoist:
    """A single-fall hoist with a screw-and-disc load brake, SI."""

    rated_force: float = 4905.0
    wire: float = 0.005
    pitch: float = 0.015
    pockets: int = 5
    gauge_links: int = 11
    joint_area: float = 6e-6
    """Bearing area of a chain joint, m²."""
    chain_hardness: float = 4.5e9
    lining_thickness: float = 0.003
    lining_area: float = 2.5e-3
    lining_hardness: float = 2.0e8
    face_radius: float = 0.030
    thread_radius: float = 0.0075
    thread_lead: float = 0.012
    thread_friction: float = 0.12
    lift_height: float = 2.5
    brake_slide_per_metre: float = 9.0
    """Way that a lining slides for each metre of lowering, m."""
    hook_throat: float = 0.030


@attrs.frozen(kw_only=True)
class SimulatedUse:
    """How hoists of a fleet are used and cared for. Rates are per year.

    lifts and load share differ by hoist (lognormal and beta); chain wear coefficients by
    chain. `neglect` and `care` are the rates at which a chain falls dry and is oiled again.
    """

    lifts: float = 4000.0
    lifts_spread: float = 0.45
    load_share: float = 0.45
    load_share_weight: float = 12.0
    chain_wear_coefficient: float = 3.0e-5
    chain_wear_spread: float = 0.25
    dry_factor: float = 4.0
    neglect: float = 0.25
    care: float = 2.0
    lining_wear_coefficient: float = 3.0e-7
    lining_wear_spread: float = 0.2
    overloads: float = 0.05
    overload_factor: float = 2.2
    overload_spread: float = 0.35
    yield_factor: float = 2.5
    """Times rated load from which a chain and hook keep some of their stretch."""
    stretch_per_factor: float = 0.004
    throat_per_factor: float = 0.02
    oil_on_brake: float = 0.04
    brake_friction: float = 0.12
    brake_friction_spread: float = 0.06
    oiled_share: float = 0.45
    """Friction left when oil is on the linings, as a share."""


@attrs.frozen(kw_only=True)
class SimulatedVisits:
    """When hoists come in and how well they are measured (standard uncertainties, m)."""

    years: float = 8.0
    gap: float = 1.0
    gap_spread: float = 0.2
    missed: float = 0.05
    """Share of visits at which a feature is not read."""
    gauge_u: float = 1.5e-4
    """Of a chain gauge length."""
    lining_u: float = 5e-5
    throat_u: float = 1e-4
    wrong_readings: float = 0.0
    """Share of readings with a gross error: five to fifteen standard uncertainties off."""
