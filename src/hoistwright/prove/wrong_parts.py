"""By what factor the turns per lift differ when a gear, sheave or reeving is the wrong one."""

from __future__ import annotations

import attrs

from hoistwright.prove.machine import Machine


@attrs.frozen(kw_only=True)
class WrongPart:
    """A wrong part and the turns of the drive shaft per lift that it gives over the right ones."""

    what: str
    factor: float


def wrong_parts(machine: Machine) -> tuple[WrongPart, ...]:
    """The mix-ups that go together: gears one or two teeth off, sheave or reeving of a sister.

    factor = (falls' i' / D') / (falls i / D)

    Args:
        machine: the hoist as designed.

    Returns:
        The mix-ups, none of them with a factor of 1.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> [part.what for part in wrong_parts(machine_of(shipped("ardle-3000")))][-2:]
    ['reeved with 1 fall', 'reeved with 3 falls']

    References:
        geometry (`hoistwright.physics.drive.shaft_turns_per_lift`); which mix-ups happen is
        common practice.
    """
    z1, z2, z3, z4 = machine.teeth
    found = []
    for step in (-2, -1, 1, 2):
        sign = f"{step:+d} teeth" if abs(step) > 1 else f"{step:+d} tooth"
        found += [
            WrongPart(what=f"pinion with {sign}", factor=z1 / (z1 + step)),
            WrongPart(what=f"large layshaft gear with {sign}", factor=(z2 + step) / z2),
            WrongPart(what=f"small layshaft gear with {sign}", factor=z3 / (z3 + step)),
            WrongPart(what=f"load gear with {sign}", factor=(z4 + step) / z4),
        ]
    for step in (-1, 1):
        if machine.pockets + step >= 3:
            what = f"load sheave with {machine.pockets + step} pockets"
            found.append(WrongPart(what=what, factor=machine.pockets / (machine.pockets + step)))
    if machine.falls > 1:
        for falls in (machine.falls - 1, machine.falls + 1):
            what = f"reeved with {falls} fall{'s' if falls > 1 else ''}"
            found.append(WrongPart(what=what, factor=falls / machine.falls))
    return tuple(found)


def wrong_ratios(machine: Machine) -> tuple[float, ...]:
    """The factors alone."""
    return tuple(part.factor for part in wrong_parts(machine))
