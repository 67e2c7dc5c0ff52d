"""What a certificate must not say: contradictions, and releases that nothing carries."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from hoistwright.certificate.release.values import RELEASES, Certificate, Signatory
from hoistwright.examine.result import Examination
from hoistwright.job.job_sheet import JobSheet
from hoistwright.metrology import Outcome

MAY_SIGN = "competent person"


def objections(certificate: Certificate, examination: Examination, sheet: JobSheet) -> list[str]:
    """Everything that forbids to issue this certificate, in sentences; none: it may be signed."""
    rules = [_identity, _people, _decision, _revision]
    found = [text for rule in rules for text in rule(certificate)]
    found += _dates(certificate, sheet)
    if certificate.decision in RELEASES:
        found += _release(certificate)
        found += _examined(certificate, examination)
    return found


def _identity(it: Certificate) -> Iterator[str]:
    if not it.number.strip():
        yield "The certificate has no number."
    if it.revision < 0:
        yield f"Revision {it.revision}: expected 0 for the first issue, then 1, 2, …"


def _people(it: Certificate) -> Iterator[str]:
    roles = [("reports", it.reported_by), ("signs", it.authenticated_by)]
    for role, who in roles if it.reported_by != it.authenticated_by else roles[1:]:
        for what in ("name", "address", "qualification", "employer"):
            if not getattr(who, what).strip():
                yield f"{who.name or who.key or 'The person'}, who {role}: {what} is not stated."
    if not may_sign(it.authenticated_by):
        yield (
            f"{it.authenticated_by.name or it.authenticated_by.key} is no competent person of the "
            "shop file and may not sign a certificate."
        )


def may_sign(who: Signatory) -> bool:
    """Whether somebody has the right to sign."""
    return MAY_SIGN in who.roles


def _decision(it: Certificate) -> Iterator[str]:
    released = it.decision in RELEASES
    if released != it.safe_to_operate:
        yield (
            f"The decision is {it.decision!r}, but safe to operate is "
            f"{'yes' if it.safe_to_operate else 'no'}."
        )
    if released and not it.rated_load > 0:
        yield "A hoist that is released needs a rated load above zero."
    if not released and it.rated_load != 0:
        yield "A hoist that is not released may lift nothing: its rated load must be 0."
    if it.decision == "condemned" and not it.made_unusable.strip():
        yield "Condemned: say how the hoist was made unusable."
    if it.decision == "released with lower rated load":
        yield from _lower(it)
    if it.occasion.startswith("first") and it.installed_correctly is None:
        yield "First examination: say whether the hoist is installed correctly."


def _lower(it: Certificate) -> Iterator[str]:
    before = it.rated_load_before
    if before is None or not it.rated_load < before:
        yield "Released with lower rated load: the rated load must lie below the one before."
    if not it.plate_changed:
        yield "Released with lower rated load: the data plate must show the new rated load first."


def _revision(it: Certificate) -> Iterator[str]:
    old = it.supersedes
    if (old is None) != (it.revision == 0):
        yield "A revision above 0, and only that, names the issue it takes the place of."
    if old is None:
        return
    if old.number != it.number or old.revision != it.revision - 1:
        yield (
            f"Revision {it.revision} of {it.number} must take the place of revision "
            f"{it.revision - 1} of the same number, not of {old.revision} of {old.number}."
        )
    if it.issued_on < old.issued_on:
        yield f"Dated {it.issued_on}, before the issue it takes the place of ({old.issued_on})."
    if not old.reason.strip():
        yield "A revision must say what was changed and why."


def _dates(it: Certificate, sheet: JobSheet) -> Iterator[str]:
    work = sheet.work
    steps = [
        ("received", work.received_on),
        ("examined", work.examined_on),
        ("tested", it.tested_on),
        ("certificate issued", it.issued_on),
    ]
    known = [(word, day) for word, day in steps if day is not None]
    for (word, day), (later_word, later) in itertools.pairwise(known):
        if later < day:
            yield (
                f"{later_word} on {later}, which is before {word} on {day}: check the dates and "
                "the clock."
            )


def _release(it: Certificate) -> Iterator[str]:
    yield from it.missing
    if not it.tests:
        yield "No test is recorded: a hoist that was opened is proved before it is released."
    for test in it.tests:
        if not test.passed:
            yield f"Test not passed: {test.name}."
    if it.next_due is None:
        yield "The latest day of the next thorough examination is not stated."
    elif it.next_due.day <= it.issued_on:
        yield f"The next thorough examination is due on {it.next_due.day}: that is not after today."
    for defect in it.defects:
        if defect.danger == "is a danger" and not defect.done.strip():
            yield f"{defect.part}: {defect.defect}: it is a danger, and nothing was done about it."
        if defect.danger == "could become a danger" and not defect.done and defect.by is None:
            yield f"{defect.part}: {defect.defect}: say by when it must be put right."


def _examined(it: Certificate, examination: Examination) -> Iterator[str]:
    """The release rule speaks first (`missing`); this holds even if somebody forgot to ask it."""
    if not examination.adopted:
        yield "Not every basis used is adopted by this shop."
    for finding in examination.findings:
        if finding.about == "identity":
            yield f"{finding.title}. {finding.sentence} {finding.next_step}"
    mended = {item.part for item in it.work}
    for verdict in examination.verdicts:
        if verdict.outcome is Outcome.FIT or verdict.part in mended:
            continue
        if verdict.outcome in (Outcome.RENEW, Outcome.NOT_ESTABLISHED):
            yield f"{verdict.title}: {verdict.outcome.words}, and nothing was done to the part."
