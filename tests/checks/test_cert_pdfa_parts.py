"""The parts of PDF/A-3 and PDF/UA in a signed certificate, read by a general PDF library.

Sources, from memory: ISO 19005-3:2012 (PDF/A-3): 6.1.2 header, 6.1.3 no encryption, file
identifier, 6.2.3 output intent, 6.2.11 embedded fonts, 6.3 annotations, 6.6.4 identification in
XMP, 6.8 embedded files with AFRelationship; ISO 14289-1 (PDF/UA-1): tags, language, title shown.
No validator for the whole standard was to be had; these are its parts that can be read off.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pikepdf
import pytest
from release_scene import Scene, make_scene

from hoistwright.certificate.signing.contents import RECORD


@pytest.fixture(scope="module")
def scene() -> Scene:
    return make_scene()


@pytest.fixture
def pdf(scene: Scene) -> Iterator[Any]:
    with pikepdf.open(io.BytesIO(scene.issued.pdf)) as opened:
        yield opened


def test_library_finds_no_fault_in_the_structure(pdf: Any) -> None:
    assert pdf.check_pdf_syntax() == []
    assert not pdf.is_encrypted
    assert pdf.pdf_version == "1.7"
    assert "/Version" not in pdf.Root
    assert len(pdf.trailer.ID) == 2


def test_metadata_names_part_3(pdf: Any) -> None:
    xmp = pdf.Root.Metadata.read_bytes().decode()
    assert re.search(r"pdfaid:part(>|=\")3", xmp)
    assert re.search(r"pdfaid:conformance(>|=\")A", xmp)
    assert re.search(r"pdfuaid:part(>|=\")1", xmp)


def test_output_intent_holds_a_profile(pdf: Any) -> None:
    (intent,) = pdf.Root.OutputIntents
    assert intent.S == "/GTS_PDFA1"
    profile = intent.DestOutputProfile.read_bytes()
    assert profile[36:40] == b"acsp"  # signature of every ICC profile (ICC.1, 7.2)


def test_tags_language_and_title(pdf: Any) -> None:
    assert pdf.Root.MarkInfo.Marked
    assert "/StructTreeRoot" in pdf.Root
    assert str(pdf.Root.Lang).startswith("en")
    assert pdf.Root.ViewerPreferences.DisplayDocTitle


def test_attachment_is_associated_with_the_document(scene: Scene, pdf: Any) -> None:
    (related,) = pdf.Root.AF
    assert related.AFRelationship == "/Data"
    assert str(related.UF) == RECORD
    assert str(related.F) == RECORD
    assert related.EF.F.Subtype == "/application/json"
    assert related.EF.F.read_bytes() == scene.issued.record
    assert list(pdf.attachments) == [RECORD]


def test_every_font_is_embedded(pdf: Any) -> None:
    fonts = [
        item
        for item in pdf.objects
        if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor"
    ]
    assert fonts
    for font in fonts:
        assert any(key in font for key in ("/FontFile", "/FontFile2", "/FontFile3"))


def test_no_script_no_action_no_link_outside(pdf: Any) -> None:
    assert "/OpenAction" not in pdf.Root
    assert "/AA" not in pdf.Root
    for item in pdf.objects:
        if isinstance(item, pikepdf.Dictionary):
            assert item.get("/S") not in ("/JavaScript", "/Launch", "/URI", "/GoToR")


def test_signature_field_is_printable_and_locked_and_allows_no_change(pdf: Any) -> None:
    """ISO 32000-1, 12.8.2.2: P = 1, no change to the document is permitted."""
    (field,) = pdf.Root.AcroForm.Fields
    assert field.FT == "/Sig"
    assert int(field.F) & 4  # Print, ISO 19005-3, 6.3.2
    value = field.V
    assert value.SubFilter == "/ETSI.CAdES.detached"
    assert int(value.Reference[0].TransformParams.P) == 1
    assert pdf.Root.Perms.DocMDP.objgen == value.objgen
