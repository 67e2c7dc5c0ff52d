"""The one error of this package: it says what was read, what was expected, how to mend it."""

from __future__ import annotations


class QuantityError(ValueError):
    """A figure or unit that cannot be taken as it stands.

    The three parts fit `hoistwright.faults.Fault`; the reader of the file adds the place.
    """

    def __init__(self, read: str, expected: str, mend: str = "") -> None:
        self.read = read
        self.expected = expected
        self.mend = mend
        text = f"read {read}; expected {expected}"
        super().__init__(f"{text}. {mend}" if mend else text)
