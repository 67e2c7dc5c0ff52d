"""Reading bases: the shipped ones by key, a shop's own by folder. All faults at once."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterable, Mapping
from importlib import resources
from pathlib import Path

import attrs

from hoistwright.basis.checking import Found, criterion_faults, head_faults
from hoistwright.basis.digest import digest_of
from hoistwright.basis.model import Basis, BasisHead, Criterion, Source
from hoistwright.datafile import load_text
from hoistwright.datafile.explain import dotted
from hoistwright.datafile.lines import line_of
from hoistwright.datafile.load import read_text
from hoistwright.faults import Fault, FaultsError, Place

HEAD = "basis.toml"
SOURCES = "SOURCES.toml"


@attrs.frozen(kw_only=True)
class SourceList:
    """SOURCES.toml: each standard, regulation and practice once."""

    source: tuple[Source, ...] = ()


def shipped_folder() -> Path:
    """The folder of the shipped bases."""
    return Path(str(resources.files("hoistwright.basis"))) / "data"


@functools.cache
def shipped_bases() -> tuple[str, ...]:
    """The keys of the shipped bases, sorted."""
    return tuple(sorted(head.parent.name for head in shipped_folder().glob(f"*/{HEAD}")))


@functools.cache
def shipped_basis(key: str) -> Basis:
    """The shipped basis with this key. Raises FaultsError naming those there are."""
    if key not in shipped_bases():
        expected = "one of: " + ", ".join(shipped_bases())
        mend = "Or give the folder of a basis of your own."
        raise FaultsError([Fault(Place(), f"the basis {key!r}", expected, mend)])
    return load_basis(shipped_folder() / key)


def find_basis(name: str, *, beside: Path | None = None) -> Basis:
    """A shipped basis by key; else the basis in the folder of that name, taken from `beside`."""
    folder = (beside or Path()) / name
    if name in shipped_bases() or not (folder / HEAD).is_file():
        return shipped_basis(name)
    return load_basis(folder)


def load_basis(folder: Path) -> Basis:
    """Read and check the basis in `folder`. Raises FaultsError with every fault found.

    The sources are the shipped SOURCES.toml and, where there is one, the folder's own.
    """
    faults: list[Fault] = []
    sources = _sources(folder, faults)
    texts = _texts(folder, faults)
    parsed = {name: _parsed(folder / name, text, faults) for name, text in texts.items()}
    criteria = {name: item for name, item in parsed.items() if isinstance(item, Criterion)}
    head = parsed.get(HEAD)
    if isinstance(head, BasisHead):
        found = head_faults(head, folder.resolve().name, sources)
        faults += _placed(found, folder / HEAD, texts[HEAD])
    for name, criterion in criteria.items():
        faults += _placed(criterion_faults(criterion, sources), folder / name, texts[name])
    faults += _twice(folder, criteria, texts)
    if faults or not isinstance(head, BasisHead):
        raise FaultsError(faults)
    return _basis(head, tuple(criteria.values()), sources, texts)


def _basis(
    head: BasisHead,
    criteria: tuple[Criterion, ...],
    sources: Mapping[str, Source],
    texts: Mapping[str, str],
) -> Basis:
    cited = {limit.source for criterion in criteria for limit in criterion.limit}
    cited |= {interval.source for interval in head.interval}
    cited |= {item.source for item in head.report_item}
    cited |= {test.source for test in head.load_test}
    cited |= {keeping.source for keeping in head.keeping}
    used = tuple(sources[key] for key in sorted(cited))
    return Basis(head=head, criteria=criteria, sources=used, digest=digest_of(texts, used))


def _sources(folder: Path, faults: list[Fault]) -> dict[str, Source]:
    found: dict[str, Source] = {}
    for path in (shipped_folder() / SOURCES, folder / SOURCES):
        if path != shipped_folder() / SOURCES and not path.is_file():
            continue
        try:
            text = read_text(path)
            listed = load_text(text, SourceList, file=str(path)).source
        except FaultsError as error:
            faults += error.faults
            continue
        for place, source in enumerate(listed):
            if source.key in found:
                wrong = (("source", place, "key"), f"{source.key!r} a second time", "each key once")
                faults += _placed([wrong], path, text)
            found[source.key] = source
    return found


def _texts(folder: Path, faults: list[Fault]) -> dict[str, str]:
    """The folder's TOML files by name. Names with a leading dot are other programs' litter."""
    try:
        names = sorted(item.name for item in folder.iterdir())
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        raise FaultsError([Fault(Place(file=str(folder)), said, "the folder of a basis")]) from None
    texts: dict[str, str] = {}
    for name in names:
        if name.endswith(".toml") and not name.startswith(".") and name != SOURCES:
            try:
                texts[name] = read_text(folder / name)
            except FaultsError as error:
                faults += error.faults
    if HEAD not in names:
        faults.append(Fault(Place(file=str(folder)), f"no {HEAD}", f"{HEAD}, the basis's own file"))
    return texts


def _parsed(path: Path, text: str, faults: list[Fault]) -> BasisHead | Criterion | None:
    try:
        if path.name == HEAD:
            return load_text(text, BasisHead, file=str(path))
        return load_text(text, Criterion, file=str(path))
    except FaultsError as error:
        faults += error.faults
        return None


def _placed(found: Iterable[Found], path: Path, text: str) -> list[Fault]:
    return [
        Fault(Place(file=str(path), line=line_of(text, key), key=dotted(key)), read, expected)
        for key, read, expected in found
    ]


def _twice(
    folder: Path, criteria: Mapping[str, Criterion], texts: Mapping[str, str]
) -> list[Fault]:
    counts = Counter(criterion.id for criterion in criteria.values())
    faults: list[Fault] = []
    for name, criterion in criteria.items():
        if counts[criterion.id] > 1:
            wrong = (("id",), f"{criterion.id!r}, which another file has too", "each id once")
            faults += _placed([wrong], folder / name, texts[name])
    return faults
