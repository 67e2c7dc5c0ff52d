"""The folder for an auditor, and the way from a proof to the tests of a certificate."""

from __future__ import annotations

import datetime
import hashlib
import json
from pathlib import Path

import attrs
import pytest
from release_scene import Scene

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.release.from_proof import proved
from hoistwright.certificate.release.packet import Packet, write_packet
from hoistwright.certificate.release.values import TestFigure
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
    (shown,) = loaded[0].figures  # read under that load, so they stand with it
    assert not any(test.figures for test in made if test.load is None)
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


def test_figure_of_no_stated_uncertainty_is_not_exact() -> None:
    """A time by a watch is not "72 ± 0 s"; the weights that hung are named."""
    head = shipped_basis("b30-hand-hoists").head
    needed = needed_tests([Done(part="top_hook", role="hook")], [head], "hand chain hoist")
    hold = ProofFinding(
        key="hold", name="time the load was held", outcome=Outcome.FIT, required=True, why="",
        value=72.0, u=0.0, low=60.0, unit="s", dimension=Dimension.TIME,
    )  # fmt: skip
    load = attrs.evolve(
        hold, key="load", name="load applied", value=850.0, u=0.2, unit="kg",
        dimension=Dimension.MASS, gauge="3 test weights",
    )  # fmt: skip
    result = ProofResult(findings=(hold, load))
    (test, *_) = [t for t in proved(result, needed, weights="w500 × 1, w250 × 1") if t.figures]
    assert [figure.value for figure in test.figures] == ["72 s", "850.00 ± 0.40 kg"]
    assert [figure.gauge for figure in test.figures] == ["", "w500 × 1, w250 × 1"]


def test_gauges_and_weights_of_the_proof_stand_among_the_gauges(scene: Scene) -> None:
    """Whoever traces the test load must find the calibration (ISO/IEC 17025, 7.8.2.1 f)."""
    test = scene.certificate.tests[0]
    figures = (
        TestFigure(what="load applied", value="850 kg", gauge="w500 × 1, w250 × 1"),
        TestFigure(what="hand pull", value="312 N", gauge="cell-2"),
    )
    record = scene.record(tests=(attrs.evolve(test, figures=figures),))
    due = {item["key"]: item["due_on"] for item in record["gauges"]}
    assert (due["w500"], due["w250"], due["cell-2"]) == ("2028-06-30", "2028-06-30", "2027-04-13")
    assert "w100" not in due
    assert "w500" not in {item["key"] for item in scene.record()["gauges"]}
