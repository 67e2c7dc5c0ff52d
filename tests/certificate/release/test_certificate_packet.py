"""The folder for an auditor, and the way from a proof to the tests of a certificate."""

from __future__ import annotations

import datetime
import hashlib
import json
from pathlib import Path

import pytest
from release_scene import Scene

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.release.from_proof import proved
from hoistwright.certificate.release.packet import Packet, write_packet
from hoistwright.faults import FaultsError
from hoistwright.metrology import Outcome
from hoistwright.prove.bed import Applied
from hoistwright.prove.finding import ProofFinding, ProofResult
from hoistwright.prove.tests_needed import Done, needed_tests
from hoistwright.quantity import Dimension

DAY = datetime.date(2026, 11, 25)


def packet(scene: Scene) -> Packet:
    return Packet(
        job="KQ-0401",
        shop=scene.shop.name,
        report=b"%PDF-report",
        certificates={"KQ-2026-0042-0.pdf": scene.issued.pdf},
        record=scene.issued.record,
        journal=b"{}\n",
        photos={"../../etc/hook.jpg": b"\xff\xd8"},
    )


def test_index_names_every_file_with_its_hash(scene: Scene, tmp_path: Path) -> None:
    index = write_packet(tmp_path, packet(scene), DAY)
    folder = index.parent
    listed = json.loads((folder / "index.json").read_text(encoding="utf-8"))["files"]
    on_disk = {
        str(path.relative_to(folder))
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith("index.")
    }
    assert {item["name"] for item in listed} == on_disk
    for item in listed:
        data = (folder / item["name"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == item["sha256"]
        assert item["sha256"] in index.read_text(encoding="utf-8")


def test_index_says_what_is_missing(scene: Scene, tmp_path: Path) -> None:
    text = write_packet(tmp_path, packet(scene), DAY).read_text(encoding="utf-8")
    assert "Not in this folder: register of certificates, public certificate of the shop." in text


def test_nothing_leaves_the_folder(scene: Scene, tmp_path: Path) -> None:
    """A name from outside may hold anything; the file stays in its folder."""
    write_packet(tmp_path / "in", packet(scene), DAY)
    outside = [p for p in tmp_path.rglob("*") if p.is_file() and tmp_path / "in" not in p.parents]
    assert outside == []


def test_folder_in_use_and_names_twice_are_refused(scene: Scene, tmp_path: Path) -> None:
    write_packet(tmp_path, packet(scene), DAY)
    with pytest.raises(FaultsError, match="files in it"):
        write_packet(tmp_path, packet(scene), DAY)
    twice = Packet(job="x", shop="y", photos={"a b.jpg": b"1", "a_b.jpg": b"2"})
    with pytest.raises(FaultsError, match="two files of this name"):
        write_packet(tmp_path, twice, DAY)


def test_tests_of_a_proof_carry_load_source_and_figures() -> None:
    head = shipped_basis("b30-hand-hoists").head
    needed = needed_tests([Done(part="top_hook", role="hook")], [head], "hand chain hoist")
    figure = ProofFinding(
        key="efficiency", name="efficiency", outcome=Outcome.FIT, required=True, why="fits",
        value=0.71, u=0.01, low=0.62, high=0.8, dimension=Dimension.RATIO, unit="%",
        source="design", gauge="pull-1",
    )  # fmt: skip
    applied = Applied(
        outcome=Outcome.FIT, load=2500.0, u=0.7, guard=1.4, low=2000.0, high=2500.0, why="", how="w"
    )
    made = proved(ProofResult(findings=(figure,)), needed, applied=applied, hold=600.0, by="O")
    assert [test.name for test in made] == [test.name for test in needed.needed]
    loaded = [test for test in made if test.load is not None]
    assert loaded
    assert all((t.load, t.load_uncertainty, t.hold) == (2500.0, 1.4, 600.0) for t in loaded)
    assert all(test.source and test.passed for test in made)
    (shown,) = made[-1].figures
    assert (shown.value, shown.limit, shown.gauge) == ("71.0 ± 2.0 %", "62 % to 80 %", "pull-1")


def test_failed_proof_makes_no_passed_test() -> None:
    head = shipped_basis("b30-hand-hoists").head
    needed = needed_tests([Done(part="top_hook", role="hook")], [head], "hand chain hoist")
    bad = ProofFinding(
        key="creep",
        name="creep",
        outcome=Outcome.NOT_ESTABLISHED,
        required=True,
        why="not measured",
    )
    made = proved(ProofResult(findings=(bad,)), needed)
    assert made
    assert not any(test.passed for test in made)
    assert all("creep: not measured" in test.particulars for test in made)
