"""Reads the code from a picture: a scan, a photo, a label."""

from __future__ import annotations

import io

from hoistwright.faults import Fault, FaultsError, Place

MOST_PIXELS = 80_000_000
"""A larger picture is refused before it is unpacked."""


def read_picture(data: bytes, name: str = "") -> str:
    """The text of the first code of ours in a picture. Raises FaultsError where there is none."""
    import zxingcpp
    from PIL import Image, UnidentifiedImageError

    try:
        picture = Image.open(io.BytesIO(data))
        if picture.width * picture.height > MOST_PIXELS:
            raise _fault(name, "a picture of too many points", f"at most {MOST_PIXELS:,}")
        grey = picture.convert("L")
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError):
        raise _fault(name, "no picture that can be read", "a PNG or JPEG") from None
    texts = [found.text for found in zxingcpp.read_barcodes(grey)]
    ours = [text for text in texts if text.startswith('["HW1",')]
    if not ours:
        read = "another code" if texts else "no code"
        raise _fault(name, read, "the square code of a certificate or a tag, sharp and whole")
    return ours[0]


def _fault(name: str, read: str, expected: str) -> FaultsError:
    return FaultsError([Fault(Place(file=name), read, expected)])
