"""The design check as a whole: every subject in the order of the load path."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hoistwright.check.bearings import bearing_findings
from hoistwright.check.brake import brake_findings
from hoistwright.check.chain import chain_findings
from hoistwright.check.drive import drive_findings
from hoistwright.check.gears import gear_findings
from hoistwright.check.hooks import hook_findings
from hoistwright.check.limiter import limiter_findings
from hoistwright.check.model import DesignCheck, Finding, gathered
from hoistwright.check.pins import pin_findings
from hoistwright.check.pockets import pocket_findings
from hoistwright.check.springs import spring_findings
from hoistwright.check.stay_bolts import stay_bolt_findings
from hoistwright.check.timing import timing_findings
from hoistwright.hoist.design import Design

SUBJECTS: tuple[Callable[[Design], Iterator[Finding]], ...] = (
    drive_findings,
    chain_findings,
    pocket_findings,
    gear_findings,
    timing_findings,
    brake_findings,
    limiter_findings,
    hook_findings,
    pin_findings,
    stay_bolt_findings,
    bearing_findings,
    spring_findings,
)


def check_design(design: Design) -> DesignCheck:
    """Derive every figure that the design allows and say what cannot be right.

    Args:
        design: any design, also a partial one.

    Returns:
        Figures in SI with derivation, source and limit; remarks, worst first. A figure that
        cannot be derived is a remark "unknown" that names the missing keys.

    >>> from hoistwright.hoist.library import shipped
    >>> found = check_design(shipped("ardle-2000"))
    >>> found.figure("pull").text, found.of("wrong")
    ('369.4 N', ())
    """
    return gathered(design.key, [item for subject in SUBJECTS for item in subject(design)])
