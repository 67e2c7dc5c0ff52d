"""The commands, from keys to a withdrawn certificate, each with its exit code."""

from __future__ import annotations

import datetime
import json
import re
import subprocess
import sys
from pathlib import Path

import attrs
import pytest
from release_scene import DEMO

from hoistwright.cli.exits import ALL_FIT, BAD_INPUT, NOT_ALL_FIT
from hoistwright.cli.main import main

SHOP = str(DEMO / "shop.toml")
SHEET = str(DEMO / "sheets/01-sound.toml")


def order(day: datetime.date, more: str = "") -> str:
    return f"""format = 1
number = "KQ-2026-0042"
decision = "released"
issued_on = {day}
occasion = "within 12 months"
safe_to_operate = true
rated_load = "2 t"
tested_on = {day}
next_due_on = {day + datetime.timedelta(days=364)}
next_due_why = "12 months"
{more}
[[tests]]
name = "Test load"
passed = true
particulars = "Lifted, held, lowered."
load = "2500 kg"
hold = "10 min"
"""


@attrs.frozen
class Desk:
    folder: Path
    keys: Path
    out: Path

    @property
    def public(self) -> str:
        return str(self.keys / "shop-certificate.pem")

    @property
    def certificate(self) -> str:
        return str(self.out / "KQ-2026-0042-0.pdf")

    def certify(self, file: str, *more: str, by: str = "odile") -> int:
        words = ["--shop", SHOP, "--keys", str(self.keys), "--by", by, "--out", str(self.out)]
        return main(["certify", file, *words, *more])

    def issue(self, *more: str, text: str = "", by: str = "odile") -> int:
        path = self.folder / "order.toml"
        path.write_text(text or order(datetime.date.today()), encoding="utf-8")
        return self.certify(SHEET, "--order", str(path), *more, by=by)

    def verify(self, *words: str) -> int:
        return main(["verify", *words, "--trust", self.public])


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.setenv("HOISTWRIGHT_PASSPHRASE", "three wet ropes")
    monkeypatch.setenv("HOISTWRIGHT_SHOP_PASSPHRASE", "four dry ropes")
    keys = tmp_path / "keys"
    assert main(["keys", "make", str(keys), "--shop", SHOP, "--person", "odile"]) == ALL_FIT
    return Desk(tmp_path, keys, tmp_path / "out")


def test_whole_way(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    assert desk.issue() == ALL_FIT
    capsys.readouterr()
    assert desk.verify(desk.certificate) == ALL_FIT
    said = capsys.readouterr().out
    assert said.startswith("Valid.")
    assert "Signed by Odile Brannagh" in said
    register = str(desk.out / "register.json")
    assert desk.verify(desk.certificate, "--register", register) == ALL_FIT
    assert desk.certify(desk.certificate, "--withdraw", "wrong hoist") == ALL_FIT
    capsys.readouterr()
    assert desk.verify(desk.certificate, "--register", register) == NOT_ALL_FIT
    assert capsys.readouterr().out.startswith("Withdrawn.")
    gone = str(desk.out / "KQ-2026-0042-0-withdrawn.pdf")
    assert desk.verify(gone) == ALL_FIT
    assert desk.verify(desk.certificate, "--also", gone) == NOT_ALL_FIT


def test_label_and_its_code(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    assert desk.issue("--language", "fr", "--paper", "letter") == ALL_FIT
    words = ["--keys", str(desk.keys), "--out", str(desk.out), "--format", "png"]
    assert main(["tag", desk.certificate, *words, "--size", "100x50"]) == ALL_FIT
    label = desk.out / "KQ-2026-0042-0-tag-100x50.png"
    capsys.readouterr()
    assert desk.verify("--code", str(label)) == ALL_FIT
    assert "rated load 2000 kg" in capsys.readouterr().out
    assert main(["tag", desk.certificate, *words, "--size", "1x1"]) == BAD_INPUT


def test_json_and_saved_record(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    assert desk.issue() == ALL_FIT
    capsys.readouterr()
    saved = desk.folder / "record.json"
    assert desk.verify(desk.certificate, "--json", "--save-record", str(saved)) == ALL_FIT
    told = json.loads(capsys.readouterr().out)
    assert (told["valid"], told["number"]) == (True, "KQ-2026-0042")
    assert saved.read_bytes() == (desk.out / "KQ-2026-0042-0.json").read_bytes()


def test_changed_file_is_told(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    assert desk.issue() == ALL_FIT
    path = Path(desk.certificate)
    path.write_bytes(path.read_bytes() + b"\n")
    capsys.readouterr()
    assert desk.verify(str(path)) == NOT_ALL_FIT
    assert capsys.readouterr().out.startswith("Changed.")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["verify"], "a file, or --code"),
        (["verify", "nowhere.pdf"], "nowhere.pdf"),
        (["verify", SHOP, "--trust", SHOP], "no certificate"),
        (["keys", "make", "K", "--shop", SHOP, "--person", "tomasz"], "competent person"),
        (["keys", "show", SHOP], "no certificate"),
        (["certify", SHEET, "--shop", SHOP, "--keys", "K", "--by", "x", "--out", "O"], "--order"),
    ],
)
def test_bad_input_is_told(
    words: list[str], told: str, capsys: pytest.CaptureFixture[str], tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert main(words) == BAD_INPUT
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_orders_that_are_refused_write_nothing(
    desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    today = datetime.date.today()
    later = order(today + datetime.timedelta(days=3))
    for text, told in (
        (later, "signed before its date"),
        (order(today).replace("passed = true", "passed = false"), "Test not passed"),
        (order(today).replace('"2 t"', '"2 m"'), "rated_load"),
        (order(today).replace('"released"', '"passed"'), "decision"),
    ):
        assert desk.issue(text=text) == BAD_INPUT
        assert told in capsys.readouterr().err
        assert not desk.out.exists() or list(desk.out.iterdir()) == []


def test_technician_has_no_key_and_no_right(desk: Desk) -> None:
    assert desk.issue(by="tomasz") == BAD_INPUT
    p12 = str(desk.keys / "signer-odile.p12")
    assert desk.issue("--p12", p12, by="tomasz") == BAD_INPUT


def test_wrong_passphrase_is_told(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("HOISTWRIGHT_PASSPHRASE", "something else")
    assert desk.issue() == BAD_INPUT
    assert "does not open" in capsys.readouterr().err


def test_keys_show(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["keys", "show", desk.public]) == ALL_FIT
    assert len(re.findall(r"SHA-256 [0-9a-f]{4}", capsys.readouterr().out)) == 2


def test_help_imports_no_signing_library() -> None:
    code = (
        "import sys\nfrom hoistwright.cli.main import main\n"
        "try: main(['verify', '--help'])\nexcept SystemExit: pass\n"
        "heavy = {'cryptography', 'pyhanko', 'segno', 'typst', 'numpy', 'zxingcpp', 'asn1crypto'}\n"
        "print('HEAVY', sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "HEAVY []" in done.stdout
