"""Photos and papers: what they are is read from their content, and where they were taken is
taken out.
"""

from __future__ import annotations

import hashlib
import io
import warnings

import attrs

from hoistwright.store.errors import PictureError
from hoistwright.store.model import Attachment

MOST_BYTES = 20_000_000
MOST_PIXELS = 60_000_000
LONGEST_SIDE = 3000
"""Pixels; a larger photo is made smaller."""

_KINDS = {
    b"\xff\xd8\xff": "image/jpeg",
    b"\x89PNG\r\n\x1a\n": "image/png",
    b"%PDF-": "application/pdf",
}
_EXPECTED = "Expected a JPEG or PNG photo, or a PDF."


@attrs.frozen
class Kept:
    """What is kept of a file: its description and its bytes."""

    about: Attachment
    data: bytes


def cleaned(data: bytes) -> Kept:
    """The file as it is kept. Photos are written anew, turned upright, without any metadata.

    The same photo gives the same bytes. Raises PictureError with what to do.
    """
    if not data:
        raise PictureError(f"The file is empty. {_EXPECTED}")
    if len(data) > MOST_BYTES:
        raise PictureError(
            f"The file has {len(data) / 1e6:.1f} MB; expected {MOST_BYTES / 1e6:.0f} MB at most."
        )
    kind = next((name for start, name in _KINDS.items() if data.startswith(start)), None)
    if kind is None:
        raise PictureError(f"The file is neither photo nor paper by its content. {_EXPECTED}")
    return _paper(data) if kind == "application/pdf" else _photo(data, kind)


def _paper(data: bytes) -> Kept:
    if b"%%EOF" not in data[-2048:]:
        raise PictureError("The PDF has no end: it was cut off on its way. Send it again.")
    return _kept(data, "application/pdf")


def _photo(data: bytes, kind: str) -> Kept:
    from PIL import Image, ImageOps

    form = kind.removeprefix("image/").upper()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data), formats=[form]) as picture:
                _check_size(picture.width, picture.height)
                upright = ImageOps.exif_transpose(picture)
                upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                return _written(upright, kind)
    except PictureError:
        raise
    except Exception as error:  # a damaged photo may fail in any way
        raise PictureError(
            f"The photo cannot be read ({error}). Take it again, or send it again."
        ) from None


def _written(picture: object, kind: str) -> Kept:
    """Only the pixels go over into a new picture: no metadata can come with them."""
    from PIL import Image

    assert isinstance(picture, Image.Image)
    mode = "RGB" if kind == "image/jpeg" else _png_mode(picture.mode)
    clean = Image.new(mode, picture.size)
    clean.paste(picture.convert(mode))
    out = io.BytesIO()
    if kind == "image/jpeg":
        clean.save(out, "JPEG", quality=88)
    else:
        clean.save(out, "PNG")
    return _kept(out.getvalue(), kind, clean.width, clean.height)


def _png_mode(mode: str) -> str:
    if mode in ("1", "L"):
        return "L"
    return "RGBA" if mode in ("RGBA", "LA", "PA", "P") else "RGB"


def _check_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise PictureError(_too_many())


def _too_many() -> str:
    return f"The photo has too many pixels; expected {MOST_PIXELS / 1e6:.0f} million at most."


def _kept(data: bytes, kind: str, width: int = 0, height: int = 0) -> Kept:
    about = Attachment(
        content=hashlib.sha256(data).hexdigest(),
        media_type=kind,
        size=len(data),
        width=width,
        height=height,
    )
    return Kept(about, data)
