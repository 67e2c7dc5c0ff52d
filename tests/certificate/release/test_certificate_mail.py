"""What goes to the customer and the auditor as one archive; the demo's way to its certificate."""

from __future__ import annotations

import datetime
import io
import json
import re
import zipfile
from pathlib import Path

import pytest
from release_scene import Scene, end_states

from hoistwright.certificate.release.mail import mail_packet, message, subject, zipped
from hoistwright.certificate.release.packet import Packet, packet_files
from hoistwright.cli.commands.demo_certificate import certify_demo
from hoistwright.cli.main import main
from hoistwright.demo.shop_files import demo_folder
from hoistwright.web.serving import start_bench

DAY = datetime.date(2026, 11, 25)


def test_message_says_what_matters(scene: Scene) -> None:
    text = message(scene.record())
    for words in ("KQ-2026-0042", scene.sheet.hoist.serial, "2 t", "6 Oct 2027", "Odile Brannagh"):
        assert words in text


def test_message_in_french_has_no_english(scene: Scene) -> None:
    """But for the command, names and what people typed."""
    text = message(scene.record(), "fr")
    assert "Bonjour" in text
    english = re.findall(r"\b(?:the|with|of|and|hoist|certificate of|serial)\b", text)
    assert english == []


@pytest.mark.parametrize("state", end_states()[2:])
def test_message_of_a_hoist_that_may_not_lift_names_no_load(
    scene: Scene, state: dict[str, object]
) -> None:
    assert "2 t" not in message(scene.record(**state))


def test_mail_packet_holds_the_signed_file_as_it_is(scene: Scene) -> None:
    made = mail_packet(scene.record(), scene.issued.pdf, shop_certificate=b"PEM")
    assert made == mail_packet(scene.record(), scene.issued.pdf, shop_certificate=b"PEM")
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert archive.testzip() is None
        assert archive.read("KQ-2026-0042-0.pdf") == scene.issued.pdf
        assert archive.read("message-en.txt").decode().startswith(subject(scene.record()))


def test_archive_of_an_auditor_holds_what_its_index_names(scene: Scene) -> None:
    packet = Packet(
        job="KQ/04 01", shop="s", certificates={"c.pdf": scene.issued.pdf},
        sheets={"../strip.pdf": b"%PDF"},
    )  # fmt: skip
    files = packet_files(packet, DAY)
    with zipfile.ZipFile(io.BytesIO(zipped(files, DAY))) as archive:
        listed = {item["name"] for item in json.loads(archive.read("index.json"))["files"]}
        assert listed | {"index.json", "index.txt"} == set(archive.namelist())
    assert "sheets/strip.pdf" in files


def test_demo_goes_the_whole_way(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From book in to a certificate that the command finds valid; twice into one folder."""
    for _ in range(2):
        assert certify_demo(tmp_path) == 0
        told = capsys.readouterr().out.replace("\n", "")
        assert "Valid." in told
        assert "KQ-2026-0001-0.pdf" in told
    paper, public = tmp_path / "KQ-2026-0001-0.pdf", tmp_path / "demo-keys/shop-certificate.pem"
    data = bytearray(paper.read_bytes())
    data[len(data) // 3] ^= 1
    paper.write_bytes(bytes(data))
    assert main(["verify", str(paper), "--trust", str(public)]) != 0


def test_keys_for_the_people_of_a_bench(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("HOISTWRIGHT_PASSPHRASE", "three wet ropes")
    monkeypatch.setenv("HOISTWRIGHT_SHOP_PASSPHRASE", "four dry ropes")
    record, keys = tmp_path / "bench.db", tmp_path / "keys"
    start_bench(record, shop=demo_folder() / "shop.toml").store.close()
    assert main(["keys", "make", str(keys), "--db", str(record), "--person", "odile"]) == 0
    assert (keys / "signer-odile.p12").is_file()
    assert main(["keys", "make", str(keys), "--db", str(record), "--person", "wren"]) != 0
    assert "competent person" in capsys.readouterr().err
    assert main(["keys", "make", str(keys), "--db", str(tmp_path / "none.db")]) != 0
    assert "no such file" in capsys.readouterr().err
    assert not (tmp_path / "none.db").exists()
