"""Round link load chain: stress, working load, length, elongation, wear and stretch.

A link of wire diameter d and pitch p (inside length) carries the load in two legs. Worn
crowns lengthen the pitch by twice the wear w of one crown, as each joint has two worn
faces and each link has two ends: the pitch of the next link starts where the crown of this
one ends, so one joint lost 2w of material between two links. What the chain has grown
beyond that is permanent stretch, the mark of an overload.
"""

from __future__ import annotations

import numpy as np

from hoistwright.physics.guard import Array, Num, finite, positive, require, whole

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


def outside_length(n: Num, p: Num, d: Num) -> Array:
    """Outside length of n links pulled straight.

    L = n p + 2 d

    Args:
        n: links, whole, any shape.
        p: pitch (inside length of a link), m, broadcast.
        d: wire diameter, m, broadcast.

    Returns:
        Length, m, broadcast shape.

    Raises:
        ValueError: n is not a whole number from 1, or p or d is not above 0.

    >>> print(f"{outside_length(11, 0.015, 0.005) * 1e3:.1f}")
    175.0

    References:
        ISO 3077:2001 (gauge length of 11 links); geometry.
    """
    n = whole(n, "number of links")
    return n * positive(p, "pitch p, m") + 2 * positive(d, "wire diameter d, m")


def elongation(length: Num, reference: Num, n: Num, p_ref: Num) -> Array:
    """Growth of a gauge length of n links, as a part of its pitch length.

    epsilon = (L - L_ref) / (n p_ref)

    Args:
        length: outside length measured under light tension, m, any shape.
        reference: outside length of an unworn part of the same chain over as many links,
            else n p + 2 d, m, broadcast.
        n: links in the gauge length, whole, broadcast.
        p_ref: pitch as new, m, broadcast.

    Returns:
        Elongation as a plain number (0.025 is 2.5 %), broadcast shape; below 0 when the
        reference is the longer one.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{elongation(0.1783, 0.175, 11, 0.015):.4f}")
    0.0200

    References:
        ASME B30.16 (inspection of load chain, compare with an unused part); from memory.
    """
    growth = positive(length, "gauge length, m") - positive(reference, "reference length, m")
    return growth / (whole(n, "number of links") * positive(p_ref, "pitch as new, m"))


def crown_wear(d_new: Num, crown: Num) -> Array:
    """Wear of one crown from its diameter along the line of load.

    w = d - d_crown

    Args:
        d_new: wire diameter as new, m, any shape.
        crown: crown diameter measured along the load, m, broadcast.

    Returns:
        Wear, m, broadcast shape; slightly below 0 when the wire is over size.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{crown_wear(0.005, 0.00485) * 1e3:.2f}")
    0.15

    References:
        geometry.
    """
    return positive(d_new, "wire diameter as new, m") - positive(crown, "crown diameter, m")


def wear_elongation(w: Num, p: Num) -> Array:
    """Elongation that crown wear alone explains.

    epsilon_wear = 2 w / p

    Args:
        w: wear of one crown, m, any shape (below 0 only by scatter of the reading).
        p: pitch as new, m, broadcast.

    Returns:
        Elongation as a plain number, broadcast shape.

    Raises:
        ValueError: w is not finite or p is not above 0.

    >>> print(f"{wear_elongation(0.00015, 0.015):.3f}")
    0.020

    References:
        geometry of two links worn alike at their joint; own derivation.
    """
    return 2 * finite(w, "crown wear, m") / positive(p, "pitch p, m")


def permanent_stretch(total: Num, from_wear: Num) -> Array:
    """Elongation that wear does not explain: the chain has been overstrained.

    epsilon_stretch = epsilon - epsilon_wear

    Args:
        total: elongation measured, plain number, any shape.
        from_wear: elongation from crown wear, plain number, broadcast.

    Returns:
        Elongation as a plain number, broadcast shape. Whether it is more than the
        uncertainty of both readings is decided where the readings are known.

    Raises:
        ValueError: a value is not finite.

    >>> print(f"{permanent_stretch(0.030, 0.020):.3f}")
    0.010

    References:
        own derivation.
    """
    return finite(total, "elongation") - finite(from_wear, "elongation from wear")


def mean_crown_diameter(along: Num, across: Num) -> Array:
    """Mean of two crown diameters at right angles.

    d_m = (d_1 + d_2) / 2

    Args:
        along: diameter along the line of load, m, any shape.
        across: diameter at right angles to it, m, broadcast.

    Returns:
        Diameter, m, broadcast shape.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{mean_crown_diameter(0.0045, 0.005) * 1e3:.2f}")
    4.75

    References:
        EN 818-7 family and DIN 685-5 (mean of two diameters); from memory.
    """
    return (positive(along, "crown diameter, m") + positive(across, "crown diameter, m")) / 2


def remaining_section(along: Num, across: Num, d_new: Num) -> Array:
    """Part of the crown section that is left, the worn crown taken as an ellipse.

    A / A_0 = d_1 d_2 / d^2

    Args:
        along: crown diameter along the line of load, m, any shape.
        across: crown diameter at right angles to it, m, broadcast.
        d_new: wire diameter as new, m, broadcast.

    Returns:
        Part as a plain number, broadcast shape.

    Raises:
        ValueError: a value is not above 0.

    >>> print(f"{remaining_section(0.0045, 0.005, 0.005):.2f}")
    0.90

    References:
        geometry; the ellipse is our approximation of a saddle-shaped wear mark.
    """
    both = positive(along, "crown diameter, m") * positive(across, "crown diameter, m")
    return both / positive(d_new, "wire diameter as new, m") ** 2


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
