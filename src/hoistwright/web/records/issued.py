"""The register of certificates as the journal has it: every issue and withdrawal of the shop."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from weakref import WeakKeyDictionary

import attrs
from sqlalchemy import Connection, Engine, select

from hoistwright.certificate.release.register import Register, RegisterEntry
from hoistwright.job.entry import Event, unseal
from hoistwright.job.events_release import CertificateIssued, CertificateWithdrawn
from hoistwright.store.connect import reading, writing
from hoistwright.store.journal import head_of
from hoistwright.store.tables import jobs, journal
from hoistwright.web.records.accounts import all_accounts
from hoistwright.web.records.settings import keep_setting, locked_setting, setting

SIGNED = "signed register"
_DRAWN = "last certificate number"
_KINDS = ('%"kind":"certificate"%', '%"kind":"certificate withdrawn"%')
_AT_ONCE = 500
_LOCK = threading.Lock()
_KEPT: WeakKeyDictionary[Engine, tuple[int, tuple[Event, ...]]] = WeakKeyDictionary()
"""Up to which number of the journal the lines are known, and those lines."""


def register_of(engine: Engine) -> Register:
    """The register as it now stands. A line of the journal is read once."""
    with _LOCK, reading(engine) as conn:
        number, events = _KEPT.get(engine, (0, ()))
        upto = head_of(conn).number
        rows = conn.execute(
            select(journal.c.number, journal.c.entry, journal.c.hash)
            .where(journal.c.number > number, journal.c.number <= upto)
            .where(journal.c.entry.like(_KINDS[0]) | journal.c.entry.like(_KINDS[1]))
            .order_by(journal.c.number)
        ).all()
        events = (*events, *(unseal(row.entry, row.hash) for row in rows))
        _KEPT[engine] = max(number, upto), events
        names = {account.key: account.name for account in all_accounts(conn)}
        by_job = serials(conn, {event.job for event in events})
        shop = setting(conn, "shop name")
    entries = [line for event in events if (line := _line(event, names, by_job)) is not None]
    entries.sort(key=lambda entry: entry.at)  # an imported journal may bring earlier ones later
    return Register(shop=shop, entries=_with_files(entries))


def signed_register(engine: Engine) -> bytes:
    """The register as the shop signed it last, with its latest certificate; empty: never."""
    with reading(engine) as conn:
        return setting(conn, SIGNED).encode()


def keep_signed(engine: Engine, data: bytes) -> None:
    with writing(engine) as conn:
        keep_setting(conn, SIGNED, data.decode())


def draw_number(engine: Engine, register: Register, year: int) -> str:
    """The next free number of a certificate. No two benches on one database draw the same."""
    with writing(engine) as conn:
        last = locked_setting(conn, _DRAWN)
        start = prefix_of(register.shop)
        number = register.next_number(start, year)
        head, _, count = last.rpartition("-")
        if head == f"{start}-{year}" and count.isdecimal():
            number = f"{head}-{max(int(count) + 1, int(number.rpartition('-')[2])):04d}"
        keep_setting(conn, _DRAWN, number)
    return number


def prefix_of(shop: str) -> str:
    """The first letters of a shop's first two words.

    >>> prefix_of("Kittiwake Quay Lifting Works")
    'KQ'
    """
    letters = [word[0].upper() for word in shop.split() if word[0].isalnum()]
    return "".join(letters[:2]) or "C"


def _line(
    event: Event, names: Mapping[str, str], by_job: Mapping[str, str]
) -> RegisterEntry | None:
    body, signer = event.body, names.get(event.by, event.by)
    serial = by_job.get(event.job, "")
    if isinstance(body, CertificateIssued):
        return RegisterEntry(
            what="issued", number=body.number, revision=body.revision, at=event.at,
            file_sha256=body.content, signer=signer, job=event.job, serial=serial,
            decision=body.decision,
            next_due=body.next_due.isoformat() if body.next_due else "",
        )  # fmt: skip
    if isinstance(body, CertificateWithdrawn):
        return RegisterEntry(
            what="withdrawn", number=body.number, revision=body.revision, at=event.at,
            file_sha256="", signer=signer, job=event.job, serial=serial, reason=body.reason,
        )  # fmt: skip
    return None


def _with_files(entries: list[RegisterEntry]) -> tuple[RegisterEntry, ...]:
    """A withdrawal names the file of the certificate that it withdraws."""
    files = {(e.number, e.revision): e.file_sha256 for e in entries if e.what == "issued"}
    return tuple(
        attrs.evolve(entry, file_sha256=files.get((entry.number, entry.revision), ""))
        for entry in entries
    )


def serials(conn: Connection, wanted: set[str]) -> dict[str, str]:
    """The serial number of each job. A database takes so many values in one question, no more."""
    found: dict[str, str] = {}
    every = sorted(wanted)
    for at in range(0, len(every), _AT_ONCE):
        some = jobs.c.job.in_(every[at : at + _AT_ONCE])
        rows = conn.execute(select(jobs.c.job, jobs.c.serial).where(some))
        found |= {row.job: row.serial for row in rows}
    return found
