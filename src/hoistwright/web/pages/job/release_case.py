"""What the release page and its papers are made of, for one visit."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any

import attrs

from hoistwright.certificate.release.record import certificate_record
from hoistwright.certificate.release.rules import objections
from hoistwright.certificate.release.values import Signatory
from hoistwright.faults import FaultsError
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn, ExitChosen
from hoistwright.job.requirements_release import changed_since
from hoistwright.job.state import Standing
from hoistwright.web.leaving import Leaving
from hoistwright.web.pages.job.case import Case
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
    def leaving(self) -> Leaving:
        return Leaving(bench=self.visit.bench, facts=self.case.facts)

    @cached_property
    def keys(self) -> ShopKeysFolder:
        return keys_of(self.visit.bench)

    @property
    def issued(self) -> CertificateIssued | None:
        """The certificate that stands."""
        return self.leaving.issued

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

    def objections(self, signer: str) -> list[str]:
        """Why the certificate, signed by this person today, would be refused; none: it is not."""
        leaving = self.leaving
        if leaving.chosen is None or leaving.issued is not None:
            return []
        try:
            made = leaving.certificate("?", signer, self.visit.bench.today)
            return objections(made, leaving.examination, leaving.sheet)
        except FaultsError as error:
            return [fault.read for fault in error.faults]

    def draft(self) -> Mapping[str, Any]:
        """The record as it would be signed now; without a number, and by whom is left open.

        Raises Refused where there is nothing to state yet.
        """
        say, person, leaving = self.visit.say, self.visit.person, self.leaving
        number = leaving.issued.number if leaving.issued else say("draft")
        try:
            made = leaving.certificate(number, person.key, self.visit.bench.today)
            examination = leaving.examination
        except FaultsError as error:
            raise Refused(409, " ".join(say(fault.read) for fault in error.faults)) from None
        if person.key not in leaving.shop.adopters():
            nobody = Signatory(
                key="", name=say("not signed yet"), address="", qualification="", employer=""
            )
            made = attrs.evolve(made, reported_by=nobody, authenticated_by=nobody)
        return certificate_record(made, examination, leaving.sheet, leaving.shop)
