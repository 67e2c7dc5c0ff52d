"""The shop's signing keys as the bench finds them: whom it trusts, who has a key, how to open."""

from __future__ import annotations

import datetime
from pathlib import Path

import attrs

from hoistwright.certificate.release.issue import Pens
from hoistwright.certificate.signing import key_files
from hoistwright.certificate.signing.trust import NOBODY, Trust, trust_of
from hoistwright.faults import FaultsError
from hoistwright.store.connect import reading
from hoistwright.web.bench import Bench


@attrs.frozen
class ShopKeysFolder:
    """A folder of keys; without one, or with an empty one, nothing can be signed."""

    folder: Path | None
    passphrase: str = attrs.field(default="", repr=False)

    @property
    def ready(self) -> bool:
        """Whether the shop's own keys are there."""
        return self.folder is not None and all(
            (self.folder / name).is_file() for name in (key_files.PUBLIC, key_files.CODE_KEY)
        )

    def has_signer(self, person: str) -> bool:
        """Whether somebody has a signing key of their own."""
        return self.folder is not None and (self.folder / key_files.signer_file(person)).is_file()

    @property
    def public(self) -> bytes:
        """The shop's public certificate as a file; empty where there is none."""
        path = self.folder / key_files.PUBLIC if self.folder else None
        try:
            return path.read_bytes() if path else b""
        except OSError:
            return b""

    @property
    def trust(self) -> Trust:
        """Whom the shop itself vouches for; nobody where the public file cannot be read."""
        if self.folder is None:
            return NOBODY
        try:
            return trust_of(key_files.load_certificates(self.folder / key_files.PUBLIC))
        except FaultsError:
            return NOBODY

    def opened(self, person: str, own: str, shop: str = "") -> Pens:
        """The pens of a person. Raises FaultsError for a passphrase that does not open."""
        folder = self.folder or Path()
        return Pens(
            signer=key_files.load_signer(folder / key_files.signer_file(person), own),
            code_key=key_files.load_code_key(folder, self.passphrase or shop),
        )

    def give(self, shop: str, person: str, name: str, day: datetime.date) -> None:
        """Make a key for a person, opened by the passphrase of the shop's own. For a demo only:
        there everybody knows it. Raises FaultsError where that does not open the shop's keys.
        """
        from hoistwright.certificate.signing.make_keys import make_signer_keys

        folder = self.folder or Path()
        above = key_files.load_shop_keys(folder, self.passphrase)
        own = make_signer_keys(above, shop, person, name, day)
        key_files.write_signer(folder, person, own, self.passphrase)


def give_demo_keys(bench: Bench) -> None:
    """In a demo, every competent person has a key as soon as there is one of the shop."""
    from hoistwright.web.records.shop_records import shop_of

    keys = keys_of(bench)
    if not (bench.demo and keys.ready and keys.passphrase):
        return
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    for key in shop.adopters():
        person = shop.person(key)
        if person is not None and not keys.has_signer(key):
            keys.give(shop.name, key, person.name, bench.today - datetime.timedelta(days=1))


def keys_of(bench: Bench) -> ShopKeysFolder:
    """The keys that a bench signs with."""
    return ShopKeysFolder(bench.keys_folder, bench.keys_passphrase)
