"""The code: written and read back, any change found, read from print."""

from __future__ import annotations

import datetime
import io

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from release_scene import Scene

from hoistwright.certificate.release.issue import code_of
from hoistwright.certificate.release.record import sha256
from hoistwright.certificate.release.verify import verify_code
from hoistwright.certificate.signing.code import (
    HASH_BYTES,
    CodeError,
    Essentials,
    make_code,
    read_code,
    signed_by,
)
from hoistwright.certificate.signing.code_picture import read_picture
from hoistwright.certificate.signing.trust import NOBODY
from hoistwright.certificate.tag.label import SIZES, label_data, label_pdf, label_png
from hoistwright.faults import FaultsError

TODAY = datetime.date(2026, 11, 25)
KEY = Ed25519PrivateKey.from_private_bytes(bytes(32))

essentials = st.builds(
    Essentials,
    number=st.text(max_size=30),
    revision=st.integers(0, 99),
    decision=st.sampled_from(["released", "lower load", "unrepaired", "condemned"]),
    serial=st.text(st.characters(exclude_categories=["Cs"]), max_size=40),
    rated_load=st.integers(0, 100_000).map(float),
    examined_on=st.dates(),
    next_due=st.none() | st.dates(),
    record=st.binary(min_size=HASH_BYTES, max_size=HASH_BYTES),
)


@given(essentials)
@settings(max_examples=200)
def test_what_is_written_is_read_back(said: Essentials) -> None:
    code = make_code(said, KEY)
    read, *_ = read_code(code)
    assert read == said
    assert make_code(read, KEY) == code


def test_essentials_are_those_of_the_record(scene: Scene) -> None:
    read, *_ = read_code(scene.issued.code)
    assert (read.number, read.revision, read.decision) == ("KQ-2026-0042", 0, "released")
    assert read.serial == scene.sheet.hoist.serial
    assert read.rated_load == 2000.0
    assert read.record.hex() == sha256(scene.issued.record)[: 2 * HASH_BYTES]


def test_every_changed_sign_is_found(scene: Scene) -> None:
    code = scene.issued.code
    for at, sign in enumerate(code):
        for other in {chr(ord(sign) ^ 1), "0", "A"} - {sign}:
            result = verify_code(code[:at] + other + code[at + 1 :], scene.trust, TODAY)
            assert not result.valid, (at, sign, other)


@given(st.text(max_size=300))
def test_any_text_is_taken_or_refused_in_words(text: str) -> None:
    assert verify_code(text, NOBODY, TODAY).found


@pytest.mark.parametrize(
    "text", ["", "hello", '["HW1",', '["HW1",1]~', '["HW1"' + ",[" * 500, '["HW1",' + "9" * 3000]
)
def test_no_code_of_ours(text: str) -> None:
    with pytest.raises(CodeError):
        read_code(text)


def test_trusted_and_not_trusted(scene: Scene) -> None:
    code = scene.issued.code
    assert verify_code(code, scene.trust, TODAY).valid
    assert verify_code(f" {code}\n", scene.trust, TODAY).valid
    assert verify_code(code, NOBODY, TODAY).outcome == "signer not trusted"
    assert signed_by(code, NOBODY) is None


def test_overdue_hoist_is_told(scene: Scene) -> None:
    result = verify_code(scene.issued.code, scene.trust, datetime.date(2028, 1, 1))
    assert any("was due by 2027-10-06" in item.sentence for item in result.found)


def test_load_that_is_no_figure_is_refused(scene: Scene) -> None:
    read, *_ = read_code(scene.issued.code)
    import attrs

    with pytest.raises(ValueError, match="rated load"):
        make_code(attrs.evolve(read, rated_load=float("inf")), KEY)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("lang", ["en", "fr"])
def test_label_is_one_page_of_its_size_and_says_what_it_must(
    scene: Scene, size: str, lang: str
) -> None:
    import pypdfium2

    data = label_data(scene.record(), scene.issued.code, size, lang)
    document = pypdfium2.PdfDocument(label_pdf(data))
    assert len(document) == 1
    width, height = document[0].get_size()
    assert f"{width / 72 * 25.4:.0f}x{height / 72 * 25.4:.0f}" == size
    page = document[0].get_textpage()
    text = page.get_text_range()
    page.close()
    document.close()
    due = "6 oct. 2027" if lang == "fr" else "6 Oct 2027"
    for word in (scene.sheet.hoist.serial, "2000 kg", due, "KQ-2026-0042"):
        assert word in text


@pytest.mark.parametrize("size", SIZES)
def test_label_of_a_hoist_that_is_not_released_forbids_its_use(scene: Scene, size: str) -> None:
    import pypdfium2

    record = scene.record(
        decision="condemned", rated_load=0.0, safe_to_operate=False, next_due=None,
        made_unusable="cut up",
    )  # fmt: skip
    data = label_data(record, code_of(record, scene.keys.code_key), size)
    document = pypdfium2.PdfDocument(label_pdf(data))
    page = document[0].get_textpage()
    text = " ".join(page.get_text_range().split())
    page.close()
    document.close()
    assert "Do not use: Condemned" in text
    assert "kg" not in text


def test_label_picture_is_read_back_and_verified(scene: Scene) -> None:
    for size in SIZES:
        picture = label_png(label_data(scene.record(), scene.issued.code, size))
        assert read_picture(picture) == scene.issued.code


def test_label_size_that_there_is_not(scene: Scene) -> None:
    with pytest.raises(ValueError, match="expected one of"):
        label_data(scene.record(), scene.issued.code, "1x1")


def test_pictures_without_our_code_are_told() -> None:
    import segno

    blank, other = io.BytesIO(), io.BytesIO()
    Image.new("L", (300, 300), 255).save(blank, "png")
    segno.make_qr("hello").save(other, kind="png", scale=6)
    for data, words in (
        (blank.getvalue(), "no code"),
        (other.getvalue(), "another code"),
        (b"junk", "no picture"),
    ):
        with pytest.raises(FaultsError, match=words):
            read_picture(data, "scan.png")
