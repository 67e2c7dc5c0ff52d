"""Text of figures, such as a pull over time: kept as it came once it is certain to be text."""

from __future__ import annotations

import hashlib

from hoistwright.store.errors import PictureError
from hoistwright.store.model import Attachment
from hoistwright.store.pictures import Kept

MOST_BYTES = 6_000_000
MEDIA_TYPE = "text/csv"
_EXPECTED = "Expected text with one row of figures a line (CSV)."


def checked(data: bytes) -> Kept:
    """The text as it is kept: every byte as it came. Raises PictureError with what to do."""
    if not data:
        raise PictureError(f"The file is empty. {_EXPECTED}")
    if len(data) > MOST_BYTES:
        raise PictureError(
            f"The file has {len(data) / 1e6:.1f} MB; expected {MOST_BYTES / 1e6:.0f} MB at most. "
            "Record with fewer readings a second, or cut it to the lift."
        )
    text_of(data)
    about = Attachment(
        content=hashlib.sha256(data).hexdigest(),
        media_type=MEDIA_TYPE,
        size=len(data),
        width=0,
        height=0,
    )
    return Kept(about, data)


def text_of(data: bytes) -> str:
    """The text of a kept file. Raises PictureError for what is no text."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PictureError(f"The file is no text in UTF-8. {_EXPECTED}") from None
    if any(character < " " and character not in "\t\r\n" for character in text):
        raise PictureError(f"The file has characters that are no writing. {_EXPECTED}")
    return text
