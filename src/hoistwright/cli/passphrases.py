"""Passphrases: from the environment, else asked for; never an argument that others can see."""

from __future__ import annotations

import getpass
import os
import sys

from hoistwright.faults import Fault, FaultsError, Place

OWN = "HOISTWRIGHT_PASSPHRASE"
"""Environment variable with the passphrase of the person who signs."""
SHOP = "HOISTWRIGHT_SHOP_PASSPHRASE"
"""Environment variable with the passphrase of the shop's keys."""
HELP = (
    f"Passphrases are asked for, or taken from the environment: {OWN} for the person's key, "
    f"{SHOP} for the shop's."
)


def passphrase(variable: str, whose: str, *, twice: bool = False) -> str:
    """A passphrase. Raises FaultsError where there is none and nobody to ask."""
    given = os.environ.get(variable)
    if given is not None:
        return given
    if not sys.stdin.isatty():
        raise FaultsError([Fault(Place(key=variable), "nothing", f"the passphrase of {whose}")])
    typed = getpass.getpass(f"Passphrase of {whose}: ")
    if twice and getpass.getpass("The same again: ") != typed:
        raise FaultsError([Fault(Place(key="passphrase"), "two different ones", "the same twice")])
    return typed
