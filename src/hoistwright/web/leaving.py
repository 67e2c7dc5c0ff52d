"""A job about to leave: its certificate, signed and entered. Pages and the demo do it through here.

Nothing here knows of forms: what forbids a signature is told as FaultsError, all of it at once.
"""

from __future__ import annotations

import datetime
import threading
from functools import cached_property

import attrs

from hoistwright.certificate.release.from_job import certificate_of_job, examination_for
from hoistwright.certificate.release.issue import (
    Issued,
    Pens,
    hindrances,
    issue,
    withdraw,
    withdrawal_of,
)
from hoistwright.certificate.release.register import Register, register_bytes
from hoistwright.certificate.release.render import Lang
from hoistwright.certificate.release.values import RELEASES, Certificate, Supersedes
from hoistwright.examine.result import Examination
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.job.entry import Draft
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn, ExitChosen
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.next_due import WearDate
from hoistwright.job.proven import Proven, proven_of
from hoistwright.job.shop import Shop
from hoistwright.job.stages import Facts
from hoistwright.job.state import JobState
from hoistwright.job.to_entries import day_of, job_sheet_of
from hoistwright.web.bench import Bench
from hoistwright.web.records.issued import draw_number, keep_signed, register_of
from hoistwright.web.shop_keys import keys_of
from hoistwright.web.whole_fleet import job_wear_date

_ONE_AT_A_TIME = threading.Lock()
"""Number, signature and entry of one certificate go together."""


@attrs.define(kw_only=True, slots=False)
class Leaving:
    """One job with all that its certificate is made of."""

    bench: Bench
    facts: Facts
    foretold: bool = True
    """Whether the prognosis of wear is asked when the hoist is due again."""

    @property
    def chosen(self) -> ExitChosen | None:
        return self.facts.state.exit

    @property
    def issued(self) -> CertificateIssued | None:
        """The certificate that stands."""
        return self.facts.state.certificate

    @cached_property
    def shop(self) -> Shop:
        """The shop as papers name it; that of a demo says so."""
        return attrs.evolve(self.facts.shop, demo=self.bench.demo)

    @cached_property
    def proof(self) -> Proven | None:
        return proven_of(self.facts)

    @cached_property
    def wear(self) -> WearDate | None:
        """From the prognosis of wear over the whole fleet; None where it brings nothing."""
        day = day_of(self.facts.state)
        released = self.chosen is not None and self.chosen.exit in RELEASES
        if day is None or not released or not self.foretold:
            return None
        return job_wear_date(self.bench, self.facts.state.job, day)

    @cached_property
    def register(self) -> Register:
        return register_of(self.bench.engine)

    @cached_property
    def sheet(self) -> JobSheet:
        return job_sheet_of(self.facts.state)

    @property
    def examination(self) -> Examination:
        """What the certificate tells of it. Raises FaultsError where there is none."""
        found = examination_for(self.facts, self._exit())
        if found is None:
            raise _refusal("Nothing has been examined yet.")
        return found

    def certificate(
        self, number: str, signer: str, today: datetime.date, reason: str = ""
    ) -> Certificate:
        """What the certificate states. Raises FaultsError where no way out is chosen."""
        return certificate_of_job(
            attrs.evolve(self.facts, shop=self.shop),
            self._exit(),
            self.proof,
            number=number,
            signer=signer,
            today=today,
            wear=self.wear,
            supersedes=self._supersedes(reason),
        )

    def _exit(self) -> ExitChosen:
        if self.chosen is None:
            raise _refusal("Nobody has said how the hoist is to leave.")
        return self.chosen

    def _supersedes(self, reason: str) -> Supersedes | None:
        """The issue whose place a revision takes."""
        old = self.issued
        if old is None:
            return None
        return Supersedes(
            number=old.number,
            revision=old.revision,
            file_sha256=old.content,
            issued_on=old.issued_on,
            reason=reason,
        )


def sign(
    leaving: Leaving,
    signer: str,
    pens: Pens,
    at: datetime.datetime,
    *,
    reason: str = "",
    lang: Lang = "en",
) -> CertificateIssued:
    """Sign the certificate, or a revision of the one that stands; keep the paper and enter it.

    Raises FaultsError with everything that forbids it.
    """
    local = at.astimezone()
    with _ONE_AT_A_TIME:
        _still_stands(leaving, leaving.bench.store.state(leaving.facts.state.job))
        issued, event = _issued(leaving, signer, pens, local, reason, lang)
        _entered(leaving, signer, pens, issued, event, at)
    return event


def take_back(
    leaving: Leaving, signer: str, pens: Pens, at: datetime.datetime, reason: str, lang: Lang
) -> CertificateWithdrawn:
    """Withdraw the certificate that stands. Raises FaultsError with all that forbids it."""
    old, local = leaving.issued, at.astimezone()
    kept = leaving.bench.store.attachment(old.content) if old and old.content else None
    if old is None or kept is None:
        raise _refusal("No certificate of this job stands, or its signed file is not kept here.")
    with _ONE_AT_A_TIME:
        _still_stands(leaving, leaving.bench.store.state(leaving.facts.state.job))
        trust = keys_of(leaving.bench).trust
        it = withdrawal_of(kept[1], trust, leaving.shop, signer, reason, local.date())
        done = withdraw(it, leaving.shop, pens, leaving.register, local, lang=lang)
        event = CertificateWithdrawn(
            number=old.number, revision=old.revision, reason=reason, content=done.sha256
        )
        _entered(leaving, signer, pens, done, event, at)
    return event


def _issued(
    leaving: Leaving, signer: str, pens: Pens, at: datetime.datetime, reason: str, lang: Lang
) -> tuple[Issued, CertificateIssued]:
    """The signed paper and its event. A number is drawn once nothing stands in the way."""
    old, today = leaving.issued, at.date()
    made = leaving.certificate(old.number if old else "?", signer, today, reason)
    found = hindrances(made, leaving.examination, leaving.sheet, pens, leaving.register, at)
    if found:
        raise FaultsError(_faults(found))
    if old is None:
        number = draw_number(leaving.bench.engine, leaving.register, today.year)
        made = attrs.evolve(made, number=number)
    issued = issue(
        made, leaving.examination, leaving.sheet, leaving.shop, pens, leaving.register, at,
        lang=lang,
    )  # fmt: skip
    due = made.next_due
    return issued, CertificateIssued(
        number=made.number,
        revision=made.revision,
        content=issued.sha256,
        decision=made.decision,
        rated_load=made.rated_load,
        issued_on=made.issued_on,
        next_due=due.day if due else None,
        why_due=due.why if due else "",
        code=issued.code,
    )


def _entered(
    leaving: Leaving,
    signer: str,
    pens: Pens,
    issued: Issued,
    event: CertificateIssued | CertificateWithdrawn,
    at: datetime.datetime,
) -> None:
    """The paper first, then its entry, then the register signed anew."""
    store, draft = leaving.bench.store, Draft(by=signer, body=event)

    def made(state: JobState) -> list[Draft]:
        _still_stands(leaving, state)
        return [draft]

    store.attach(issued.pdf)
    store.append_by(leaving.facts.state.job, made, now=at)
    keep_signed(leaving.bench.engine, register_bytes(issued.register, pens.code_key))


def _still_stands(leaving: Leaving, state: JobState) -> None:
    """The paper states the job as it is, and a job gets one certificate. Raises FaultsError."""
    if state.seq != leaving.facts.state.seq:
        raise _refusal("Something was entered on this job meanwhile. Look at it, then sign.")


def _faults(found: list[str]) -> list[Fault]:
    return [Fault(Place(), text, "nothing in the way") for text in dict.fromkeys(found)]


def _refusal(text: str) -> FaultsError:
    return FaultsError(_faults([text]))
