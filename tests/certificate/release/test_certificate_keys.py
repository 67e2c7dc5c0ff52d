"""The key folder: encrypted, private, refused in words."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import NoEncryption, pkcs12
from release_scene import Scene

from hoistwright.certificate.release.verify import verify
from hoistwright.certificate.signing import key_files
from hoistwright.certificate.signing.make_keys import make_shop_keys, make_signer_keys
from hoistwright.certificate.signing.sign_pdf import sign_pdf
from hoistwright.certificate.signing.trust import issued, trust_of
from hoistwright.faults import FaultsError

PASS = "three wet ropes"


@pytest.fixture
def folder(tmp_path: Path, scene: Scene) -> Path:
    key_files.write_shop_keys(tmp_path, scene.keys, PASS)
    key_files.write_signer(tmp_path, "odile", scene.signer, PASS)
    return tmp_path


def test_keys_come_back(folder: Path, scene: Scene) -> None:
    loaded = key_files.load_shop_keys(folder, PASS)
    assert loaded.root == scene.keys.root
    assert loaded.code_key.private_bytes_raw() == scene.keys.code_key.private_bytes_raw()
    signer = key_files.load_signer(folder / key_files.signer_file("odile"), PASS)
    assert signer.certificate == scene.signer.certificate
    trust = trust_of(key_files.load_certificates(folder / key_files.PUBLIC))
    assert trust.roots == (scene.keys.root,)
    assert trust.codes == (scene.keys.code,)


def test_private_keys_are_encrypted_and_for_their_owner_alone(folder: Path) -> None:
    for path in folder.iterdir():
        if path.name == key_files.PUBLIC:
            assert b"PRIVATE" not in path.read_bytes()
            continue
        assert path.stat().st_mode & 0o077 == 0, path
        with pytest.raises(FaultsError, match="does not open"):
            if path.suffix == ".p12":
                key_files.load_signer(path, "wrong one")
            elif path.name == key_files.CODE_KEY:
                key_files.load_code_key(folder, "wrong one")
            else:
                key_files.load_shop_keys(folder, "wrong one")


def test_keys_are_never_written_over(folder: Path, scene: Scene) -> None:
    with pytest.raises(FaultsError, match="there already"):
        key_files.write_shop_keys(folder, scene.keys, PASS)
    key_files.write_signer(folder, "odile", scene.signer, PASS)
    assert len(list(folder.glob("signer-odile.p12*"))) == 2


def test_short_passphrase_and_missing_files_are_told(tmp_path: Path, scene: Scene) -> None:
    with pytest.raises(FaultsError, match="8 or more"):
        key_files.write_shop_keys(tmp_path, scene.keys, "short")
    with pytest.raises(FaultsError, match="keys make"):
        key_files.load_code_key(tmp_path, PASS)
    (tmp_path / "x.pem").write_text("nothing")
    with pytest.raises(FaultsError, match="no certificate"):
        key_files.load_certificates(tmp_path / "x.pem")


def test_rsa_key_is_refused_in_words(tmp_path: Path) -> None:
    path = tmp_path / "old.p12"
    key = rsa.generate_private_key(65537, 2048)
    path.write_bytes(pkcs12.serialize_key_and_certificates(b"x", key, None, None, NoEncryption()))
    with pytest.raises(FaultsError, match="P-256"):
        key_files.load_signer(path, "")


def test_certificate_of_another_maker_signs_under_its_own_root(scene: Scene) -> None:
    """A shop's existing key: no person's key in it, so its common name must be the signer's."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import NameOID

    from hoistwright.certificate.release.issue import Pens
    from hoistwright.certificate.signing.make_keys import SignerKeys

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Odile Brannagh")])
    start = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)
    own = (
        x509.CertificateBuilder(name, name, key.public_key(), x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + datetime.timedelta(days=900))
        .add_extension(x509.KeyUsage(True, True, *[False] * 7), critical=True)
        .sign(key, hashes.SHA256())
    )
    pens = Pens(signer=SignerKeys(key, own), code_key=scene.keys.code_key)
    made = scene.issue(pens=pens)
    today = datetime.date(2026, 11, 25)
    assert verify(made.pdf, trust_of((own,)), today).outcome == "valid"
    assert verify(made.pdf, scene.trust, today).outcome == "signer not trusted"


def test_root_vouches_for_signers_and_code_only() -> None:
    start = datetime.date(2026, 1, 1)
    keys = make_shop_keys("Kittiwake Quay Lifting Works", start)
    signer = make_signer_keys(keys, "Kittiwake Quay Lifting Works", "a", "A", start, years=40)
    assert issued(signer.certificate, keys.root)
    assert issued(keys.code, keys.root)
    assert not issued(keys.root, keys.code)
    assert signer.certificate.not_valid_after_utc <= keys.root.not_valid_after_utc


def test_code_certificate_that_nobody_issued_is_not_trusted(scene: Scene) -> None:
    other = make_shop_keys(scene.shop.name, datetime.date(2026, 1, 1))
    assert trust_of((scene.keys.root, other.code)).codes == ()


def test_long_names_fit_a_certificate() -> None:
    """X.520 allows 64 characters for common name and organisation."""
    start, long = datetime.date(2026, 1, 1), "Kittiwake Quay " * 10
    keys = make_shop_keys(long, start)
    assert make_signer_keys(keys, long, "k", long, start).certificate


def test_signature_states_the_given_moment(scene: Scene) -> None:
    zone = datetime.timezone(datetime.timedelta(hours=2))
    at = datetime.datetime(2026, 10, 7, 17, 30, tzinfo=zone)
    result = verify(
        sign_pdf(scene_pdf(scene), scene.signer, at), scene.trust, datetime.date(2026, 11, 1)
    )
    assert result.signed_at == at


def scene_pdf(scene: Scene) -> bytes:
    from hoistwright.certificate.release.render import render

    return render(scene.record(), code="x")
