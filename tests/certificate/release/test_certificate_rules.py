"""What may not be certified, and what may not be signed."""

from __future__ import annotations

import datetime
from typing import Any

import attrs
import pytest
from release_scene import Scene, end_states

from hoistwright.certificate.release.issue import Pens
from hoistwright.certificate.release.record import signatory_of
from hoistwright.certificate.release.register import Register, RegisterEntry
from hoistwright.certificate.release.rules import objections
from hoistwright.certificate.release.values import Defect, NextDue, Supersedes
from hoistwright.certificate.signing.make_keys import make_signer_keys
from hoistwright.examine.result import Examination
from hoistwright.faults import FaultsError
from hoistwright.metrology import Outcome


def told(scene: Scene, **changes: Any) -> str:
    certificate = attrs.evolve(scene.certificate, **changes)
    return " | ".join(objections(certificate, scene.examination, scene.sheet))


@pytest.mark.parametrize("state", end_states(), ids=lambda s: str(s.get("decision", "released")))
def test_every_way_out_can_be_certified(scene: Scene, state: dict[str, Any]) -> None:
    assert told(scene, **state) == ""


LATE = NextDue(day=datetime.date(2026, 10, 7), why="x")
OPEN = Defect(part="Hook", defect="crack", danger="is a danger", remedy="renew")
SOON = Defect(part="Hook", defect="nick", danger="could become a danger", remedy="dress")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"number": " "}, "no number"),
        ({"safe_to_operate": False}, "safe to operate is no"),
        ({"rated_load": 0.0}, "rated load above zero"),
        ({"tests": ()}, "No test is recorded"),
        ({"next_due": None}, "latest day of the next"),
        ({"next_due": LATE}, "not after today"),
        ({"defects": (OPEN,)}, "nothing was done"),
        ({"defects": (SOON,)}, "by when"),
        ({"missing": ("The hoist was not proved.",)}, "was not proved"),
        ({"issued_on": datetime.date(2026, 10, 4)}, "check the dates"),
        ({"occasion": "first examination after installation"}, "installed correctly"),
        ({"revision": 1}, "takes the place of"),
        ({"revision": -1}, "expected 0 for the first"),
        ({"decision": "condemned"}, "made unusable"),
        ({"decision": "released with lower rated load"}, "below the one before"),
        (
            {"decision": "released with lower rated load", "rated_load_before": 3000.0},
            "data plate must show",
        ),
        ({"decision": "returned unrepaired"}, "may lift nothing"),
    ],
)
def test_each_contradiction_is_told(scene: Scene, changes: dict[str, Any], words: str) -> None:
    assert words in told(scene, **changes)


def test_failed_test_and_silent_person_forbid(scene: Scene) -> None:
    failed = attrs.evolve(scene.certificate.tests[0], passed=False)
    silent = attrs.evolve(scene.certificate.reported_by, qualification="")
    assert "Test not passed" in told(scene, tests=(failed,))
    assert "qualification is not stated" in told(scene, reported_by=silent)


def test_technician_may_not_sign(scene: Scene) -> None:
    assert "may not sign" in told(scene, authenticated_by=signatory_of(scene.shop, "tomasz"))


def test_unknown_person_has_no_right(scene: Scene) -> None:
    assert signatory_of(scene.shop, "nobody").roles == ()
    assert "may not sign" in told(scene, authenticated_by=signatory_of(scene.shop, "nobody"))


def _with_outcome(examination: Examination, outcome: Outcome) -> Examination:
    first = attrs.evolve(examination.verdicts[0], outcome=outcome)
    return attrs.evolve(examination, verdicts=(first, *examination.verdicts[1:]))


@pytest.mark.parametrize("outcome", [Outcome.RENEW, Outcome.NOT_ESTABLISHED])
def test_part_that_is_not_fit_forbids_unless_it_was_renewed(scene: Scene, outcome: Outcome) -> None:
    bad = _with_outcome(scene.examination, outcome)
    part = bad.verdicts[0].part
    assert outcome.words in " ".join(objections(scene.certificate, bad, scene.sheet))
    work = attrs.evolve(scene.certificate.work[0], part=part)
    assert not objections(attrs.evolve(scene.certificate, work=(work,)), bad, scene.sheet)


def test_basis_that_is_not_adopted_forbids(scene: Scene) -> None:
    bare = attrs.evolve(scene.examination, adoptions=())
    assert "Not every basis" in " ".join(objections(scene.certificate, bare, scene.sheet))


def refused(scene: Scene, **how: Any) -> str:
    with pytest.raises(FaultsError) as caught:
        scene.issue(**how)
    return str(caught.value)


def test_clock_before_the_date_of_the_paper_is_refused(scene: Scene) -> None:
    early = scene.at - datetime.timedelta(days=30)
    assert "signed before its date" in refused(scene, at=early)


def test_clock_set_back_behind_the_register_is_refused(scene: Scene) -> None:
    later = RegisterEntry(
        what="issued", number="KQ-2026-0041", revision=0, file_sha256="0" * 64, signer="x",
        at=scene.at + datetime.timedelta(hours=1),
    )  # fmt: skip
    register = Register(shop=scene.shop.name, entries=(later,))
    assert "set back" in refused(scene, register=register)


def test_key_out_of_date_is_refused(scene: Scene) -> None:
    start = datetime.date(2020, 1, 1)
    old = make_signer_keys(scene.keys, scene.shop.name, "odile", "Odile Brannagh", start, years=1)
    pens = Pens(signer=old, code_key=scene.keys.code_key)
    assert "expected a key in date" in refused(scene, pens=pens)


def test_key_of_somebody_else_is_refused(scene: Scene) -> None:
    other = make_signer_keys(
        scene.keys, scene.shop.name, "tomasz", "Tomasz Ferrier", datetime.date(2026, 1, 1)
    )
    pens = Pens(signer=other, code_key=scene.keys.code_key)
    assert "The key is that of Tomasz Ferrier" in refused(scene, pens=pens)


def test_number_is_used_once_and_revisions_follow(scene: Scene) -> None:
    register = scene.issued.register
    assert "expected revision 1" in refused(scene, register=register)
    wrong = Supersedes(
        number="KQ-2026-0042", revision=0, file_sha256="b" * 64, issued_on=scene.day, reason="x"
    )
    text = refused(scene, register=register, revision=1, supersedes=wrong)
    assert "not the one in the register" in text


def test_everything_is_told_at_once(scene: Scene) -> None:
    with pytest.raises(FaultsError) as caught:
        scene.issue(tests=(), next_due=None, number="")
    assert len(caught.value.faults) >= 3
