"""By what a hoist is known again when it comes back, and by which words it is found."""

from __future__ import annotations

import functools
import re
import unicodedata

from hoistwright.job.job_sheet import HoistIdentity


def folded(text: str) -> str:
    """Without case, accents and compatibility forms.

    >>> folded("Größe Ⅲ")
    'grosse iii'
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in apart if not unicodedata.combining(c)).casefold()


def tokens(text: str) -> tuple[str, ...]:
    """The runs of letters and digits in a text, folded.

    >>> tokens("KQ-0412/7")
    ('kq', '0412', '7')
    """
    return tuple(re.findall(r"[^\W_]+", folded(text)))


@functools.lru_cache(maxsize=4096)
def hoist_key(hoist: HoistIdentity, customer: str, job: str) -> str:
    """The key of a hoist in the register: maker and serial; else its owner's tag; else the job.

    >>> hoist_key(HoistIdentity(maker="Ardle", serial="A-2041"), "", "KQ-1")
    'ardle/a2041'
    """
    serial = "".join(tokens(hoist.serial))
    if serial:
        return f"{''.join(tokens(hoist.maker)) or '-'}/{serial}"
    tag = "".join(tokens(hoist.tag))
    if tag:
        return f"tag/{''.join(tokens(customer)) or '-'}/{tag}"
    return f"job/{job}"


def hoist_words(hoist: HoistIdentity, customer: str) -> frozenset[str]:
    """The words whose beginnings find a hoist.

    Of a serial number or tag also the whole without its marks, and each end that begins at a
    run of letters or digits, with and without leading zeros.

    >>> sorted(hoist_words(HoistIdentity(serial="KQ-0412"), "Boatyard"))
    ['0412', '412', 'boatyard', 'kq', 'kq0412']
    """
    words = {*tokens(customer), *tokens(hoist.maker), *tokens(hoist.model)}
    for text in (hoist.serial, hoist.tag):
        words |= _number_words("".join(tokens(text)), tokens(text))
    return frozenset(word[:64] for word in words)


def _number_words(whole: str, runs: tuple[str, ...]) -> set[str]:
    if not whole:
        return set()
    starts = {0}
    at = 0
    for run in runs:
        starts |= {at + match.start() for match in re.finditer(r"[^\W\d]+|\d+", run)}
        at += len(run)
    ends = {whole[start:] for start in starts}
    words = {*runs, *ends}
    return {word for each in words for word in (each, each.lstrip("0")) if word}
