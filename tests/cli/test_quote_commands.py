"""Quote, price list and wrong releases from the command line."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from hoistwright.demo.shop_files import demo_folder, demo_sheets

DEMO = demo_folder()
SHOP = str(DEMO / "shop.toml")
WORN = next(str(path) for path in demo_sheets() if path.stem == "03-overstrained-chain")


def hoistwright(*words: str) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "hoistwright", *words],
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PYTHONIOENCODING": "utf-8", "PATH": "/usr/bin:/bin"},
    )
    assert "Traceback" not in done.stdout + done.stderr
    return done


def test_a_quote_is_printed_and_written(tmp_path: Path) -> None:
    paper = tmp_path / "quote.pdf"
    done = hoistwright(
        "quote", WORN, "--shop", SHOP, "--to", str(paper), "--lang", "fr", "--risk", "pawl=0.4",
        "--on", "2026-11-25", "--by", "odile", "--paper", "letter",
    )  # fmt: skip
    assert done.returncode == 0
    assert paper.read_bytes().startswith(b"%PDF")
    assert re.search(r"^ ?must +bottom hook", done.stdout, re.M)
    assert re.search(r"^ ?advised +pawl", done.stdout, re.M)
    assert "% of a new hoist" in done.stdout


def test_the_quote_as_json_adds_up() -> None:
    done = hoistwright("quote", WORN, "--shop", SHOP, "--json")
    found = json.loads(done.stdout)
    sums = found["least"]
    must = [line for line in found["lines"] if line["standing"] == "must"]
    assert sums["parts"] == sum(line["price"] for line in must)
    assert found["best"] == sums  # without a chance nothing is advised


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--risk", "pawl=3"), "a part and a share from 0 to 1"),
        (("--risk", "paul=0.1"), "a part of ardle-2000"),
        (("--prices", "no-such-list.csv"), "No such file"),
    ],
)
def test_what_is_wrong_is_told(words: tuple[str, ...], told: str) -> None:
    done = hoistwright("quote", WORN, "--shop", SHOP, *words)
    assert done.returncode == 2
    assert told in done.stderr


def test_a_shop_without_charges_or_list_says_what_to_write(tmp_path: Path) -> None:
    text = (DEMO / "shop.toml").read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text('format = 1\nname = "Kittiwake Quay"\naddress = ""\n', encoding="utf-8")
    sheet = str(demo_sheets()[0])
    no_list = tmp_path / "shop.toml"
    no_list.write_text(text.replace('price_list = "prices.csv"\n', ""), encoding="utf-8")
    done = hoistwright("quote", sheet, "--shop", str(no_list))
    assert done.returncode == 2
    assert "charges.price_list" in done.stderr
    done = hoistwright("quote", sheet, "--shop", str(bare))
    assert done.returncode == 2
    assert "[charges]" in done.stderr


def test_a_price_list_is_checked(tmp_path: Path) -> None:
    done = hoistwright("prices", "check", str(DEMO / "prices.csv"))
    assert done.returncode == 1  # three prices of the demo's list are on request
    assert "nothing is wrong with the list" in done.stdout
    bad = tmp_path / "bad.csv"
    bad.write_text("number,price\nA,twelve\nA,GBP 1\n", encoding="utf-8")
    done = hoistwright("prices", "check", str(bad))
    assert done.returncode == 2
    assert "bad.csv, line 2, column 2 (price)" in done.stderr
    assert "bad.csv, line 3, column 1 (number)" in done.stderr
    done = hoistwright("prices", "check", str(DEMO / "prices.csv"), "--currency", "EUR")
    assert done.returncode == 2


def test_wrong_releases_are_counted_and_drawn(tmp_path: Path) -> None:
    picture = tmp_path / "wrong.svg"
    words = ("wrong-releases", "--examinations", "3000", "--seed", "7")
    done = hoistwright(*words, "--json", "--to", str(picture))
    assert done.returncode == 0
    found = json.loads(done.stdout)
    assert found["examinations"] >= 3000
    plain = {row["rule"]: row for row in found["rows"] if not row["forecast"]}
    # JCGM 106: a guard band lets fewer through than none, and costs more sound parts
    simple, guarded = plain["simple acceptance"], plain["guarded, 2 u"]
    assert guarded["wrong_release"] < simple["wrong_release"]
    assert guarded["sound_renewed"] > simple["sound_renewed"]
    assert picture.read_text(encoding="utf-8").startswith("<svg")
    assert hoistwright(*words, "--json").stdout == done.stdout  # one seed, one table
    assert hoistwright("wrong-releases", "--examinations", "0").returncode == 2
