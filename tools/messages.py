"""Lists the texts of pages and data that a language has no translation for, as catalogue entries.

python tools/messages.py fr            what is missing, of pages
python tools/messages.py fr --trade    what is missing, of part, feature and criterion names
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.extract import extract_from_dir, extract_from_file

from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.check import check_design
from hoistwright.hoist.feature import catalogue
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.language import Language, language
from hoistwright.language.catalogue import pieces

ROOT = Path(__file__).parents[1] / "src" / "hoistwright"
KEYWORDS = {"_": None, "say": None, "marked": None, "n_": (1, 2), "count": (1, 2)}
Message = tuple[str, ...]


def page_messages() -> set[Message]:
    """What pages say: in templates and in the code of the bench; a plural as both forms."""
    found: set[Message] = set()
    templates = [("**/*.html", "jinja2")]
    for _, _, text, *_ in extract_from_dir(
        ROOT / "web" / "templates", templates, options_map={"**": {}}, keywords=KEYWORDS
    ):
        found.add(text if isinstance(text, tuple) else (text,))
    for path in sorted((ROOT / "web").rglob("*.py")):
        for _, text, *_ in extract_from_file("python", path, keywords=KEYWORDS):
            found.add(text if isinstance(text, tuple) else (text,))
    return found


def trade_messages() -> set[Message]:
    """Names in the data files that pages show: parts, features, criteria, figures."""
    return {(text,) for text in _names() if text}


def _names() -> Iterator[str]:
    for key in shipped_keys():
        design = shipped(key)
        yield design.identity.kind
        yield from (part.name for part in design.parts)
        yield from (figure.name for figure in check_design(design).figures)
    for role in catalogue().values():
        yield from (item.name for item in role.measure)
        yield from (item.name for item in role.look)
        yield from (place for item in role.measure for place in item.places)
        yield from (place for item in role.look for place in item.places)
    for key in shipped_bases():
        basis = shipped_basis(key)
        yield basis.head.rule.kind
        yield from (criterion.title for criterion in basis.criteria)
        yield from (criterion.comparison for criterion in basis.criteria)
        yield from (word for i in basis.head.interval for word in (i.name, i.kind))
        yield from (word for test in basis.head.load_test for word in (test.name, test.when))


def untranslated(code: str, messages: set[Message]) -> list[Message]:
    """Those that the catalogues of a language lack."""
    found = language(code)
    return sorted(m for m in messages if not known(found, m))


def known(found: Language, message: Message) -> bool:
    """Whether a language has a message, a template that it fits, or all the pieces of a name."""
    if len(message) > 1 or found.knows(message[0]):
        return found.knows(message[0])
    if "%(" not in message[0] and not found.lacking(message[0]):
        return True
    parts = pieces(message[0], found.knows)
    return all(_has(found, part) for part in parts if part not in (", ", ": "))


def _has(found: Language, text: str) -> bool:
    return found.knows(text) or found.knows(text[:1].lower() + text[1:])


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("language")
    parser.add_argument("--trade", action="store_true", help="names of data files, not pages")
    args = parser.parse_args()
    missing = untranslated(args.language, trade_messages() if args.trade else page_messages())
    for message in missing:
        print(_entry(message))
    print(f"{len(missing)} without a translation", file=sys.stderr)
    return 1 if missing else 0


def _entry(message: Message) -> str:
    def quoted(text: str) -> str:
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'

    if len(message) == 1:
        return f'msgid {quoted(message[0])}\nmsgstr ""\n'
    return (
        f"msgid {quoted(message[0])}\nmsgid_plural {quoted(message[1])}\n"
        'msgstr[0] ""\nmsgstr[1] ""\n'
    )


if __name__ == "__main__":
    sys.exit(main())
