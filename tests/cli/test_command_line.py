"""The command line as a technician meets it: help, exit codes, plain words, no traceback."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from hoistwright.cli.main import VERBS
from hoistwright.demo.shop_files import demo_folder, demo_sheets

SHOP = str(demo_folder() / "shop.toml")
SHEETS = {path.stem: str(path) for path in demo_sheets()}


def hoistwright(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "hoistwright", *words],
        check=False,
        capture_output=True,
        text=True,
        cwd=cwd,
        encoding="utf-8",
        env={"PYTHONIOENCODING": "utf-8", "PATH": "/usr/bin:/bin"},
    )
    assert "Traceback" not in done.stdout + done.stderr
    return done


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_explains_itself_and_the_exit_codes(verb: str) -> None:
    done = hoistwright(verb, "--help")
    assert done.returncode == 0
    assert "exit codes" in done.stdout


def test_help_loads_no_heavy_library() -> None:
    """Start-up is what a command line is judged by: see benchmarks/bench_start.py for figures."""
    code = (
        "import sys\n"
        "from hoistwright.cli.main import main\n"
        "try: main(['--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'scipy', 'rich', 'typst', 'attrs', 'cattrs'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_an_examination_that_is_still_to_come_is_refused(tmp_path: Path) -> None:
    """The days of the demo shop are invented; a real shop's are held against the calendar."""
    shop = tmp_path / "shop.toml"
    text = Path(SHOP).read_text(encoding="utf-8").replace("demo = true", "demo = false")
    shop.write_text(re.sub(r"due_on = \S+", "due_on = 2999-12-31", text), encoding="utf-8")
    sheet = tmp_path / "sheet.toml"
    said = Path(SHEETS["01-sound"]).read_text(encoding="utf-8")
    sheet.write_text(re.sub(r"examined_on = \S+", "examined_on = 2999-01-01", said), "utf-8")
    done = hoistwright("examine", str(sheet), "--shop", str(shop))
    assert done.returncode == 2
    assert "a day not after today" in done.stderr


def test_a_sound_hoist_ends_with_0_and_a_report(tmp_path: Path) -> None:
    done = hoistwright("examine", SHEETS["01-sound"], "--shop", SHOP, "--out", str(tmp_path))
    assert done.returncode == 0
    assert "fit" in done.stdout
    reports = list(tmp_path.iterdir())
    assert [path.name for path in reports] == ["KQ-0401-examination.pdf"]
    assert reports[0].read_bytes().startswith(b"%PDF")


def test_a_worn_hoist_ends_with_1_and_names_limit_and_source() -> None:
    done = hoistwright("examine", SHEETS["02-worn-chain"], "--shop", SHOP)
    assert done.returncode == 1
    for text in ("renew", "2.5 %", "ASME B30.16", "worn"):
        assert text in done.stdout


def test_faults_end_with_2_and_the_other_sheets_are_still_examined() -> None:
    done = hoistwright("examine", SHEETS["10-typing-mistakes"], SHEETS["01-sound"], "--shop", SHOP)
    assert done.returncode == 2
    assert "7O.2" in done.stderr
    assert "KQ-0401" in done.stdout


def test_json_is_json_with_every_verdict() -> None:
    done = hoistwright("examine", SHEETS["03-overstrained-chain"], "--shop", SHOP, "--json")
    record = json.loads(done.stdout)[0]
    assert record["outcome"] == "renew"
    assert any(split["kind"] == "overstrained" for split in record["chain_splits"])
    worst = record["verdicts"][0]
    assert worst["outcome"] == "renew"
    assert worst["limit"]["source"]


@pytest.mark.parametrize(
    "words",
    [
        ("examine", "there-is-no-such.csv", "--shop", SHOP),
        ("examine", SHEETS["01-sound"], "--shop", "no-shop.toml"),
        ("check", "no-such-design"),
        ("strip", "ardle-2000", "--to", "pawl_sprong"),
        ("bases", "no-such-basis"),
        ("adopt", "b30-hand-hoists", "--shop", SHOP, "--by", "wren", "--compared-with", "x"),
        ("sheet", "ardle-2000", "--basis", "nope", "--to", "x.xlsx"),
    ],
)
def test_what_cannot_be_used_ends_with_2_and_says_what_can(
    words: tuple[str, ...], tmp_path: Path
) -> None:
    done = hoistwright(*words, cwd=tmp_path)
    assert done.returncode == 2
    assert "expected" in done.stderr or "No such file" in done.stderr


def test_designs_bases_check_marks_say_something() -> None:
    assert "ardle-2000" in hoistwright("designs").stdout
    assert "b30-hand-hoists" in hoistwright("bases").stdout
    assert "2.5 %" in hoistwright("bases", "b30-hand-hoists").stdout
    assert hoistwright("check", "ardle-2000").returncode == 0
    assert "face the same way" in hoistwright("marks", "ardle-2000").stdout


def test_a_pawl_spring_is_reached_from_the_wheel_side_only() -> None:
    plan = json.loads(hoistwright("strip", "ardle-2000", "--to", "pawl_spring", "--json").stdout)
    assert {step["side"] for step in plan["steps"]} <= {"middle", "wheel side"}
    ready = {piece["part"] for piece in plan["one_use"]}
    assert "pawl_retaining_ring" in ready


def test_a_blank_sheet_is_written_and_never_over_another(tmp_path: Path) -> None:
    words = ("sheet", "ardle-l750", "--basis", "b30-hand-hoists", "--to")
    for name in ("a.xlsx", "a.csv", "a.toml", "a.pdf"):
        assert hoistwright(*words, name, cwd=tmp_path).returncode == 0
        assert (tmp_path / name).stat().st_size > 1000
    assert hoistwright(*words, "a.csv", cwd=tmp_path).returncode == 2


def test_adopting_is_recorded_in_the_shop_file(tmp_path: Path) -> None:
    shop = tmp_path / "shop.toml"
    shop.write_text(Path(SHOP).read_text(encoding="utf-8"), encoding="utf-8")
    done = hoistwright(
        "adopt", "europe-round-link", "--shop", str(shop), "--by", "odile",
        "--compared-with", "own copy of DIN 685-5",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    seen = hoistwright("examine", SHEETS["12-limiter-seal"], "--shop", str(shop))
    assert "not adopted" not in seen.stdout


def test_the_drawing_is_written_as_svg(tmp_path: Path) -> None:
    done = hoistwright("draw", "ardle-10000", "--to", "d.svg", cwd=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "d.svg").read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(("name", "begins"), [("d.png", b"\x89PNG"), ("d.pdf", b"%PDF")])
def test_the_drawing_is_what_its_name_says(name: str, begins: bytes, tmp_path: Path) -> None:
    done = hoistwright("draw", "ardle-500", "--to", name, "--lit", "pawl", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_bold_parts_come_off_only_where_that_is_asked(tmp_path: Path) -> None:
    said = {}
    for move in ("none", "off", "on"):
        words = ("draw", "ardle-500", "--to", "d.svg", "--lit", "pawl", "--move", move)
        assert hoistwright(*words, cwd=tmp_path).returncode == 0
        text = (tmp_path / "d.svg").read_text(encoding="utf-8")
        said[move] = ("comes off now" in text, "goes on now" in text, 'class="arrow"' in text)
    assert said == {"none": (False,) * 3, "off": (True, False, True), "on": (False, True, True)}


@pytest.mark.parametrize(
    "words",
    [
        ("draw", "ardle-500", "--to", "x.doc"),
        ("draw", "ardle-500", "--to", "x"),
        ("sheet", "ardle-500", "--basis", "b30-hand-hoists", "--to", "x.doc"),
        ("bases", "b30-hand-hoists", "--on", "foo"),
        ("marks", "ardle-500", "--backlash", "x"),
        ("marks", "ardle-500", "--backlash", "1/0"),
    ],
)
def test_a_slip_is_answered_in_plain_words(words: tuple[str, ...], tmp_path: Path) -> None:
    done = hoistwright(*words, cwd=tmp_path)
    assert done.returncode == 2
    assert "expected" in done.stderr
    assert not re.search(r"isoformat|Fraction|Error|invalid", done.stderr)
    assert list(tmp_path.iterdir()) == []


def test_two_people_are_told_who_does_what() -> None:
    alone = hoistwright("strip", "ardle-500", "--json")
    two = hoistwright("strip", "ardle-500", "--people", "2", "--json")
    one_plan, two_plan = json.loads(alone.stdout), json.loads(two.stdout)
    starts = [step["start"] for step in two_plan["steps"]]
    assert starts == sorted(starts)
    assert {s["key"] for s in one_plan["steps"]} == {s["key"] for s in two_plan["steps"]}
    said = hoistwright("rebuild", "ardle-500", "--people", "2").stdout
    assert "minutes for two" in said and "1 times" not in said


def test_a_sheet_of_an_own_design_finds_it_again_from_its_own_folder(tmp_path: Path) -> None:
    own = demo_folder() / "designs" / "unknown-maker-1t.toml"
    (tmp_path / "mine.toml").write_text(
        own.read_text(encoding="utf-8").replace('key = "unknown-maker-1t"', 'key = "mine"', 1),
        encoding="utf-8",
    )
    (tmp_path / "sheets").mkdir()
    words = ("sheet", "mine.toml", "--basis", "b30-hand-hoists", "--to", "sheets/a.csv")
    assert hoistwright(*words, cwd=tmp_path).returncode == 0
    assert "design,../mine.toml" in (tmp_path / "sheets" / "a.csv").read_text(encoding="utf-8-sig")
