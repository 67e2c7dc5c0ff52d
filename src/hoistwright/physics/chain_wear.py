"""Length of round link chain, its wear and its permanent stretch.

A crown worn by w inside lengthens the link's pitch by w at either end, so by 2w in all.
Outside over n links there are n - 1 worn joints. What the chain has grown beyond that is
permanent stretch, the mark of an overload.
"""

from __future__ import annotations

from hoistwright.physics.guard import Array, Num, finite, positive, whole


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


def wear_elongation(w: Num, p: Num, n: Num | None = None) -> Array:
    """Elongation that crown wear alone explains.

    epsilon_wear = 2 w / p for the pitch itself;
    epsilon_wear = 2 w (n - 1) / (n p) for the outside length of n links

    Over n links only n - 1 joints are worn between the gauge's jaws: the outermost crowns
    keep their outside. For 11 links that is a tenth less than by the pitch, and forgetting
    it hides permanent stretch.

    Args:
        w: wear of one crown, m, any shape (below 0 only by scatter of the reading).
        p: pitch as new, m, broadcast.
        n: links in the outside gauge length, whole, broadcast; left out for the pitch.

    Returns:
        Elongation as a plain number, broadcast shape.

    Raises:
        ValueError: w is not finite, p is not above 0 or n is not a whole number.

    >>> print(f"{wear_elongation(0.00015, 0.015):.4f}")
    0.0200
    >>> print(f"{wear_elongation(0.00015, 0.015, 11):.4f}")
    0.0182

    References:
        geometry of links worn alike at their joints; own derivation.
    """
    pitch = 2 * finite(w, "crown wear, m") / positive(p, "pitch p, m")
    if n is None:
        return pitch
    n = whole(n, "number of links")
    return pitch * (n - 1) / n


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
