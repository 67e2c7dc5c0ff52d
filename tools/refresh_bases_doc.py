"""Write the tables of docs/bases.md anew from the basis files."""

from pathlib import Path

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.table import refreshed

DOCUMENT = Path(__file__).parents[1] / "docs" / "bases.md"


def main() -> None:
    """Read, refresh, write."""
    bases = [shipped_basis(key) for key in shipped_bases()]
    text = refreshed(DOCUMENT.read_text(encoding="utf-8"), bases)
    DOCUMENT.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
