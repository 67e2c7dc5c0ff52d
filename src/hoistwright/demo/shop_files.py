"""Where the demo shop's files are."""

from __future__ import annotations

from importlib import resources
from pathlib import Path


def demo_folder() -> Path:
    """The folder of the demo shop: `shop.toml`, `sheets/`, `designs/`."""
    return Path(str(resources.files("hoistwright.demo"))) / "data"


def demo_sheets() -> tuple[Path, ...]:
    """The demo job sheets in order."""
    folder = demo_folder() / "sheets"
    return tuple(sorted(path for path in folder.iterdir() if path.suffix in _ENDINGS))


_ENDINGS = (".toml", ".csv", ".xlsx")
