"""What the release page and its papers are made of: summary, certificate, draft."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from functools import cached_property
from typing import Any

import attrs

from hoistwright.certificate.release.from_job import certificate_of_job, examination_for
from hoistwright.certificate.release.record import certificate_record
from hoistwright.certificate.release.register import Register
from hoistwright.certificate.release.values import Certificate, Signatory, Supersedes
from hoistwright.examine.result import Examination
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn, ExitChosen
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.next_due import WearDate
from hoistwright.job.proven import Proven, proven_of
from hoistwright.job.requirements_release import changed_since
from hoistwright.job.state import Standing
from hoistwright.job.to_entries import job_sheet_of
from hoistwright.web.pages.job.case import Case
from hoistwright.web.records.issued import register_of
from hoistwright.web.refused import Refused
from hoistwright.web.shop_keys import ShopKeysFolder, keys_of
from hoistwright.web.visit import Visit


@attrs.define(kw_only=True, slots=False)
class ReleaseCase:
    """One job about to leave, looked at by one visit."""

    case: Case

    @property
    def visit(self) -> Visit:
        return self.case.visit

    @property
    def chosen(self) -> ExitChosen | None:
        return self.case.state.exit

    @cached_property
    def proof(self) -> Proven | None:
        return proven_of(self.case.facts)

    @cached_property
    def keys(self) -> ShopKeysFolder:
        return keys_of(self.visit.bench)

    @cached_property
    def register(self) -> Register:
        return register_of(self.visit.bench.engine)

    @cached_property
    def wear(self) -> WearDate | None:
        """From the prognosis of wear; None where there is none for this hoist."""
        return None

    @property
    def issued(self) -> CertificateIssued | None:
        """The certificate that stands."""
        return self.case.state.certificate

    @cached_property
    def changed(self) -> bool:
        """Whether something was entered after that one was signed."""
        return changed_since(self.case.facts)

    @cached_property
    def papers(self) -> tuple[Standing, ...]:
        """Every certificate and withdrawal of this job, the latest first."""
        kinds = (CertificateIssued, CertificateWithdrawn)
        entries = self.case.state.entries.values()
        return tuple(e for e in entries if isinstance(e.event.body, kinds))[::-1]

    @cached_property
    def sheet(self) -> JobSheet:
        return job_sheet_of(self.case.state)

    def certificate(
        self, number: str, signer: str, reason: str = "", today: datetime.date | None = None
    ) -> Certificate:
        """What the certificate states. Raises Refused where nothing is chosen or examined yet."""
        if self.chosen is None:
            raise Refused(409, self.visit.say("Say first how the hoist is to leave."))
        made = certificate_of_job(
            self.case.facts,
            self.chosen,
            self.proof,
            number=number,
            signer=signer,
            today=today or self.visit.bench.today,
            wear=self.wear,
            supersedes=self.supersedes(reason),
        )
        return made

    def supersedes(self, reason: str) -> Supersedes | None:
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

    @property
    def examination(self) -> Examination:
        found = None
        if self.chosen is not None:
            found = examination_for(self.case.facts, self.chosen)
        if found is None:
            say = self.visit.say
            raise Refused(409, say("Nothing has been examined yet."), say("Begin with Examine."))
        return found

    def draft(self) -> Mapping[str, Any]:
        """The record as it would be signed now; without a number, and by whom is left open."""
        say, person = self.visit.say, self.visit.person
        number = self.issued.number if self.issued else say("draft")
        made = self.certificate(number, person.key)
        if person.key not in self.case.shop.adopters():
            nobody = Signatory(
                key="", name=say("not signed yet"), address="", qualification="", employer=""
            )
            made = attrs.evolve(made, reported_by=nobody, authenticated_by=nobody)
        return certificate_record(made, self.examination, self.sheet, self.case.shop)
