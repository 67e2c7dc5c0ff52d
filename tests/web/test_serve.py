"""`hoistwright serve` as a program: it says where it is, and stops when told."""

from __future__ import annotations

import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

SERVE = [sys.executable, "-m", "hoistwright", "serve"]


def test_it_prints_its_address_and_the_first_link(tmp_path: Path) -> None:
    running = subprocess.Popen(
        [*SERVE, "--db", str(tmp_path / "empty.db"), "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={"PYTHONUNBUFFERED": "1", "COLUMNS": "200"},
    )
    assert running.stdout is not None
    said = ""
    while "/first/" not in said:
        line = running.stdout.readline()
        assert line, said
        said += line
    link = re.search(r"http://localhost:\d+/first/\S+", said)
    assert link is not None
    with urllib.request.urlopen(link[0], timeout=20) as answer:
        assert "first administrator" in answer.read().decode()
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=20)
    assert running.returncode == 0
    assert "stopped" in out
    assert "Traceback" not in out + err


def test_a_port_in_use_is_said_before_anything_is_made(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        done = subprocess.run(
            [*SERVE, "--db", str(tmp_path / "x.db"), "--port", port],
            capture_output=True, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert "free port" in done.stderr
    assert not (tmp_path / "x.db").exists()


def test_a_shop_file_with_faults_is_refused_whole(tmp_path: Path) -> None:
    shop = tmp_path / "shop.toml"
    shop.write_text('format = 1\nname = ""\naddress = ""\n', encoding="utf-8")
    done = subprocess.run(
        [*SERVE, "--db", str(tmp_path / "x.db"), "--shop", str(shop), "--port", "0"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert "name of the shop" in done.stderr
