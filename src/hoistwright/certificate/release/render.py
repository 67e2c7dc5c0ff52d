"""From a record to the unsigned paper. The same record gives the same bytes on any machine."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any, Literal

from hoistwright.certificate.release.page import certificate_page
from hoistwright.certificate.release.record import record_bytes, sha256
from hoistwright.certificate.release.withdrawal_page import withdrawal_page
from hoistwright.certificate.typeset import pictures_of, typeset

Paper = Literal["a4", "letter"]
Lang = Literal["en", "fr"]


def render(
    record: Mapping[str, Any],
    *,
    code: str = "",
    lang: Lang = "en",
    paper: Paper = "a4",
    written: bytes = b"",
) -> bytes:
    """A record's paper as PDF/A-3a with the record attached; not signed yet.

    Args:
        record: from `certificate_record` or `withdrawal_record`.
        code: the signed code to print; empty: none, and a certificate says that it is a draft.
        lang: language of the paper.
        paper: its size.
        written: `record_bytes` of the record, where it is at hand.
    """
    written = written or record_bytes(record)
    certificate = record["kind"] == "certificate"
    page = (certificate_page if certificate else withdrawal_page)(
        record, code, lang, sha256(written)
    )
    stated = record["dates"]["issued_on"] if certificate else record["withdrawn_on"]
    return typeset(
        "statement",
        page,
        day=datetime.date.fromisoformat(stated),
        paper="us-letter" if paper == "letter" else "a4",
        record=written,
    )


def draft_pictures(
    record: Mapping[str, Any], *, lang: Lang = "en", ppi: float = 110.0
) -> tuple[bytes, ...]:
    """The pages of a certificate that is not signed yet, each as a PNG picture."""
    page = certificate_page(record, "", lang)
    day = datetime.date.fromisoformat(record["dates"]["issued_on"])
    return pictures_of("statement", page, day=day, ppi=ppi, record=record_bytes(record))
