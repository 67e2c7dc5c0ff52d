"""The shop's signing keys as the bench finds them: whom it trusts, who has a key, how to open."""

from __future__ import annotations

from pathlib import Path

import attrs

from hoistwright.certificate.release.issue import Pens
from hoistwright.certificate.signing import key_files
from hoistwright.certificate.signing.trust import NOBODY, Trust, trust_of
from hoistwright.faults import FaultsError
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


def keys_of(bench: Bench) -> ShopKeysFolder:
    """The keys that a bench signs with."""
    return ShopKeysFolder(bench.keys_folder, bench.keys_passphrase)
