"""Whether a signature covers a file whole, down to the last byte of padding.

Readers let several bytes pass that are not under the signature: those between the two signed
ranges that are not needed, encodings that mean the same, versions nobody looks at. Here the
signature must stand in exactly the one form that our own pen gives it.
"""

from __future__ import annotations

import re
from typing import Any

from hoistwright.certificate.signing.stamps import stamp_fault

_RANGE = re.compile(rb"/ByteRange ?\[ ?(\d+) (\d+) (\d+) (\d+) ?\]")


def whole_signature(data: bytes) -> tuple[bytes, str]:
    """The signature (DER) in a file, and why the file is not covered whole; empty if it is."""
    ranges = _RANGE.findall(data)
    if len(ranges) != 1:
        return b"", f"it holds {len(ranges)} signed ranges; expected one"
    start, first, second, rest = (int(word) for word in ranges[0])
    if start != 0 or second < first or second + rest != len(data):
        return b"", "the signature does not cover the whole file: something was added or cut off"
    gap = data[first:second]
    try:
        der = _first_value(bytes.fromhex(gap[1:-1].decode("ascii")))
    except (ValueError, IndexError):
        return b"", "the signature cannot be read"
    hexed = der.hex().upper().encode()
    if gap != b"<" + hexed + b"0" * (len(gap) - 2 - len(hexed)) + b">":
        return der, "the place of the signature holds something besides the signature"
    return der, ""


def added_after(data: bytes) -> bool:
    """Whether bytes stand behind the end that the last signature states."""
    ranges = _RANGE.findall(data)
    return bool(ranges) and int(ranges[-1][2]) + int(ranges[-1][3]) < len(data)


def _first_value(padded: bytes) -> bytes:
    """The first DER value of some bytes, its head read as X.690, 8.1.3 says."""
    length, size = padded[1], 2
    if length & 0x80:
        size = 2 + (length & 0x7F)
        length = int.from_bytes(padded[2:size], "big")
    return padded[: size + length]


def shape_fault(der: bytes) -> str:
    """Why a signature is not in the form that we write; empty if it is.

    The signature is built again from the parts that it protects, and from constants for all
    else; a byte that differs was changed after signing.
    """
    from asn1crypto import cms

    try:
        signed = cms.ContentInfo.load(der, strict=True)["content"]
        infos = signed["signer_infos"]
        if len(infos) != 1:
            return f"it holds {len(infos)} signers; expected one"
        again = _again(signed, infos[0])
        if again != der:
            return "the signature is not in the form that we write"
        return _stamps(infos[0])
    except (ValueError, TypeError, KeyError):
        return "the signature cannot be read"


def _stamps(info: Any) -> str:
    """Beside the signature there may stand one time stamp, and nothing else."""
    unsigned = list(info["unsigned_attrs"])
    kinds = [item["type"].native for item in unsigned]
    if kinds not in ([], ["signature_time_stamp_token"]):
        return f"beside the signature stands: {', '.join(kinds)}"
    tokens = [token for item in unsigned for token in item["values"]]
    if len(tokens) > 1:
        return f"it holds {len(tokens)} time stamps; expected one at most"
    return stamp_fault(tokens[0]) if tokens else ""


def _again(signed: Any, info: Any) -> bytes:
    from asn1crypto import algos, cms

    sha256 = algos.DigestAlgorithm({"algorithm": "sha256"})
    parts = {
        "version": "v1",
        "sid": cms.SignerIdentifier.load(info["sid"].dump()),
        "digest_algorithm": sha256,
        "signed_attrs": info["signed_attrs"],
        "signature_algorithm": algos.SignedDigestAlgorithm({"algorithm": "sha256_ecdsa"}),
        "signature": info["signature"].native,
    }
    if info["unsigned_attrs"].native:
        parts["unsigned_attrs"] = info["unsigned_attrs"]
    whole = cms.SignedData(
        {
            "version": "v1",
            "digest_algorithms": [sha256],
            "encap_content_info": {"content_type": "data"},
            "certificates": signed["certificates"],
            "signer_infos": [cms.SignerInfo(parts)],
        }
    )
    made: bytes = cms.ContentInfo({"content_type": "signed_data", "content": whole}).dump()
    return made
