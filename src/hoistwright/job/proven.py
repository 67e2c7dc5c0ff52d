"""What the proof of a job came to, as the release and the certificate take it."""

from __future__ import annotations

import datetime

import attrs

from hoistwright.job.stages import Facts
from hoistwright.prove.bed import Applied
from hoistwright.prove.finding import ProofResult
from hoistwright.prove.release import GaugeUse
from hoistwright.prove.sequence import ProofStep
from hoistwright.prove.tests_needed import NeededTests


@attrs.frozen(kw_only=True)
class Proven:
    """Everything of the proof that a release leans on."""

    needed: NeededTests
    result: ProofResult
    steps: tuple[ProofStep, ...] = ()
    applied: Applied | None = None
    hold: float | None = None
    """How long the load was held, s."""
    day: datetime.date | None = None
    by: str = ""
    """Name of who proved."""
    gauges: tuple[GaugeUse, ...] = ()
    """Gauges and test weights on the day of the proof."""

    @property
    def unsettled(self) -> tuple[str, ...]:
        """Names of tests of which nobody has said whether they apply."""
        return tuple(test.name for test in self.needed.unsettled)


def proven_of(facts: Facts) -> Proven | None:
    """What the proof of a job came to; None where nothing is recorded of it."""
    return None
