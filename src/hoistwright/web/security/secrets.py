"""Passwords and PINs: what they must be, and how they are kept."""

from __future__ import annotations

import functools
import hashlib
import itertools
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argon2 import PasswordHasher

SHORTEST_PASSWORD = 10
LONGEST_PASSWORD = 200
_PIN = re.compile(r"\d{4,8}")


def digest(secret: str) -> str:
    """SHA-256 of a random secret. Enough for long random ones; passwords need more."""
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


@functools.cache
def hasher() -> PasswordHasher:
    from argon2 import PasswordHasher

    return PasswordHasher()


@functools.cache
def _nobody() -> str:
    """Checked when there is no such account, so that the answer takes as long."""
    return hasher().hash("nobody")


def hashed(secret: str) -> str:
    """The argon2id hash of a password or PIN."""
    return hasher().hash(secret)


def matches(kept: str, secret: str) -> bool:
    """Whether `secret` is the one that was hashed. Without a hash: never, but as slowly."""
    from argon2.exceptions import InvalidHashError, VerificationError

    try:
        return hasher().verify(kept or _nobody(), secret) and bool(kept)
    except (VerificationError, InvalidHashError):
        return False


def password_fault(password: str, name: str) -> str:
    """What is wrong with a password, as a message; empty where nothing is."""
    if len(password) < SHORTEST_PASSWORD:
        return "too short"
    if len(password) > LONGEST_PASSWORD:
        return "too long"
    if len(set(password)) < 4 or password.casefold() in (name.casefold(), "hoistwright"):
        return "too easy"
    return ""


def pin_fault(pin: str) -> str:
    """What is wrong with a PIN, in one word; empty where nothing is."""
    if not _PIN.fullmatch(pin) or not pin.isascii():
        return "form"
    steps = {ord(b) - ord(a) for a, b in itertools.pairwise(pin)}
    return "too easy" if len(steps) == 1 and steps <= {-1, 0, 1} else ""
