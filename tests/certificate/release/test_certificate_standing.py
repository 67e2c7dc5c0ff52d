"""What a genuine paper means today: a withdrawal or a condemned hoist is no release."""

from __future__ import annotations

import datetime
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from release_scene import Scene, end_states

from hoistwright.certificate.release.issue import withdraw, withdrawal_of
from hoistwright.certificate.release.render import render
from hoistwright.certificate.release.verify import Verification, verify, verify_code
from hoistwright.certificate.signing.sign_pdf import sign_pdf

TODAY = datetime.date(2026, 11, 25)
LATE = datetime.date(2027, 10, 7)


def verify_today(scene: Scene, data: bytes) -> Verification:
    return verify(data, scene.trust, TODAY)


def remarks(result: Verification) -> str:
    return " ".join(item.sentence for item in result.found if item.code == "remark")


@pytest.mark.parametrize("state", end_states()[2:])
def test_genuine_paper_of_an_unfit_hoist_is_no_release(scene: Scene, state: dict[str, Any]) -> None:
    result = verify_today(
        scene, sign_pdf(render(scene.record(**state), code="x"), scene.signer, scene.at)
    )
    assert result.valid
    assert not result.releases
    assert "do not lift" in remarks(result)


def test_genuine_withdrawal_is_no_release(scene: Scene) -> None:
    day = datetime.date(2026, 10, 8)
    stated = withdrawal_of(scene.issued.pdf, scene.trust, scene.shop, "odile", "wrong hoist", day)
    at = scene.at + datetime.timedelta(days=1)
    result = verify_today(
        scene, withdraw(stated, scene.shop, scene.pens, scene.issued.register, at).pdf
    )
    assert result.valid
    assert not result.releases
    assert "no longer stands" in remarks(result)


def test_overdue_and_open_defects_are_told(scene: Scene) -> None:
    """The scene's hand chain is to be renewed by 15 Jan 2027, the hoist is due on 6 Oct 2027."""
    soon = verify_today(scene, scene.issued.pdf)
    assert soon.releases
    assert "To be put right by 2027-01-15: Hand chain" in remarks(soon)
    assert "overdue" not in remarks(soon)
    late = verify(scene.issued.pdf, scene.trust, LATE)
    assert "due by 2027-10-06: it is overdue" in remarks(late)
    assert "That day is past" in remarks(late)
    assert "overdue" in remarks(verify_code(scene.issued.code, scene.trust, LATE))


def test_unknown_signer_leaves_no_traceback(scene: Scene, tmp_path: Path) -> None:
    """In a process of its own, as a user runs it: the library logs to the screen by default."""
    file = tmp_path / "paper.pdf"
    file.write_bytes(scene.issued.pdf)
    done = subprocess.run(
        [sys.executable, "-m", "hoistwright", "verify", str(file)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout.startswith("Signer not trusted.")
    assert "says of itself, whatever its worth" in done.stdout
    assert done.stderr == ""
