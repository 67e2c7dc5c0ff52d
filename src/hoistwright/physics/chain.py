"""Round link load chain: stress, working load, mass.

A link of wire diameter d and pitch p (inside length) carries the load in two legs. How it
lengthens is in `chain_wear`.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, finite, positive, require

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2 (CGPM 1901)."""

WORKING_STRESS = {"T": 200e6, "DAT": 160e6, "DT": 125e6}
"""Mean stress at the working load that rates fine-tolerance hoist chain, Pa, by type:
T for hand-operated hoists, DAT and DT for powered ones (ISO 3077, EN 818-7)."""

BREAKING_STRESS = {"M": 400e6, "P": 500e6, "S": 630e6, "T": 800e6, "V": 1000e6}
"""Mean stress at the least breaking force, Pa, by grade letter (EN 818-1)."""

_PREFERRED = (1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0, 5.0, 6.3, 8.0)  # ISO 3, rounded series R'10


def two_leg_area(d: Num) -> Array:
    """Section of both legs of a link.

    A = 2 pi d^2 / 4

    Args:
        d: wire diameter, m, any shape.

    Returns:
        Area, m2, shape of d.

    Raises:
        ValueError: d is not above 0.

    >>> print(f"{two_leg_area(0.005) * 1e6:.3f}")
    39.270

    References:
        ISO 1834 (general conditions of round steel link chain): stress on twice the nominal
        section; from memory.
    """
    d = positive(d, "wire diameter d, m")
    return np.pi * d**2 / 2


def mean_stress(force: Num, d: Num) -> Array:
    """Mean tensile stress in the legs of a link.

    sigma = F / (2 pi d^2 / 4)

    Args:
        force: force in the chain (one fall), N, any shape.
        d: wire diameter, m, broadcast with force.

    Returns:
        Stress, Pa, broadcast shape. The local peak is several times higher: `peak_stress`.

    Raises:
        ValueError: a value is not finite or d is not above 0.

    >>> print(f"{mean_stress(7853.98, 0.005) / 1e6:.1f}")
    200.0

    References:
        ISO 3077:2001, EN 818-1: grades are named by this stress.
    """
    return finite(force, "chain force, N") / two_leg_area(d)


def force_at_stress(stress: Num, d: Num) -> Array:
    """Chain force that gives a mean stress.

    F = sigma 2 pi d^2 / 4

    Args:
        stress: mean stress, Pa, any shape (`WORKING_STRESS`, `BREAKING_STRESS` by type).
        d: wire diameter, m, broadcast with stress.

    Returns:
        Force, N, broadcast shape.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{force_at_stress(BREAKING_STRESS['T'], 0.01) / 1e3:.3f}")
    125.664

    References:
        ISO 3077:2001, EN 818-1.
    """
    return positive(stress, "mean stress, Pa") * two_leg_area(d)


def working_load_mass(d: Num, stress: Num = WORKING_STRESS["T"]) -> Array:
    """Mass that one fall of chain may carry at the mean stress of its type, not rounded.

    m = sigma 2 pi d^2 / (4 g)

    Args:
        d: wire diameter, m, any shape.
        stress: mean stress at working load, Pa; the hand-operated type T unless given.

    Returns:
        Mass, kg, broadcast shape. The printed tables round it down: `preferred_mass`.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{working_load_mass(0.008):.0f}")
    2050

    References:
        ISO 3077:2001 and EN 818-7, type T; g is the standard value.
    """
    return force_at_stress(stress, d) / STANDARD_GRAVITY


def preferred_mass(mass: Num) -> Array:
    """Largest preferred load of the rounded series R'10 that is not above `mass`.

    m_pref = max{a 10^k <= m}, a in 1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8

    Args:
        mass: mass, kg, any shape.

    Returns:
        Preferred mass, kg, same shape.

    Raises:
        ValueError: mass is not above 0.

    >>> print(preferred_mass([513.0, 3204.0]))
    [ 500. 3200.]

    References:
        ISO 3:1973 preferred numbers (R'10); from memory.
    """
    mass = positive(mass, "mass, kg")
    decade = 10.0 ** np.floor(np.log10(mass))
    series = np.asarray((0.8, *_PREFERRED, 10.0))
    # a hair of tolerance, so that 3200 kg given as 3199.9999999 is not put down to 2500 kg
    place = np.searchsorted(series, mass / decade * (1 + 1e-9), side="right") - 1
    return series[place] * decade


def peak_stress(force: Num, d: Num, coefficient: Num = 0.4) -> Array:
    """Greatest local tensile stress in a link, elastic, by the old rule for open links.

    sigma_peak = F / (c d^2), so that sigma_peak / sigma_mean = (pi/2) / c (3.93 at 0.4)

    Args:
        force: force in the chain, N, any shape.
        d: wire diameter, m, broadcast.
        coefficient: c; 0.4 for open links, 0.5 for stud links.

    Returns:
        Stress, Pa, broadcast shape. A guide only: the true factor of a pitch-3d link lies
        between about 3.5 and 5, and proof loading leaves helpful residual stress.

    Raises:
        ValueError: a value is not finite, or d or c not above 0.

    >>> print(f"{peak_stress(7853.98, 0.005) / mean_stress(7853.98, 0.005):.3f}")
    3.927

    References:
        Goodenough and Moore, Strength of Chain Links, Univ. of Illinois Bulletin 18, 1907;
        coefficients from memory.
    """
    d = positive(d, "wire diameter d, m")
    c = positive(coefficient, "link coefficient c")
    return finite(force, "chain force, N") / (c * d**2)


def mass_per_metre(d: Num, p: Num, inside_width: Num, density: Num = 7850.0) -> Array:
    """Mass of a metre of chain, the link taken as two straights and two half circles.

    m' = rho (pi d^2 / 4) [2 (p - b) + pi (b + d)] / p

    Args:
        d: wire diameter, m, any shape.
        p: pitch, m, broadcast.
        inside_width: b, inside width of the link, m, broadcast; not above p.
        density: rho, kg/m3; steel unless given.

    Returns:
        Mass per length, kg/m, broadcast shape. The weld bead is left out.

    Raises:
        ValueError: a value is not above 0, or b is above p.

    >>> print(f"{mass_per_metre(0.005, 0.015, 0.0065):.2f}")
    0.55

    References:
        geometry.
    """
    d, p = positive(d, "wire diameter d, m"), positive(p, "pitch p, m")
    b = positive(inside_width, "inside width, m")
    require(np.asarray(b <= p), "inside width is above the pitch: a link is longer than wide.")
    wire = 2 * (p - b) + np.pi * (b + d)
    return positive(density, "density, kg/m3") * np.pi * d**2 / 4 * wire / p
