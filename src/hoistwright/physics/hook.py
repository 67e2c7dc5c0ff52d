"""Hook body as a curved beam (Winkler and Bach), and the geometry of throat and twist.

A section is cut at right angles to the hook's inner curve; r is measured from the centre
of curvature. The neutral radius is r_n = A / int(dA / r), and e = r_c - r_n. Both come from
differences of nearly equal numbers when the curve is slight, so e is worked out from
int(y^2 / r) dA instead, which loses no digits down to the straight beam.
"""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.physics.guard import Array, Num, finite, not_negative, positive, require

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(32)


@attrs.frozen(eq=False)
class CurvedSection:
    """A section of a curved beam; all fields broadcast together.

    area A, m2; inner and outer radius, m; centroid r_c, m; eccentricity e = r_c - r_n, m.
    """

    area: Array
    inner: Array
    outer: Array
    centroid: Array
    eccentricity: Array

    @property
    def neutral(self) -> Array:
        """Radius of the neutral line, r_n = r_c - e, m."""
        return self.centroid - self.eccentricity


def trapezoid(inner: Num, depth: Num, inner_width: Num, outer_width: Num) -> CurvedSection:
    """Trapezoidal section, the usual hook body, taken with sharp corners.

    A = h (b_i + b_o) / 2;  r_c = r_i + h (b_i + 2 b_o) / [3 (b_i + b_o)];
    e = int(y^2 / r) dA / [r_c int(1 / r) dA]

    Args:
        inner: r_i, inner radius of the hook at this section, m, any shape.
        depth: h, in the direction of the radius, m, broadcast.
        inner_width: b_i, m, broadcast.
        outer_width: b_o, m, broadcast.

    Returns:
        Section. Rounded corners take off area: the stress is a little above this.

    Raises:
        ValueError: a size is not above 0.

    >>> section = trapezoid(0.040, 0.050, 0.060, 0.030)
    >>> print(f"{section.centroid * 1e3:.4f} {section.neutral * 1e3:.4f}")
    62.2222 59.0270

    References:
        Boresi and Schmidt, Advanced Mechanics of Materials, table 9.2; the integral form of
        e is our own, integrated with 32 Gauss points.
    """
    r_i, h = positive(inner, "inner radius, m"), positive(depth, "depth, m")
    b_i, b_o = positive(inner_width, "inner width, m"), positive(outer_width, "outer width, m")
    r_i, h, b_i, b_o = np.broadcast_arrays(r_i, h, b_i, b_o)
    area = h * (b_i + b_o) / 2
    centroid = r_i + h * (b_i + 2 * b_o) / (3 * (b_i + b_o))
    part = (1 + _NODES) / 2
    radius = r_i[..., None] + h[..., None] * part
    width = b_i[..., None] + (b_o - b_i)[..., None] * part
    strip = width * h[..., None] * _WEIGHTS / 2
    bent = np.sum(strip * (radius - centroid[..., None]) ** 2 / radius, axis=-1)
    eccentricity: Array = bent / (centroid * np.sum(strip / radius, axis=-1))
    return CurvedSection(area, r_i, r_i + h, centroid, eccentricity)


def rectangle(inner: Num, depth: Num, width: Num) -> CurvedSection:
    """Rectangular section of a curved beam.

    r_n = h / ln(r_o / r_i)

    Args:
        inner: r_i, inner radius, m, any shape.
        depth: h, in the direction of the radius, m, broadcast.
        width: b, m, broadcast.

    Returns:
        Section.

    Raises:
        ValueError: a size is not above 0.

    >>> print(f"{rectangle(0.030, 0.050, 0.050).neutral * 1e3:.4f}")
    50.9773

    References:
        Shigley, Mechanical Engineering Design, table 3-4; Boresi and Schmidt, table 9.2.
    """
    return trapezoid(inner, depth, width, width)


def circle(inner: Num, diameter: Num) -> CurvedSection:
    """Round section of a curved beam (eye hooks, links, shackles).

    r_n = (r_c + sqrt(r_c^2 - a^2)) / 2;  e = a^2 / [2 (r_c + sqrt(r_c^2 - a^2))];  a = d / 2

    Args:
        inner: r_i, inner radius, m, any shape.
        diameter: d, m, broadcast.

    Returns:
        Section.

    Raises:
        ValueError: a size is not above 0.

    >>> print(f"{circle(2.5, 1.25).neutral:.5f}")
    3.09343

    References:
        Boresi and Schmidt, table 9.2; Hibbeler, Mechanics of Materials, sec. 6.9.
    """
    r_i, d = positive(inner, "inner radius, m"), positive(diameter, "diameter, m")
    centroid = r_i + d / 2
    root = np.sqrt(r_i * (r_i + d))  # r_c^2 - a^2, without taking a difference
    eccentricity = d**2 / (8 * (centroid + root))
    return CurvedSection(np.pi * d**2 / 4, r_i, r_i + d, centroid, eccentricity)


def bending_stress(section: CurvedSection, moment: Num, radius: Num) -> Array:
    """Stress of pure bending at a radius; a moment that opens the hook is above 0.

    sigma = M (r_n - r) / (A e r)

    Args:
        section: the section.
        moment: M about the centroid, N m, broadcast.
        radius: r, between inner and outer radius, m, broadcast.

    Returns:
        Stress, Pa, broadcast shape; above 0 is tension.

    Raises:
        ValueError: M is not finite or r lies outside the section.

    >>> section = rectangle(0.225, 0.050, 0.050)
    >>> print(f"{bending_stress(section, 2083, section.inner) / 1e6:.2f}")
    107.09

    References:
        Boresi and Schmidt, Advanced Mechanics of Materials, eq. 9.11, from memory.
    """
    r = positive(radius, "radius, m")
    slack = 1e-9 * section.outer
    require(
        np.asarray((r >= section.inner - slack) & (r <= section.outer + slack)),
        "radius: outside the section; expected between its inner and outer radius.",
    )
    # r_n - r written from the centroid, so that a slight curve loses no digits
    arm = (section.centroid - r) - section.eccentricity
    moment = finite(moment, "moment, N m")
    return moment * arm / (section.area * section.eccentricity * r)


def hook_stresses(section: CurvedSection, load: Num, arm: Num | None = None) -> tuple[Array, Array]:
    """Stress at the inner and the outer fibre of a hook section under a load.

    sigma = W / A + W a (r_n - r) / (A e r)

    Args:
        section: the section at right angles to the load line, usually level with the throat.
        load: W, N, broadcast.
        arm: a, from the load line to the centroid, m; r_c (the load line through the centre
            of curvature) unless given.

    Returns:
        Inner and outer stress, Pa, each of the broadcast shape; tension above 0.

    Raises:
        ValueError: W below 0 or a not finite.

    >>> inner, outer = hook_stresses(rectangle(0.030, 0.050, 0.050), 9500, 0.155)
    >>> print(f"{inner / 1e6:.2f} {outer / 1e6:.2f}")
    106.18 -49.32

    References:
        Boresi and Schmidt, Advanced Mechanics of Materials, example 9.1.
    """
    W = not_negative(load, "load, N")
    moment = W * (section.centroid if arm is None else finite(arm, "load arm, m"))
    direct = W / section.area
    return (
        direct + bending_stress(section, moment, section.inner),
        direct + bending_stress(section, moment, section.outer),
    )


def throat_growth(opening: Num, as_new: Num) -> Array:
    """Growth of the throat opening, or of the distance between the maker's two marks.

    (t - t_0) / t_0

    Args:
        opening: t, measured, m, any shape.
        as_new: t_0, m, broadcast.

    Returns:
        Plain number (0.05 is 5 %), broadcast shape; below 0 when it has closed.

    Raises:
        ValueError: a length is not above 0.

    >>> print(f"{throat_growth(0.0315, 0.030):.3f}")
    0.050

    References:
        ASME B30.10 (throat opening against the original), from memory.
    """
    new = positive(as_new, "throat opening as new, m")
    return (positive(opening, "throat opening, m") - new) / new


def section_wear(depth: Num, as_new: Num) -> Array:
    """Part of the section depth that is worn away in the bowl of the hook.

    (h_0 - h) / h_0

    Args:
        depth: h, measured, m, any shape.
        as_new: h_0, m, broadcast.

    Returns:
        Plain number, broadcast shape; below 0 when it measures over size.

    Raises:
        ValueError: a length is not above 0.

    >>> print(f"{section_wear(0.0225, 0.025):.2f}")
    0.10

    References:
        ASME B30.10 (wear of the original section), from memory.
    """
    return -throat_growth(depth, as_new)


def twist_angle(offset: Num, distance: Num) -> Array:
    """Twist of the hook from how far its point lies out of the plane of the body.

    psi = atan(o / a)

    Args:
        offset: o, of the point out of the plane of the unbent hook, m, any shape.
        distance: a, of the point from the axis of twist (the shank's line), m, broadcast.

    Returns:
        Angle, rad, broadcast shape.

    Raises:
        ValueError: o not finite or a not above 0.

    >>> print(f"{np.rad2deg(twist_angle(0.005, 0.030)):.2f}")
    9.46

    References:
        geometry.
    """
    ratio = finite(offset, "offset of the point, m") / positive(distance, "distance, m")
    result: Array = np.arctan(ratio)
    return result
