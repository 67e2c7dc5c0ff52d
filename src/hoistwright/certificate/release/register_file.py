"""Reading a register file."""

from __future__ import annotations

from pathlib import Path

from hoistwright.certificate.release.register import Register, RegisterError, read_register
from hoistwright.certificate.signing.trust import Trust
from hoistwright.faults import Fault, FaultsError, Place


def load_register(path: Path, trust: Trust) -> Register:
    """The register in a file. Raises FaultsError where it cannot be used."""
    try:
        return read_register(path.read_bytes(), trust)
    except RegisterError as error:
        raise FaultsError([Fault(Place(file=str(path)), str(error), "a signed register")]) from None
    except OSError as error:
        said = error.strerror or str(error)
        raise FaultsError([Fault(Place(file=str(path)), said, "a register file")]) from None
