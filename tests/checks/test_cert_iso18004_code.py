"""The square code against ISO/IEC 18004 and an independent decoder, after print and scan.

Source: ISO/IEC 18004, table of symbol capacity (from memory): version 10 holds, at level M,
213 bytes, 311 signs of the alphanumeric set, 513 digits; version 9-M holds 180 bytes. Version
n has 17 + 4 n modules a side; the quiet zone is four modules. The decoder is another library
than the encoder.
"""

from __future__ import annotations

import io

import numpy as np
import pytest
import segno
import zxingcpp
from PIL import Image, ImageFilter
from release_scene import Scene, make_scene

from hoistwright.certificate.tag.label import label_data, label_pdf


@pytest.fixture(scope="module")
def scene() -> Scene:
    return make_scene()


@pytest.mark.parametrize(
    ("sign", "most"), [("x", 213), ("A", 311), ("7", 513)], ids=["bytes", "signs", "digits"]
)
def test_capacity_of_version_10_m(sign: str, most: int) -> None:
    fits = segno.make_qr(sign * most, error="m", boost_error=False)
    beyond = segno.make_qr(sign * (most + 1), error="m", boost_error=False)
    assert (fits.designator, beyond.designator) == ("10-M", "11-M")


def test_usual_code_fits_version_10_m(scene: Scene) -> None:
    code = scene.issued.code
    assert 180 < len(code.encode()) <= 213
    made = segno.make_qr(code, error="m", boost_error=False)
    assert made.designator == "10-M"
    assert made.symbol_size(border=0) == (57, 57)


def rendered(pdf: bytes, dpi: int, page: int = 0) -> Image.Image:
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    picture: Image.Image = document[page].render(scale=dpi / 72).to_pil().convert("L")
    document.close()
    return picture


def scanned(picture: Image.Image, seed: int, turn: float) -> Image.Image:
    """As from a scanner: a little askew, blurred, grey, with noise on every point."""
    askew = picture.rotate(turn, resample=Image.Resampling.BICUBIC, fillcolor=255, expand=True)
    soft = np.asarray(askew.filter(ImageFilter.GaussianBlur(0.6)), dtype=float)
    rng = np.random.default_rng(seed)
    noisy = 40 + 0.72 * soft + rng.normal(0, 18, soft.shape)
    return Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))


@pytest.mark.parametrize("seed", range(6))
def test_code_on_the_certificate_is_read_from_a_noisy_print_of_200_dpi(
    scene: Scene, seed: int
) -> None:
    page = rendered(scene.issued.pdf, 200)
    found = zxingcpp.read_barcodes(scanned(page, seed, turn=1.5 * seed - 4))
    assert [item.text for item in found] == [scene.issued.code]


@pytest.mark.parametrize("size", ["62x29", "89x28", "76x51", "100x50"])
def test_code_on_a_label_is_read_from_a_noisy_print_of_200_dpi(scene: Scene, size: str) -> None:
    label = rendered(label_pdf(label_data(scene.record(), scene.issued.code, size)), 200)
    around = Image.new("L", (label.width + 80, label.height + 80), 255)
    around.paste(label, (40, 40))
    found = zxingcpp.read_barcodes(scanned(around, 11, turn=2.0))
    assert [item.text for item in found] == [scene.issued.code]


def test_a_tenth_of_the_code_may_be_gone(scene: Scene) -> None:
    """Level M mends about 15 % of the words; a stain over 1/25 of the area is well inside."""
    out = io.BytesIO()
    segno.make_qr(scene.issued.code, error="m").save(out, kind="png", scale=6, border=4)
    pixels = np.asarray(Image.open(out).convert("L")).copy()
    side = pixels.shape[0]
    middle, reach = side * 3 // 5, side // 10
    pixels[middle - reach : middle + reach, middle - reach : middle + reach] = 128
    found = zxingcpp.read_barcodes(Image.fromarray(pixels))
    assert [item.text for item in found] == [scene.issued.code]
