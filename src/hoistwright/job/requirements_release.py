"""What release asks for before a hoist may leave."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.job.events import GivenTo, PhotoAttached, Remarked, StageFinished, StageReopened
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.job.proven import proven_of
from hoistwright.job.stages import Facts, Missing
from hoistwright.job.to_release import certificate_entry, signer_of, summary_of
from hoistwright.prove import release as rule

NOT_STATED = (
    GivenTo, PhotoAttached, Remarked, StageFinished, StageReopened, QuoteMade, QuoteAnswered,
    CertificateIssued, CertificateWithdrawn,
)  # fmt: skip
"""Entries that change nothing of what a certificate states."""


def release(facts: Facts) -> Iterator[Missing]:
    """Everything that the release rule misses; then the certificate, signed after all else."""
    chosen = facts.state.exit
    if chosen is None:
        yield _say("exit", "Nobody has said how the hoist is to leave.")
        return
    signer = signer_of(facts)
    found = rule.release(summary_of(facts, chosen, proven_of(facts), signer))
    for gap in found.gaps:
        if gap.about != "signer" or signer.name:
            yield _say(gap.about, gap.sentence, gap.key)
    if facts.state.certificate is None:
        yield _say("certificate", "No certificate is signed.")
    elif changed_since(facts):
        yield _say(
            "certificate",
            "Something was entered after the certificate was signed: sign a revision, or take the "
            "entry back.",
        )


def changed_since(facts: Facts) -> bool:
    """Whether the certificate that stands says less, or other, than the job does now."""
    signed = certificate_entry(facts)
    return signed is not None and any(
        entry.last.seq > signed.last.seq and not isinstance(entry.event.body, NOT_STATED)
        for entry in facts.state.entries.values()
    )


def _say(what: str, sentence: str, key: str = "") -> Missing:
    return Missing(stage="release", what=what, sentence=sentence, address=(key, "", ""))
