"""What several verdicts say of the whole hoist holds its release as a single verdict does."""

from __future__ import annotations

import attrs
import pytest
from release_bench import READY, signing_bench

from hoistwright.certificate.release.rules import objections
from hoistwright.demo.bench_jobs import Walk
from hoistwright.demo.signed_job import ready_job
from hoistwright.job.entry import Draft
from hoistwright.job.events import Body, Corrected, PartChosen
from hoistwright.job.fold import further
from hoistwright.job.proven import proven_of
from hoistwright.job.requirements import examine
from hoistwright.job.requirements_release import release
from hoistwright.job.stages import Facts, stands_at
from hoistwright.job.to_release import summary_of
from hoistwright.language import language
from hoistwright.metrology import Outcome
from hoistwright.store.journal import sealed
from hoistwright.web.leaving import Leaving


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Walk:
    """A job of which only the signature is missing."""
    return ready_job(signing_bench(tmp_path_factory.mktemp("bench")), READY, "AL-9001")


def after(walk: Walk, *bodies: Body) -> Facts:
    facts = walk.facts()
    drafts = [Draft(body=body, by="odile") for body in bodies]
    state = further(facts.state, sealed(facts.state, drafts, walk.at))
    return Facts(state=state, design=facts.design, bases=facts.bases, shop=facts.shop)


def plate_says(walk: Walk, rated: float | None) -> Facts:
    """The job with another rated load read from its plate."""
    state = walk.facts().state
    booked = state.booked
    assert booked is not None
    hoist = attrs.evolve(booked.hoist, rated_load=rated)
    return after(
        walk,
        Corrected(
            corrects=state.by_topic[booked.topic].event.id,
            replacement=attrs.evolve(booked, hoist=hoist),
        ),
    )


@pytest.mark.parametrize("rated", [2.0, 1000.0, None])
def test_a_plate_that_contradicts_the_design_holds_the_release(
    walk: Walk, rated: float | None
) -> None:
    """A 750 kg hoist booked with 2 kg: wrong plate, wrong design or a slip; nobody knows which."""
    facts = plate_says(walk, rated)
    asked = [item for item in release(facts) if item.what == "identity"]
    assert len(asked) == 1
    assert "disagree" in asked[0].sentence
    assert [item.what for item in examine(facts)] == ["identity"]
    assert stands_at(facts) == "examine"


def test_a_plate_that_agrees_within_a_long_ton_holds_nothing(walk: Walk) -> None:
    facts = plate_says(walk, 750.0 * 1.01605)  # as a long ton stands to a tonne, 1016.05 kg
    assert not [item for item in release(facts) if item.what == "identity"]


def test_the_certificate_itself_refuses_such_a_plate(walk: Walk) -> None:
    """Even where nobody asked the release rule."""
    facts = plate_says(walk, 2.0)
    leaving = Leaving(bench=walk.bench, facts=facts, foretold=False)
    made = leaving.certificate("X-1", "odile", walk.at.date())
    told = objections(attrs.evolve(made, missing=()), leaving.examination, leaving.sheet)
    assert any("2 kg" in text and "disagree" in text for text in told)


def test_a_finding_over_parts_is_settled_by_renewing_them(walk: Walk) -> None:
    """The pawl rusted solid makes the brake unsafe: told as found, settled as renewed."""
    facts = walk.facts()
    examination, chosen = facts.examination, facts.state.exit
    assert examination is not None and chosen is not None
    brake = next(f for f in examination.findings if "brake" in f.title)
    assert "pawl" in brake.parts and brake.outcome is Outcome.RENEW
    assert brake.title not in {r.name for r in summary_of(facts, chosen, proven_of(facts)).examined}
    kept = after(walk, PartChosen(part="pawl", renew=False))
    names = {r.name for r in summary_of(kept, chosen, proven_of(kept)).examined}
    assert brake.title in names


def test_it_is_said_in_french(walk: Walk) -> None:
    asked = next(item for item in examine(plate_says(walk, 2.0)) if item.what == "identity")
    assert language("fr").lacking(asked.sentence) == ()
