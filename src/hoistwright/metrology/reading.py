"""The uncertainty budget of one reading with one gauge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoistwright.metrology.budget import Budget, Component, budget
from hoistwright.metrology.gauges import Gauge
from hoistwright.metrology.repeats import Scatter, scatter, usual_or_own
from hoistwright.metrology.typeb import normal, rectangular, triangular

NO_REPEATABILITY = (
    "no repeatability: one reading only, and no usual scatter is stated for this gauge"
)


def reading_budget(
    gauge: Gauge,
    *,
    repeats: Sequence[float] = (),
    usual: Scatter | None = None,
    two_settings: bool = False,
    extra: Sequence[Component] = (),
) -> Budget:
    """Budget of a reading of any dimension: calibration, resolution, repeatability, extras.

    u² = (U/k)² + u_res² + s²/n, with u_res = a/√3 for a half-width a of half a step, and for
    the difference of two settings (a zero and a reading, each rounded) half-width one step,
    triangular.

    Args:
        gauge: gives U, k, resolution, and the usual scatter where `usual` is None.
        repeats: the readings taken, of which the mean is the value; one or none is allowed.
        usual: pooled scatter of single readings; it stands before the repeats' own scatter
            unless theirs is far greater than usual (see `usual_or_own`).
        two_settings: True where the value is the difference of two displayed figures.
        extra: further components, such as a chain's slack or a reference length.

    Returns:
        The budget, in SI. Without repeats and without a usual scatter, a note says so.

    References:
        JCGM 100:2008 (GUM), 4.2, 4.3.3, F.2.2.1 (resolution); EA-4/02 M:2022, S10 (vernier
        caliper) for the list of components; from memory.

    >>> from hoistwright.quantity import Dimension
    >>> g = Gauge("C1", "caliper 1", "digital caliper", Dimension.LENGTH, 1e-5, 3e-5)
    >>> b = reading_budget(g, repeats=[0.02498, 0.02500, 0.02499])
    >>> [c.name for c in b.components], round(float(b.u) * 1e6, 2)
    (['calibration', 'repeatability', 'resolution'], 16.33)
    """
    parts = [_calibration(gauge), _resolution(gauge, two_settings)]
    repeatability = _repeatability(gauge, repeats, usual)
    notes = () if repeatability else (NO_REPEATABILITY,)
    return budget([*parts, *([repeatability] if repeatability else []), *extra], notes=notes)


def length_budget(
    value: float,
    *,
    gauge: Gauge,
    repeats: Sequence[float] = (),
    pooled_repeatability: float | None = None,
    pooled_dof: float = math.inf,
    expansion: float = 0.0,
    temperature_half_width: float = 0.0,
    two_settings: bool = False,
    extra: Sequence[Component] = (),
) -> Budget:
    """Budget of a length: that of any reading, and the temperature at the bench.

    As `reading_budget`, plus u_θ = |L|·α·ΔT/√3. Part and gauge of like material expand
    together, so α is the difference of their coefficients, or that of steel to stay safe.

    Args:
        value: the length in m.
        gauge: as in `reading_budget`.
        repeats: as in `reading_budget`, m.
        pooled_repeatability: usual standard deviation of single readings, m.
        pooled_dof: its degrees of freedom.
        expansion: coefficient α, 1/K (steel: 11.5e-6).
        temperature_half_width: how far the temperature may be from the reference, K.
        two_settings: as in `reading_budget`.
        extra: as in `reading_budget`.

    Raises:
        ValueError: value not finite, or a negative expansion or half-width.

    References:
        JCGM 100:2008 (GUM), H.1; ISO 1 (reference temperature 20 °C); EA-4/02 M:2022, S10; from
        memory.

    >>> from hoistwright.quantity import Dimension
    >>> g = Gauge("C1", "caliper 1", "digital caliper", Dimension.LENGTH, 1e-5, 3e-5)
    >>> b = length_budget(0.15, gauge=g, expansion=11.5e-6, temperature_half_width=10)
    >>> {c.name: round(float(c.contribution) * 1e6, 2) for c in b.components}
    {'calibration': 15.0, 'temperature': 9.96, 'resolution': 2.89}
    """
    if not math.isfinite(value):
        raise ValueError(f"the length is {value}; expected a finite figure in m")
    if not (expansion >= 0 and temperature_half_width >= 0):
        raise ValueError(
            f"expansion is {expansion}, temperature half-width {temperature_half_width}; "
            "expected 0 or more"
        )
    usual = None if pooled_repeatability is None else Scatter(pooled_repeatability, pooled_dof)
    parts = list(extra)
    if expansion > 0 and temperature_half_width > 0:
        parts.append(_temperature(value, expansion, temperature_half_width))
    return reading_budget(
        gauge, repeats=repeats, usual=usual, two_settings=two_settings, extra=parts
    )


def as_one_component(whole: Budget, name: str, source: str = "") -> Component:
    """A finished budget as one component of another, such as a reference length's.

    References:
        JCGM 100:2008 (GUM), G.4.1 (ν of the part goes on as its own), from memory.

    >>> part = as_one_component(budget([Component("a", 3.0), Component("b", 4.0)]), "new length")
    >>> float(part.u), part.source
    (5.0, 'from its own budget: b, a')
    """
    names = ", ".join(part.name for part in whole.components)
    source = source or f"from its own budget: {names}"
    return Component(name, whole.u, dof=whole.dof, source=source)


def _calibration(gauge: Gauge) -> Component:
    certificate = f"certificate {gauge.certificate}" if gauge.certificate else "its calibration"
    source = f"{certificate} of {gauge.name}: U with k = {gauge.coverage_factor:g}, u = U/k"
    u = normal(gauge.calibration_uncertainty, gauge.coverage_factor)
    return Component("calibration", u, source=source)


def _resolution(gauge: Gauge, two_settings: bool) -> Component:
    if two_settings:
        u = triangular(gauge.resolution)
        return Component("resolution", u, source="two figures, each half a step either way: a/√6")
    u = rectangular(gauge.resolution / 2)
    return Component("resolution", u, source="half a step either way, rectangular: a/√3")


def _temperature(value: float, expansion: float, half_width: float) -> Component:
    return Component(
        "temperature",
        rectangular(half_width),
        sensitivity=abs(value) * expansion,
        source=f"temperature within ±{half_width:g} K of the reference, rectangular: L·α·ΔT/√3",
    )


def _repeatability(
    gauge: Gauge, repeats: Sequence[float], usual: Scatter | None
) -> Component | None:
    if usual is None and gauge.repeatability is not None:
        usual = Scatter(gauge.repeatability, gauge.repeatability_dof)
    count = max(len(repeats), 1)
    own = scatter(repeats) if count > 1 else None
    chosen = usual if own is None else own if usual is None else usual_or_own(own, usual)
    if chosen is None:
        return None
    origin = "these repeats" if chosen is own else "the usual scatter of single readings"
    return Component(
        "repeatability",
        chosen.deviation / math.sqrt(count),
        dof=chosen.dof,
        kind="A",
        source=f"{origin}, {count} reading(s): s/√n",
    )
