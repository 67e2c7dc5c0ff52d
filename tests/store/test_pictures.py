"""Photos and papers: known by their content, cleaned of where they were taken, kept once."""

from __future__ import annotations

import io
import random
import zlib

import pytest
from PIL import Image

from hoistwright.store import pictures
from hoistwright.store.errors import PictureError
from hoistwright.store.pictures import cleaned
from hoistwright.store.sql_store import SqlStore

PDF = b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n"


def png(width: int = 8, height: int = 8, mode: str = "RGB") -> bytes:
    out = io.BytesIO()
    Image.new(mode, (width, height)).save(out, "PNG")
    return out.getvalue()


def test_where_it_was_taken_is_gone(photo: bytes) -> None:
    assert Image.open(io.BytesIO(photo)).getexif().get_ifd(0x8825)
    kept = cleaned(photo)
    again = Image.open(io.BytesIO(kept.data))
    assert not again.getexif()
    assert set(again.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert b"Exif" not in kept.data
    assert b"a telephone" not in kept.data


def test_it_is_turned_as_it_was_held(photo: bytes) -> None:
    """Orientation 6 of the EXIF standard: turned a quarter, width and height change places."""
    assert (cleaned(photo).about.width, cleaned(photo).about.height) == (240, 320)


def test_text_in_a_png_is_gone() -> None:
    from PIL.PngImagePlugin import PngInfo

    said, out = PngInfo(), io.BytesIO()
    said.add_text("Location", "54.5 N 3.2 W")
    Image.new("RGBA", (4, 4), (1, 2, 3, 128)).save(out, "PNG", pnginfo=said)
    kept = cleaned(out.getvalue())
    assert b"54.5" not in kept.data
    assert Image.open(io.BytesIO(kept.data)).getpixel((0, 0)) == (1, 2, 3, 128)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_kind_of_png_is_taken(mode: str) -> None:
    assert cleaned(png(mode=mode)).about.media_type == "image/png"


def test_a_large_photo_is_made_smaller(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pictures, "LONGEST_SIDE", 64)
    about = cleaned(png(200, 100)).about
    assert (about.width, about.height) == (64, 32)


def test_a_paper_is_kept_as_it_is() -> None:
    kept = cleaned(PDF)
    assert (kept.data, kept.about.media_type) == (PDF, "application/pdf")


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "The file is empty"),
        (b"GIF89a" + bytes(40), "neither photo nor paper"),
        (b"<svg xmlns='x'><script/></svg>", "neither photo nor paper"),
        (b"PK\x03\x04" + bytes(40), "neither photo nor paper"),
        (PDF[:-8], "cut off on its way"),
        (png()[:40], "The photo cannot be read"),
        (b"\xff\xd8\xff\xe0" + bytes(100), "The photo cannot be read"),
    ],
)
def test_what_is_no_photo_is_refused(data: bytes, told: str) -> None:
    with pytest.raises(PictureError, match=told):
        cleaned(data)


def test_too_large_a_file_is_refused() -> None:
    with pytest.raises(PictureError, match="20 MB at most"):
        cleaned(b"%PDF-" + bytes(pictures.MOST_BYTES))


def test_a_bomb_is_refused_before_it_is_unpacked() -> None:
    """A header that says 30,000 × 30,000 pixels."""
    head = (30000).to_bytes(4, "big") * 2 + bytes([8, 2, 0, 0, 0])
    chunk = b"IHDR" + head
    data = b"\x89PNG\r\n\x1a\n" + (13).to_bytes(4, "big") + chunk
    data += zlib.crc32(chunk).to_bytes(4, "big")
    with pytest.raises(PictureError, match=r"too many pixels|cannot be read"):
        cleaned(data + bytes(100))


def test_damaged_photos_never_break_it(photo: bytes) -> None:
    rng = random.Random(9)
    for _ in range(150):
        at = rng.randrange(4, len(photo))
        harmed = photo[:at] + bytes([rng.randrange(256)]) + photo[at + rng.randrange(3) :]
        try:
            cleaned(harmed)
        except PictureError as error:
            assert "photo" in str(error)


def test_the_same_photo_is_kept_once(store: SqlStore, photo: bytes) -> None:
    one, two = store.attach(photo), store.attach(photo)
    assert one == two
    assert [about for about, _ in store.attachments()] == [one]
    found = store.attachment(one.content)
    assert found is not None
    assert (found[0].size, found[0]) == (len(found[1]), one)
    assert store.attachment("0" * 64) is None
