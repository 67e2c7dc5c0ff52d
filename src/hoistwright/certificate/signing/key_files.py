"""The key folder of a shop: private keys encrypted, public certificates in one plain file."""

from __future__ import annotations

import datetime
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hoistwright.certificate.signing.make_keys import ShopKeys, SignerKeys
from hoistwright.faults import Fault, FaultsError, Place

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

PUBLIC = "shop-certificate.pem"
"""Root and code certificate of the shop: what a stranger needs to verify, and may have."""
ROOT_KEY = "shop-root.key.pem"
CODE_KEY = "shop-code.key.pem"
SHORTEST = 8
"""Characters of a passphrase, at the least."""


def signer_file(person: str) -> str:
    """The name of the key file of a person."""
    return f"signer-{person}.p12"


def write_shop_keys(folder: Path, keys: ShopKeys, passphrase: str) -> Path:
    """Write root and code key, encrypted, and the public file; the path of the public file.

    Raises FaultsError where the folder holds keys already, or the passphrase is too short.
    """
    from cryptography.hazmat.primitives.serialization import (
        BestAvailableEncryption,
        Encoding,
        PrivateFormat,
    )

    check_passphrase(passphrase)
    _must_be_new(folder / ROOT_KEY)
    lock = BestAvailableEncryption(passphrase.encode())
    for name, key in ((ROOT_KEY, keys.root_key), (CODE_KEY, keys.code_key)):
        _write(folder / name, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, lock))
    public = keys.root.public_bytes(Encoding.PEM) + keys.code.public_bytes(Encoding.PEM)
    _write(folder / PUBLIC, public, secret=False)
    return folder / PUBLIC


def write_signer(folder: Path, person: str, keys: SignerKeys, passphrase: str) -> Path:
    """Write the key of a person as PKCS#12; its path. An older one is kept beside it."""
    from cryptography.hazmat.primitives.serialization import BestAvailableEncryption, pkcs12

    check_passphrase(passphrase)
    path = folder / signer_file(person)
    if path.exists():
        stamp = datetime.datetime.now().strftime("%Y%m%d-%H%M%S")
        path.replace(path.with_name(f"{path.name}.until-{stamp}"))
    data = pkcs12.serialize_key_and_certificates(
        person.encode(),
        keys.key,
        keys.certificate,
        keys.above,
        BestAvailableEncryption(passphrase.encode()),
    )
    _write(path, data)
    return path


def load_shop_keys(folder: Path, passphrase: str) -> ShopKeys:
    """Root and code key of a folder. Raises FaultsError: no such files, wrong passphrase."""
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey

    root_key = _private(folder / ROOT_KEY, passphrase)
    if not isinstance(root_key, EllipticCurvePrivateKey):
        raise _fault(
            folder / ROOT_KEY, "another kind of key", "the root key that `keys make` wrote"
        )
    certificates = x509.load_pem_x509_certificates(_read(folder / PUBLIC))
    if len(certificates) != 2:
        raise _fault(folder / PUBLIC, f"{len(certificates)} certificates", "root and code, two")
    return ShopKeys(root_key, certificates[0], load_code_key(folder, passphrase), certificates[1])


def load_code_key(folder: Path, passphrase: str) -> Ed25519PrivateKey:
    """The key that signs codes and the register."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    key = _private(folder / CODE_KEY, passphrase)
    if not isinstance(key, Ed25519PrivateKey):
        raise _fault(folder / CODE_KEY, "another kind of key", "an Ed25519 key for codes")
    return key


def load_signer(path: Path, passphrase: str) -> SignerKeys:
    """A signer from a PKCS#12 file: made by `keys make`, or the shop's existing one.

    Raises FaultsError where it cannot be opened, or holds no P-256 key with its certificate.
    """
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.hazmat.primitives.serialization import pkcs12

    data = _read(path)
    try:
        key, certificate, above = pkcs12.load_key_and_certificates(data, passphrase.encode())
    except ValueError:
        raise _fault(
            path, "a file that does not open", "a PKCS#12 file and its passphrase"
        ) from None
    if not isinstance(key, EllipticCurvePrivateKey) or certificate is None:
        raise _fault(
            path,
            "no elliptic-curve key with a certificate",
            "a key on P-256 with its certificate (RSA is not taken: it is slower, and "
            "nothing of ours needs it)",
        )
    return SignerKeys(key, certificate, tuple(above))


def load_certificates(path: Path) -> tuple[x509.Certificate, ...]:
    """The public certificates of a PEM file. Raises FaultsError where there is none."""
    from cryptography import x509

    data = _read(path)
    try:
        return tuple(x509.load_pem_x509_certificates(data))
    except ValueError:
        raise _fault(path, "no certificate", "a PEM file with the shop's certificate") from None


def check_passphrase(passphrase: str) -> None:
    """Raise FaultsError for a passphrase that is too short."""
    if len(passphrase) < SHORTEST:
        raise FaultsError(
            [Fault(Place(key="passphrase"), f"{len(passphrase)} characters", f"{SHORTEST} or more")]
        )


def _private(path: Path, passphrase: str) -> Any:
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    data = _read(path)
    try:
        return load_pem_private_key(data, passphrase.encode())
    except (ValueError, TypeError):
        raise _fault(path, "a key that does not open", "the passphrase it was made with") from None


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise _fault(
            path,
            error.strerror or str(error),
            "a key file",
            "Make keys with `hoistwright keys make`.",
        ) from None


def _write(path: Path, data: bytes, *, secret: bool = True) -> None:
    """Beside first, then in place; a private key can be read by its owner alone."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside = path.with_name(f"{path.name}.new")
        mode = 0o600 if secret else 0o644
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        raise _fault(path, error.strerror or str(error), "a folder to write to") from None


def _must_be_new(path: Path) -> None:
    if path.exists():
        raise _fault(
            path,
            "keys that are there already",
            "a folder without keys",
            "Papers signed under the old root are verified with the old public file: keep both, "
            "and choose a new folder.",
        )


def _fault(path: Path, read: str, expected: str, mend: str = "") -> FaultsError:
    return FaultsError([Fault(Place(file=str(path)), read, expected, mend)])
