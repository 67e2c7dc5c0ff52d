"""Files made to fill the memory are refused; a running event loop is no hindrance."""

from __future__ import annotations

import asyncio
import datetime
import zlib

import pytest
from release_scene import Scene

from hoistwright.certificate.release.verify import verify
from hoistwright.certificate.signing.bounds import unpacking_fault
from hoistwright.certificate.signing.trust import NOBODY


def packed(text: bytes, description: bytes) -> bytes:
    """A PDF, as far as its head goes, with one stream."""
    head = b"%PDF-1.7\n1 0 obj\n<<" + description + b">>\nstream\n"
    return head + text + b"\nendstream\nendobj\n%%EOF"


@pytest.mark.parametrize(
    "file",
    [
        packed(zlib.compress(bytes(60_000_000), 9), b"/Filter/FlateDecode"),
        packed(b"x", b"/Filter[/FlateDecode/FlateDecode]"),
        packed(b"x", b"/Filter/LZWDecode"),
        packed(b"x", b"/F#69lter/LZWDecode"),
    ],
)
def test_a_file_that_would_fill_the_memory_is_not_unpacked(file: bytes) -> None:
    """60 MB in 60 kB here; a thousand times as much would come through the open page."""
    result = verify(file, NOBODY, datetime.date(2026, 11, 25))
    assert result.outcome == "not ours"
    assert "It is no paper of Hoistwright" in result.found[0].sentence


def test_many_streams_are_counted_together() -> None:
    one = packed(zlib.compress(bytes(30_000), 9), b"/Filter/FlateDecode")
    assert unpacking_fault(one, most=40_000) == ""
    assert "more than 40,000 bytes" in unpacking_fault(one + one, most=40_000)


def test_our_own_papers_may_be_unpacked(scene: Scene) -> None:
    assert unpacking_fault(scene.issued.pdf) == ""


def test_signing_and_checking_from_within_an_event_loop(scene: Scene) -> None:
    """As in a notebook, where one runs always."""

    async def both() -> bool:
        pdf = scene.issue(number="KQ-2026-0099").pdf
        return verify(pdf, scene.trust, datetime.date(2026, 11, 25)).valid

    assert asyncio.run(both())
