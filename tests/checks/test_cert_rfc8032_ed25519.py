"""The signature of a code against RFC 8032: its test vectors, and its arithmetic done by hand.

Source: RFC 8032 (Edwards-Curve Digital Signature Algorithm), 5.1 and 7.1 (tests 1 to 3). The
vectors are from memory; the arithmetic below, which shares nothing with our library, confirms
them: a digit wrong would not verify.
"""

from __future__ import annotations

import hashlib

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from release_scene import Scene, make_scene

from hoistwright.certificate.signing.code import make_code, read_code

P = 2**255 - 19
ORDER = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, P - 2, P) % P
Point = tuple[int, int]

VECTORS = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
        "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
        "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
        "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
]


def add(one: Point, two: Point) -> Point:
    """Addition on the twisted Edwards curve -x^2 + y^2 = 1 + d x^2 y^2."""
    (x1, y1), (x2, y2) = one, two
    share = D * x1 * x2 * y1 * y2
    x = (x1 * y2 + x2 * y1) * pow(1 + share, P - 2, P)
    y = (y1 * y2 + x1 * x2) * pow(1 - share, P - 2, P)
    return x % P, y % P


def times(count: int, point: Point) -> Point:
    total: Point = (0, 1)
    while count:
        if count & 1:
            total = add(total, point)
        point, count = add(point, point), count >> 1
    return total


def point_of(data: bytes) -> Point:
    """A point from its 32 bytes: y, and the lowest bit of x on top."""
    whole = int.from_bytes(data, "little")
    y, odd = whole & (2**255 - 1), whole >> 255
    square = (y * y - 1) * pow(D * y * y + 1, P - 2, P) % P
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * pow(2, (P - 1) // 4, P) % P
    assert (x * x - square) % P == 0
    return (P - x if x & 1 != odd else x), y


BASE = point_of((4 * pow(5, P - 2, P) % P).to_bytes(32, "little"))


def fits(public: bytes, message: bytes, signature: bytes) -> bool:
    """S B = R + k A with k = SHA-512(R, A, M)."""
    head, s = signature[:32], int.from_bytes(signature[32:], "little")
    k = int.from_bytes(hashlib.sha512(head + public + message).digest(), "little") % ORDER
    return times(s, BASE) == add(point_of(head), times(k, point_of(public)))


@pytest.mark.parametrize("vector", VECTORS)
def test_vectors(vector: tuple[str, str, str, str]) -> None:
    secret, public, message, signature = (bytes.fromhex(word) for word in vector)
    assert fits(public, message, signature)
    key = Ed25519PrivateKey.from_private_bytes(secret)
    assert key.public_key().public_bytes_raw() == public
    assert key.sign(message) == signature


@pytest.fixture(scope="module")
def scene() -> Scene:
    return make_scene()


def test_code_is_signed_as_the_rfc_says(scene: Scene) -> None:
    _, number, said, signature = read_code(scene.issued.code)
    public = scene.keys.code_key.public_key().public_bytes_raw()
    assert fits(public, said, signature)
    assert not fits(public, said.replace(b"2000", b"3000"), signature)
    assert hashlib.sha256(public).digest()[:4] == number


def test_code_with_the_key_of_a_vector(scene: Scene) -> None:
    """The same key anywhere gives the same code: the signature has no chance in it."""
    secret, public, *_ = (bytes.fromhex(word) for word in VECTORS[0])
    essentials, *_ = read_code(scene.issued.code)
    key = Ed25519PrivateKey.from_private_bytes(secret)
    first, second = make_code(essentials, key), make_code(essentials, key)
    assert first == second
    _, _, said, signature = read_code(first)
    assert fits(public, said, signature)
