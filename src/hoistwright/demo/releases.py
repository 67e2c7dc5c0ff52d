"""How a demo hoist leaves: the exit, and a certificate that was written on paper."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.points import BASES
from hoistwright.demo.visit import COMPETENT, Visit
from hoistwright.hoist.library import shipped
from hoistwright.job.events import Body
from hoistwright.job.events_release import WITHOUT_REPAIR, CertificateIssued, ExitChosen
from hoistwright.job.next_due import latest_due

REASONS = {
    "returned unrepaired": "the customer does not want it repaired",
    "condemned": "a repair would cost more than another hoist",
}


def released(visit: Visit) -> Iterator[Body]:
    """Exit and certificate. Its content is empty: it was signed on paper, there is no file."""
    leaves = exit_of(visit)
    yield leaves
    repaired = leaves.exit not in WITHOUT_REPAIR
    bases = [shipped_basis(key) for key in BASES]
    due = latest_due(visit.day, bases, visit.hoist.service, leaves) if repaired else None
    rated = shipped(visit.hoist.design).rating.rated_load
    yield CertificateIssued(
        number=visit.certificate,
        revision=0,
        content="",
        decision=leaves.exit,
        rated_load=float(rated or 0.0) if repaired else 0.0,
        issued_on=visit.day,
        next_due=due.day if due else None,
        why_due=due.why if due else "",
    )


def exit_of(visit: Visit) -> ExitChosen:
    """What was decided, with all that its kind asks for."""
    if visit.leaves == "returned unrepaired":
        return ExitChosen(
            exit=visit.leaves, reason=REASONS[visit.leaves], marked=True, customer_told=True
        )
    if visit.leaves == "condemned":
        return ExitChosen(
            exit=visit.leaves,
            reason=REASONS[visit.leaves],
            made_unusable="load sheave sawn through",
            made_unusable_by=COMPETENT,
            plate_removed=True,
        )
    return ExitChosen(exit=visit.leaves)
