"""From a job to the release rule: each thing taken away is missed, with the place to mend it."""

from __future__ import annotations

import datetime

import attrs
import pytest
from release_bench import READY, signing_bench

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.bench_jobs import Walk
from hoistwright.demo.signed_job import ready_job
from hoistwright.job.entry import Draft
from hoistwright.job.events import Body, HoldPointSigned, LookAnswered, PartChosen, StepTicked
from hoistwright.job.events_prove import ProofLooked
from hoistwright.job.events_release import CertificateIssued, ExitChosen
from hoistwright.job.next_due import WearDate, latest_due
from hoistwright.job.proven import proven_of
from hoistwright.job.requirements_release import changed_since, release
from hoistwright.job.stages import Facts
from hoistwright.job.to_release import signer_of, summary_of, with_signer
from hoistwright.prove import release as rule

DAY = datetime.date(2026, 10, 9)
B30, LOLER = shipped_basis("b30-hand-hoists"), shipped_basis("uk-loler")
PLAIN = ExitChosen(exit="released")


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Walk:
    """A job of which only the signature is missing."""
    bench = signing_bench(tmp_path_factory.mktemp("bench"))
    return ready_job(bench, READY, "AL-9000")


def after(walk: Walk, *bodies: Body, by: str = "odile") -> Facts:
    """The job after more was entered, in a copy that nobody else sees."""
    from hoistwright.job.fold import further
    from hoistwright.store.journal import sealed

    facts = walk.facts()
    drafts = [Draft(body=body, by=by) for body in bodies]
    state = further(facts.state, sealed(facts.state, drafts, walk.at))
    return Facts(state=state, design=facts.design, bases=facts.bases, shop=facts.shop)


def gaps(facts: Facts) -> list[tuple[str, str]]:
    """What the rule misses besides the signature: about what, and where."""
    chosen = facts.state.exit
    assert chosen is not None
    summary = with_signer(summary_of(facts, chosen, proven_of(facts)), "Odile", entitled=True)
    return [(gap.about, gap.key) for gap in rule.release(summary).gaps]


def test_only_the_signature_is_missing(walk: Walk) -> None:
    facts = walk.facts()
    assert gaps(facts) == []
    assert [item.what for item in release(facts)] == ["certificate"]


def test_a_defect_found_after_the_rebuild_is_missed(walk: Walk) -> None:
    look = next(
        body
        for entry in walk.facts().state.looks.values()
        if isinstance(body := entry.body, LookAnswered) and body.part == "bottom_hook"
    )
    found = gaps(after(walk, attrs.evolve(look, answer="defect")))
    assert ("examined", "bottom_hook") in found


def test_a_renewed_part_is_new_and_one_left_in_is_not(walk: Walk) -> None:
    """The pawl was found rusted solid: it may leave only because it was renewed."""
    found = gaps(after(walk, PartChosen(part="pawl", renew=False, reason="looks fair")))
    assert ("examined", "pawl") in found


def test_a_hold_point_without_its_signature_is_missed(walk: Walk) -> None:
    state = walk.facts().state
    step = next(iter(state.signatures))
    undone = after(walk, StepTicked(way="rebuild", step=step, done=False))
    assert ("hold point", step) in gaps(undone)
    text = "seen"
    by_counter = after(
        walk, StepTicked(way="rebuild", step=step, done=False), StepTicked(way="rebuild", step=step)
    )
    assert ("hold point", step) in gaps(by_counter)
    signed = after(
        walk, StepTicked(way="rebuild", step=step, done=False),
        StepTicked(way="rebuild", step=step), HoldPointSigned(step=step, text=text), by="counter",
    )  # fmt: skip
    assert ("hold point", step) in gaps(signed)  # the counter may not sign


def test_a_brake_that_slipped_is_missed(walk: Walk) -> None:
    state = walk.facts().state
    said = state.proof_looks["hold"].body if "hold" in state.proof_looks else None
    said = said or next(iter(state.proof_looks.values())).body
    assert isinstance(said, ProofLooked)
    found = gaps(after(walk, attrs.evolve(said, answer="no", ran=True)))
    assert any(about == "proof" for about, _ in found)


def test_a_proof_before_the_last_step_of_the_rebuild_does_not_count(walk: Walk) -> None:
    step = next(iter(walk.facts().state.ticks("rebuild")))
    late = after(walk, StepTicked(way="rebuild", step=step))
    assert any(about == "proof" for about, _ in gaps(late))


def test_a_basis_that_nobody_adopted_is_missed(walk: Walk) -> None:
    facts = walk.facts()
    shop = attrs.evolve(facts.shop, adoptions=())
    found = gaps(Facts(state=facts.state, design=facts.design, bases=facts.bases, shop=shop))
    assert [about for about, _ in found] == ["basis"] * len(facts.bases)


def test_a_gauge_out_of_date_at_its_use_is_missed(walk: Walk) -> None:
    facts = walk.facts()
    old = [attrs.evolve(g, due_on=datetime.date(2026, 4, 1)) if g.key == "cal-1" else g
           for g in facts.shop.gauges]  # fmt: skip
    shop = attrs.evolve(facts.shop, gauges=tuple(old))
    found = gaps(Facts(state=facts.state, design=facts.design, bases=facts.bases, shop=shop))
    assert ("gauge", "digital caliper 1") in found


def test_a_lower_load_needs_its_ground_its_plate_and_its_proof(walk: Walk) -> None:
    """850 kg hung: that proves 750 kg, and is too much for 500 kg (100 to 125 %)."""
    bare = ExitChosen(exit="released with lower rated load", lowered_to=500.0)
    found = {about for about, _ in gaps(after(walk, bare))}
    assert found == {"load", "plate", "proof"}
    raised = attrs.evolve(bare, lowered_to=800.0, allowed_by="maker", plate_changed=True)
    assert ("load", "") in gaps(after(walk, raised))
    fair = attrs.evolve(bare, lowered_to=700.0, allowed_by="maker", plate_changed=True)
    assert gaps(after(walk, fair)) == []


def test_what_is_entered_after_the_signature_asks_for_a_revision(walk: Walk) -> None:
    issued = CertificateIssued(
        number="KQ-2026-0001", revision=0, content="0" * 64, decision="released",
        rated_load=750.0, issued_on=DAY,
    )  # fmt: skip
    facts = after(walk, issued)
    assert signer_of(facts).signed
    assert list(release(facts)) == []
    pawl = facts.state.choices["pawl"].body
    assert isinstance(pawl, PartChosen)
    later = after(walk, issued, attrs.evolve(pawl, trace="batch 26-9"))
    assert changed_since(later)
    assert [item.what for item in release(later)] == ["certificate"]


def test_a_signature_without_the_right_does_not_count(walk: Walk) -> None:
    issued = CertificateIssued(
        number="KQ-2026-0001", revision=0, content="0" * 64, decision="released",
        rated_load=750.0, issued_on=DAY,
    )  # fmt: skip
    assert [item.what for item in release(after(walk, issued, by="tomasz"))] == ["signer"]


@pytest.mark.parametrize(
    ("service", "day"),
    [("normal", datetime.date(2027, 10, 9)), ("heavy", datetime.date(2027, 4, 9)),
     ("severe", datetime.date(2027, 1, 9))],
)  # fmt: skip
def test_next_due_by_service_class(service: str, day: datetime.date) -> None:
    """ASME B30.16: periodic inspection within 12, 6, 3 months."""
    found = latest_due(DAY, [B30], service, PLAIN)
    assert found is not None
    assert (found.day, "ASME B30.16" in found.why) == (day, True)


def test_next_due_by_law_and_by_use() -> None:
    """LOLER 1998 regulation 9(3)(a): 12 months, but 6 where persons are lifted."""
    assert latest_due(DAY, [LOLER], "normal", PLAIN).day == datetime.date(2027, 10, 9)  # type: ignore[union-attr]
    six = attrs.evolve(PLAIN, occasion="within 6 months")
    assert latest_due(DAY, [LOLER], "normal", six).day == datetime.date(2027, 4, 9)  # type: ignore[union-attr]


def test_next_due_is_the_sooner_of_interval_wear_and_stated_day() -> None:
    wear = WearDate(day=datetime.date(2027, 5, 1), what="load chain, elongation")
    found = latest_due(DAY, [B30], "normal", PLAIN, wear)
    assert found is not None
    assert (found.day, found.why) == (wear.day, "wear: load chain, elongation")
    stated = attrs.evolve(PLAIN, next_due=datetime.date(2027, 3, 1), why_due="as agreed")
    assert latest_due(DAY, [B30], "normal", stated, wear).why == "as agreed"  # type: ignore[union-attr]
    later = attrs.evolve(PLAIN, next_due=datetime.date(2029, 1, 1))
    assert latest_due(DAY, [B30], "normal", later).day == datetime.date(2027, 10, 9)  # type: ignore[union-attr]
    scheme = attrs.evolve(later, occasion="examination scheme")
    assert latest_due(DAY, [B30], "normal", scheme).day == later.next_due  # type: ignore[union-attr]
    assert latest_due(DAY, [], "normal", PLAIN) is None
