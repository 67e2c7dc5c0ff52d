"""What each stage of a job asks for, and what of it is missing."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from functools import cached_property

import attrs

from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import Address, Point, points
from hoistwright.examine.result import Examination
from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design
from hoistwright.job.events import StageName
from hoistwright.job.remembered import remembered
from hoistwright.job.shop import Shop
from hoistwright.job.state import LEFT, STAGES, JobState
from hoistwright.job.to_entries import day_of, examine_job
from hoistwright.job.to_proof import Proof, proof_of
from hoistwright.quantity import Mass
from hoistwright.strip.plan import StripPlan, full_strip, strip_to, with_companions
from hoistwright.strip.rebuild import RebuildPlan, rebuild


@attrs.frozen(kw_only=True)
class Missing:
    """One thing that a stage still asks for. `sentence` says it and what to do."""

    stage: StageName
    what: str
    """One word or two for sorting: "reading", "look", "step", "hold point", "choice" ..."""
    sentence: str
    address: Address = ("", "", "")
    """Of the part, feature and place; the step's key stands in the place of a part."""


@attrs.frozen(kw_only=True)
class Facts:
    """A job's state with the design, bases and shop it is held against.

    Plans and examination are made once, where something asks for them. `design` is None
    where it is not known yet.
    """

    state: JobState
    design: Design | None
    bases: tuple[Basis, ...]
    shop: Shop

    @cached_property
    def day(self) -> datetime.date | None:
        """The day the examination is held against; None where nothing was entered yet."""
        return day_of(self.state)

    @cached_property
    def examination(self) -> Examination | None:
        if self.design is None or self.day is None:
            return None
        return examine_job(self.state, self.design, self.bases, self.shop)

    @cached_property
    def points(self) -> tuple[Point, ...]:
        if self.design is None or self.day is None:
            return ()
        return points(self.design, rulings(self.design, self.bases, self.day))

    @cached_property
    def strip(self) -> StripPlan | None:
        """The strip that the chosen extent, and every part to be renewed, asks for."""
        if self.design is None:
            return None
        if self.state.extent is None:
            return _full_strip(self.design)
        known = {part.key for part in self.design.parts}
        wanted = [key for key in (*self.state.extent, *self.renewed) if key in known]
        return _strip_to(self.design, tuple(wanted))

    @cached_property
    def renewed(self) -> tuple[str, ...]:
        """Parts chosen, with those that are renewed together with them."""
        if self.design is None:
            return self.state.renewed
        known = {part.key for part in self.design.parts}
        return with_companions(self.design, [k for k in self.state.renewed if k in known])

    @cached_property
    def rebuild(self) -> RebuildPlan | None:
        """The way back. Renewed parts that no step frees cannot be in it and are left out."""
        if self.design is None or self.strip is None:
            return None
        reached = {*self.strip.freed, *self.strip.no_opening}
        return rebuild(self.design, self.strip, [k for k in self.renewed if k in reached])

    @cached_property
    def proof(self) -> Proof | None:
        """The proof, without the pulls over time: nothing that is required leans on them.

        A hoist that is to leave with a lower rated load is proved for that.
        """
        if self.design is None:
            return None
        new = self.rebuild.new_parts if self.rebuild else ()
        design, leaving = self.design, self.state.exit
        if leaving is not None and (leaving.lowered_to or 0.0) > 0:
            rating = attrs.evolve(design.rating, rated_load=Mass(leaving.lowered_to or 0.0))
            design = attrs.evolve(design, rating=rating)
        return proof_of(
            self.state, design, self.bases, self.shop, new_parts=[one.part for one in new]
        )


@remembered
def _full_strip(design: Design) -> StripPlan:
    return full_strip(design)


@remembered
def _strip_to(design: Design, wanted: tuple[str, ...]) -> StripPlan:
    return strip_to(design, wanted)


def missing(
    state: JobState,
    design: Design | None,
    bases: Sequence[Basis],
    shop: Shop,
    stages: Sequence[StageName] = STAGES,
) -> tuple[Missing, ...]:
    """What the stages still ask for, in their order. Empty: nothing is missing."""
    facts = Facts(state=state, design=design, bases=tuple(bases), shop=shop)
    return tuple(item for stage in stages for item in missing_of(stage, facts))


def missing_of(stage: StageName, facts: Facts) -> tuple[Missing, ...]:
    """What one stage still asks for."""
    from hoistwright.job.requirements import REQUIRED

    try:
        return tuple(REQUIRED[stage](facts))
    except FaultsError as error:
        what = "; ".join(str(fault) for fault in error.faults)
        sentence = f"The design file cannot be used for this stage: {what}."
        return (Missing(stage=stage, what="design", sentence=sentence),)


def stands_at(facts: Facts) -> str:
    """The first stage that is not finished or asks for something; LEFT where none does.

    A stage once called finished is open again as soon as something of it is missing: nothing
    goes to the proof on old words. A job that has left stays so while its certificate stands
    and nothing was entered since: a gauge calibrated anew, or a limit changed, a year later
    does not open it again.
    """
    if facts.state.stage == LEFT and _signed(facts):
        return LEFT
    for stage in facts.state.asked:
        if stage not in facts.state.finished or missing_of(stage, facts):
            return stage
    return LEFT


def _signed(facts: Facts) -> bool:
    """Whether a certificate stands that says all that the job does."""
    from hoistwright.job.requirements_release import changed_since

    return facts.state.certificate is not None and not changed_since(facts)
