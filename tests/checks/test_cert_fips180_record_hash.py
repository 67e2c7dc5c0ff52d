"""The hash that a certificate states of its record, against FIPS 180-4 and another library.

Source: FIPS 180-4 with the published examples for SHA-256: "abc", the message of 448 bits, and
a million times "a" (from memory; two libraries agree on them).
"""

from __future__ import annotations

import io
import re
import subprocess
from pathlib import Path

import pikepdf
import pytest
from cryptography.hazmat.primitives import hashes
from release_scene import Scene, make_scene

from hoistwright.certificate.release.record import sha256
from hoistwright.certificate.signing.contents import RECORD

EXAMPLES = [
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    (b"a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
]


@pytest.fixture(scope="module")
def scene() -> Scene:
    return make_scene()


@pytest.mark.parametrize(("message", "digest"), EXAMPLES)
def test_published_examples(message: bytes, digest: str) -> None:
    assert sha256(message) == digest
    other = hashes.Hash(hashes.SHA256())
    other.update(message)
    assert other.finalize().hex() == digest


def test_paper_states_the_hash_of_what_is_attached(scene: Scene, tmp_path: Path) -> None:
    with pikepdf.open(io.BytesIO(scene.issued.pdf)) as pdf:
        attached = pdf.attachments[RECORD].get_file().read_bytes()
        stated = str(pdf.docinfo["/Keywords"])
    digest = hashes.Hash(hashes.SHA256())
    digest.update(attached)
    assert stated == f"record sha256 {digest.finalize().hex()}"


def test_printed_fingerprint_is_that_hash(scene: Scene, tmp_path: Path) -> None:
    path = tmp_path / "c.pdf"
    path.write_bytes(scene.issued.pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    )
    printed = re.sub(r"\s", "", done.stdout.partition("Fingerprint of the record")[2])
    assert sha256(scene.issued.record) in printed


def test_record_can_be_taken_out_by_a_general_tool(scene: Scene, tmp_path: Path) -> None:
    path = tmp_path / "c.pdf"
    path.write_bytes(scene.issued.pdf)
    subprocess.run(["pdfdetach", "-saveall", "-o", tmp_path, path], capture_output=True, check=True)
    assert (tmp_path / RECORD).read_bytes() == scene.issued.record
