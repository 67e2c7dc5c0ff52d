"""The signature of a certificate, verified by two routes that know nothing of our code.

Sources: RFC 5652 (CMS), 5.4: the signature is over the DER of the signed attributes as a SET,
which hold the digest of the content; ISO 32000-1, 12.8.1: the content is the file but for the
gap in its byte range; ETSI EN 319 142-1 (PAdES), 6.3: signing-certificate attribute, no
signing-time. Routes: the OpenSSL program, and `cryptography` with asn1crypto by hand.
"""

from __future__ import annotations

import hashlib
import re
import subprocess
from pathlib import Path

import pytest
from asn1crypto import cms
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding
from release_scene import Scene, make_scene


@pytest.fixture(scope="module")
def scene() -> Scene:
    return make_scene()


def parts(pdf: bytes) -> tuple[bytes, bytes]:
    """The signed content and the CMS, found by the byte range alone."""
    found = re.search(rb"/ByteRange \[ ?(\d+) (\d+) (\d+) (\d+) ?\]", pdf)
    assert found
    start, first, second, rest = (int(word) for word in found.groups())
    padded = bytes.fromhex(pdf[first + 1 : second - 1].decode())
    return pdf[start:first] + pdf[second : second + rest], padded


def test_openssl_verifies_the_signature_up_to_the_shop_root(scene: Scene, tmp_path: Path) -> None:
    content, padded = parts(scene.issued.pdf)
    der = cms.ContentInfo.load(padded).dump()
    (tmp_path / "content").write_bytes(content)
    (tmp_path / "sig.der").write_bytes(der)
    (tmp_path / "root.pem").write_bytes(scene.keys.root.public_bytes(Encoding.PEM))
    words = [
        "openssl", "cms", "-verify", "-binary", "-inform", "DER", "-in", "sig.der", "-content",
        "content", "-CAfile", "root.pem", "-purpose", "any", "-attime",
        str(int(scene.at.timestamp())), "-out", "out",
    ]  # fmt: skip
    done = subprocess.run(words, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "out").read_bytes() == content
    changed = content.replace(b"%PDF-1.7", b"%PDF-1.6", 1)
    (tmp_path / "content").write_bytes(changed)
    done = subprocess.run(words, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode != 0


def test_by_hand(scene: Scene) -> None:
    content, padded = parts(scene.issued.pdf)
    signed = cms.ContentInfo.load(padded)["content"]
    info = signed["signer_infos"][0]
    attributes = {item["type"].native: item["values"][0] for item in info["signed_attrs"]}
    assert attributes["message_digest"].native == hashlib.sha256(content).digest()
    assert "signing_time" not in attributes
    own = scene.signer.certificate.public_bytes(Encoding.DER)
    stated = attributes["signing_certificate_v2"]["certs"][0]["cert_hash"].native
    assert stated == hashlib.sha256(own).digest()
    key = x509.load_der_x509_certificate(own).public_key()
    assert isinstance(key, ec.EllipticCurvePublicKey)
    as_set = b"\x31" + info["signed_attrs"].dump()[1:]
    key.verify(info["signature"].native, as_set, ec.ECDSA(hashes.SHA256()))


def test_poppler_finds_the_whole_document_signed(scene: Scene, tmp_path: Path) -> None:
    path = tmp_path / "c.pdf"
    path.write_bytes(scene.issued.pdf)
    done = subprocess.run(["pdfsig", path], capture_output=True, text=True, check=False)
    assert "Total document signed" in done.stdout
    assert "Signature is Valid" in done.stdout
    assert "Odile Brannagh" in done.stdout
