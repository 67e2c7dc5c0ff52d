"""The certificate of a job: what was found, done, proved and decided, from its events alone."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

import attrs

from hoistwright.certificate.release.from_proof import proved
from hoistwright.certificate.release.record import signatory_of
from hoistwright.certificate.release.values import (
    ONCE,
    RELEASES,
    Certificate,
    Defect,
    NextDue,
    Supersedes,
    TestMade,
    WorkDone,
)
from hoistwright.examine.result import Examination
from hoistwright.examine.verdict import Verdict
from hoistwright.job.events import PartChosen
from hoistwright.job.events_release import ExitChosen
from hoistwright.job.next_due import WearDate, latest_due, source_names
from hoistwright.job.proven import Proven
from hoistwright.job.stages import Facts
from hoistwright.job.to_entries import day_of
from hoistwright.job.to_release import left_in, rated_load_of, summary_of, with_signer
from hoistwright.metrology import Outcome
from hoistwright.prove.release import release


def certificate_of_job(
    facts: Facts,
    chosen: ExitChosen,
    proof: Proven | None,
    *,
    number: str,
    signer: str,
    today: datetime.date,
    wear: WearDate | None = None,
    supersedes: Supersedes | None = None,
) -> Certificate:
    """What the certificate of a job states, to be signed by the person with key `signer`. Pure.

    Args:
        facts: the job, with design, bases and shop.
        chosen: how it leaves.
        proof: what the proof came to.
        number: of the certificate.
        signer: key of the person.
        today: the date of the report.
        wear: from the prognosis of wear, where there is one.
        supersedes: the issue whose place it takes.

    Returns:
        The certificate; `missing` holds what the release rule still asks for.
    """
    released = chosen.exit in RELEASES
    who = signatory_of(facts.shop, signer)
    rated = rated_load_of(facts) or 0.0
    lowered = chosen.exit == "released with lower rated load"
    load = (chosen.lowered_to or 0.0) if lowered else rated
    summary = with_signer(
        summary_of(facts, chosen, proof), who.name, entitled=signer in facts.shop.adopters()
    )
    return Certificate(
        number=number,
        decision=chosen.exit,
        issued_on=today,
        occasion=chosen.occasion,
        safe_to_operate=released,
        rated_load=load if released else 0.0,
        reported_by=who,
        authenticated_by=who,
        revision=0 if supersedes is None else supersedes.revision + 1,
        tested_on=proof.day if proof and released else None,
        installed_correctly=chosen.installed_correctly,
        configuration=chosen.configuration or _configuration(facts),
        rated_load_before=rated if lowered else None,
        plate_changed=chosen.plate_changed and lowered,
        made_unusable=_unusable(chosen),
        defects=tuple(_defects(facts, chosen)),
        work=tuple(_work(facts)) if released else (),
        tests=_tests(facts, proof) if proof else (),
        next_due=_due(facts, chosen, wear) if released else None,
        supersedes=supersedes,
        deviations=_deviations(facts, chosen),
        from_others=chosen.from_others,
        remarks=_remarks(facts, chosen),
        missing=release(summary).missing,
    )


def examination_for(facts: Facts, chosen: ExitChosen) -> Examination | None:
    """The examination that the certificate tells.

    Of a hoist that leaves without a repair only what was really looked at and read.
    """
    examination = facts.examination
    if examination is None or chosen.exit in RELEASES:
        return examination
    return attrs.evolve(
        examination, verdicts=tuple(v for v in examination.verdicts if _established(v))
    )


def _established(verdict: Verdict) -> bool:
    return verdict.outcome is not Outcome.NOT_ESTABLISHED


def _configuration(facts: Facts) -> str:
    """Falls and lift of the design, as the rated load goes with them."""
    rating = facts.design.rating if facts.design else None
    if rating is None or rating.falls is None:
        return ""
    falls = "1 fall" if rating.falls == 1 else f"{rating.falls} falls"
    return falls if rating.lift is None else f"{falls}, lift {float(rating.lift):g} m"


def _unusable(chosen: ExitChosen) -> str:
    if chosen.exit != "condemned" or not chosen.made_unusable:
        return ""
    by = f"; by {chosen.made_unusable_by}" if chosen.made_unusable_by else ""
    return f"{chosen.made_unusable}{by}"


def _tests(facts: Facts, proof: Proven) -> tuple[TestMade, ...]:
    """What was proved, each source under its title instead of its key."""
    titles = source_names(facts.bases)
    made = proved(
        proof.result, proof.needed, applied=proof.applied, hold=proof.hold, by=proof.by,
        weights=_weights(facts),
    )  # fmt: skip
    return tuple(
        attrs.evolve(
            test,
            source=titles.get(test.source, test.source),
            figures=tuple(
                attrs.evolve(figure, source=_titled(figure.source, titles))
                for figure in test.figures
            ),
        )
        for test in made
    )


def _weights(facts: Facts) -> str:
    """Which test weights hung, by key, so that their calibration can be found."""
    chosen = facts.state.test_load
    if chosen is None or chosen.by != "weights":
        return ""
    return ", ".join(f"{one.weight} × {one.count}" for one in chosen.hung)


def _titled(text: str, titles: Mapping[str, str]) -> str:
    for key, title in titles.items():
        text = text.replace(f"{key},", f"{title},")
    return text


def _due(facts: Facts, chosen: ExitChosen, wear: WearDate | None) -> NextDue | None:
    day, booked = day_of(facts.state), facts.state.booked
    if day is None:
        return None
    service = booked.service if booked else "normal"
    found = latest_due(day, facts.bases, service, chosen, wear)
    return None if found is None else NextDue(day=found.day, why=found.why)


def _defects(facts: Facts, chosen: ExitChosen) -> Iterator[Defect]:
    """Each feature of a part that was found bad, with what was done about it."""
    examination = facts.examination
    kept, seen = left_in(facts), set()
    for verdict in examination.worst_first if examination else ():
        key = verdict.part, verdict.feature
        bad = verdict.outcome in (Outcome.RENEW, Outcome.BORDERLINE)
        if not bad or key in seen or verdict.part in kept:
            continue
        seen.add(key)
        renewed = verdict.part in facts.renewed and chosen.exit in RELEASES
        yield Defect(
            part=verdict.part_name,
            defect=_found(verdict),
            danger="is a danger" if verdict.outcome is Outcome.RENEW else "could become a danger",
            remedy=verdict.next_step.rstrip(".") or "renew the part",
            done="renewed" if renewed else "",
        )


def _found(verdict: Verdict) -> str:
    where = f", {verdict.place}" if verdict.place else ""
    why = verdict.remark or verdict.why
    return f"{verdict.feature_name}{where}: {why}".rstrip(".")


def _work(facts: Facts) -> Iterator[WorkDone]:
    """Parts renewed by choice, then the one-use parts that the rebuild took."""
    design, plan = facts.design, facts.rebuild
    if design is None:
        return
    for key in facts.renewed:
        entry = facts.state.choices.get(key)
        body = entry.body if entry else None
        chosen = body if isinstance(body, PartChosen) else None
        yield WorkDone(
            part=key,
            name=design.part(key).name,
            trace=chosen.trace if chosen else "",
            remark=chosen.reason if chosen else "renewed together with another part",
        )
    once = [piece for piece in plan.new_parts if piece.part not in facts.renewed] if plan else []
    if once:
        named = ", ".join(
            piece.name if piece.quantity == 1 else f"{piece.name} ({piece.quantity})"
            for piece in once
        )
        yield WorkDone(part=ONCE, name="parts used once", remark=named)


def _deviations(facts: Facts, chosen: ExitChosen) -> str:
    told = [chosen.deviations] if chosen.deviations else []
    if chosen.exit in RELEASES and facts.design is not None:
        known = {part.key: part.name for part in facts.design.parts}
        told += [
            f"{known.get(part, part)}: borderline, left in by a competent person: {body.reason}"
            for part, body in left_in(facts).items()
        ]
    return "; ".join(told)


def _remarks(facts: Facts, chosen: ExitChosen) -> str:
    told = [chosen.remarks]
    if chosen.exit not in RELEASES:
        told.append(chosen.reason)
        examination = facts.examination
        left = len(examination.not_established) if examination else 0
        if left:
            told.append(f"{left} points of the examination were not looked at or not established.")
    return " ".join(text for text in told if text)
