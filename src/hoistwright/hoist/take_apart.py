"""The take-apart graph of a design: one step frees parts, and may need other steps first.

From this one graph come strip order, rebuild order, tools, minutes, one-use parts, hold
points and labour; nothing of it is written twice.
"""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.hoist.parts import Side
from hoistwright.quantity import Duration, Torque

Treatment = Literal["grease", "anti-seize", "oil", "thread lock", "keep dry", "none"]


@attrs.frozen(kw_only=True)
class Refit:
    """The step's mirror in the rebuild: how the parts go back."""

    name: str = ""
    """What is done, in the imperative; empty: the strip step said backwards."""
    tool: str = ""
    """Empty: the tool that took it off also fits it."""
    why: str = ""
    """For the trainee; empty: the strip step's reason holds here too."""
    caution: str = ""
    """What can hurt when fitting. Never taken over from the strip: it is another danger."""
    treatment: Treatment = "none"
    treat_where: str = ""
    torque: Torque | None = None
    torque_of: str = ""
    """The part whose entry in [[stay_bolts]] gives the torque instead."""
    setting: str = ""
    marks: str = ""
    hold_point: str = ""
    """What a named person must see and sign before work goes on; empty for none."""
    watch: str = ""
    """What goes wrong here, for whoever does it the first time."""
    first_load: bool = False
    """The first load hangs on the hook in this step: all checks without load come before it."""
    minutes: Duration | None = None
    """None: as long as taking off."""


@attrs.frozen(kw_only=True)
class Step:
    """One move of taking apart.

    `after` lists steps that must all be done before. `after_any` lists groups: of each
    group at least one step must be done before (the ways in).
    """

    key: str
    name: str
    frees: tuple[str, ...] = ()
    """Parts that are off once this step is done."""
    shows: tuple[str, ...] = ()
    """Parts that stay on but can be looked at and measured once this step is done."""
    worked_on: tuple[str, ...] = ()
    """Parts that are drawn with the step though they are off the hoist by then, or not beside it:
    the gear case that a bearing is pressed out of, the shaft that a hub sits on.
    """
    after: tuple[str, ...] = ()
    after_any: tuple[tuple[str, ...], ...] = ()
    side: Side = "middle"
    fastener: str = ""
    tool: str = ""
    minutes: Duration
    consumes: tuple[str, ...] = ()
    """One-use parts that this step spends: new ones must be ready."""
    caution: str = ""
    why: str = ""
    watch: str = ""
    refit: Refit = attrs.Factory(Refit)
