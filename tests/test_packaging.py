"""A built wheel must carry every file the program reads: installed, there is no checkout."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
CODE = {".py", ".pyc"}


def test_the_wheel_holds_every_data_file(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation"]
    subprocess.run(
        [*command, "--disable-pip-version-check", "-w", str(tmp_path), str(ROOT)],
        check=True,
        capture_output=True,
    )
    wheel = next(tmp_path.glob("*.whl"))
    packed = {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("hoistwright/")}
    source = ROOT / "src"
    wanted = {
        str(path.relative_to(source))
        for path in (source / "hoistwright").rglob("*")
        if path.is_file() and path.suffix not in CODE and "__pycache__" not in path.parts
    }
    assert wanted <= packed, sorted(wanted - packed)[:10]
