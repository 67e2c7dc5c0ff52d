"""A stranger with the file and the shop's public certificate: every change is found."""

from __future__ import annotations

import datetime
import io
import random
from typing import Any

import attrs
import pikepdf
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.general import SigningError
from pyhanko.sign.signers import PdfSignatureMetadata, PdfSigner
from pyhanko.sign.timestamps import DummyTimeStamper
from pyhanko_certvalidator import ValidationContext
from release_scene import Scene

from hoistwright.certificate.release.issue import Issued, Pens, withdraw, withdrawal_of
from hoistwright.certificate.release.record import record_bytes, sha256
from hoistwright.certificate.release.register import (
    RegisterError,
    read_register,
    register_bytes,
)
from hoistwright.certificate.release.render import render
from hoistwright.certificate.release.values import Supersedes
from hoistwright.certificate.release.verify import Verification, verify, verify_code
from hoistwright.certificate.signing.contents import RECORD
from hoistwright.certificate.signing.make_keys import (
    SignerKeys,
    make_shop_keys,
    make_signer_keys,
)
from hoistwright.certificate.signing.outside_loop import outside_loop
from hoistwright.certificate.signing.sign_pdf import _simple, as_asn1, sign_pdf
from hoistwright.certificate.signing.trust import NOBODY, trust_of
from hoistwright.certificate.typeset import typeset
from hoistwright.faults import FaultsError

TODAY = datetime.date(2026, 11, 25)
START = datetime.date(2026, 1, 1)


def check(scene: Scene, data: bytes, **more: Any) -> Verification:
    return verify(data, scene.trust, TODAY, **more)


def signed(scene: Scene, record: dict[str, Any], *, signer: SignerKeys | None = None) -> bytes:
    """A paper signed without asking the rules, as a careless or false shop might."""
    return sign_pdf(render(record, code="x"), signer or scene.signer, scene.at)


def test_what_was_issued_is_valid(scene: Scene) -> None:
    result = check(scene, scene.issued.pdf)
    assert result.outcome == "valid", result.found
    assert result.signer == "Odile Brannagh"
    assert result.organisation == scene.shop.name
    assert result.signed_at == scene.at
    assert result.record is not None
    assert record_bytes(result.record) == scene.issued.record
    assert result.file_sha256 == scene.issued.sha256


def test_without_trust_nobody_vouches(scene: Scene) -> None:
    result = verify(scene.issued.pdf, NOBODY, TODAY)
    assert result.outcome == "signer not trusted"
    assert result.signer == "Odile Brannagh"


def test_another_shop_does_not_vouch(scene: Scene) -> None:
    other = make_shop_keys("Gannet Hoist Yard (invented)", START)
    result = verify(scene.issued.pdf, trust_of((other.root, other.code)), TODAY)
    assert result.outcome == "signer not trusted"


def changed(data: bytes, at: int, by: int) -> bytes:
    return data[:at] + bytes([data[at] ^ by]) + data[at + 1 :]


def test_any_one_changed_byte_is_found(scene: Scene) -> None:
    """Positions at random over the whole file, and again over the part added by the signature,
    where the bytes are that a signature cannot hold itself.
    """
    data, rng = scene.issued.pdf, random.Random(7)
    start = data.rindex(b"/Contents <")
    places = [rng.randrange(len(data)) for _ in range(150)]
    places += [rng.randrange(start, len(data)) for _ in range(250)]
    for at in places:
        result = check(scene, changed(data, at, 1 << rng.randrange(8)))
        assert not result.valid, f"byte {at} of {len(data)}"


def test_digits_of_the_signature_itself_are_held(scene: Scene) -> None:
    """Its hexadecimal digits one after the other, by one bit; a letter's case too (bit 5)."""
    data = scene.issued.pdf
    start = data.rindex(b"/Contents <") + len(b"/Contents <")
    end = data.index(b"00000000000000000000", start)
    for count, at in enumerate(range(start, end, 7)):
        assert not check(scene, changed(data, at, (0x01, 0x20)[count % 2])).valid, at


@pytest.mark.parametrize("more", [b"\n", b" ", b"\0", b"%%EOF\n", b"%%EOF"])
def test_appended_bytes_are_found(scene: Scene, more: bytes) -> None:
    assert check(scene, scene.issued.pdf + more).outcome == "changed"


def test_incremental_update_is_found(scene: Scene) -> None:
    """A page's words are added after signing, in the way that PDF allows for later changes."""
    out: Any = IncrementalPdfFileWriter(io.BytesIO(scene.issued.pdf))
    out.root["/Lang"] = out.root["/Lang"]
    out.update_root()
    buffer = io.BytesIO()
    out.write(buffer)
    assert check(scene, buffer.getvalue()).outcome == "changed"


def test_rewritten_file_is_found(scene: Scene) -> None:
    buffer = io.BytesIO()
    with pikepdf.open(io.BytesIO(scene.issued.pdf)) as pdf:
        pdf.save(buffer)
    assert not check(scene, buffer.getvalue()).valid


def test_second_signature_is_refused_by_the_file_itself(scene: Scene) -> None:
    """The first signature allows no change (DocMDP, P = 1): other programs see that too."""
    out = IncrementalPdfFileWriter(io.BytesIO(scene.issued.pdf))
    pen = PdfSigner(PdfSignatureMetadata(field_name="Second"), _simple(scene.signer))
    with pytest.raises(SigningError, match="forbids all changes"):
        outside_loop(lambda: pen.sign_pdf(out))


@pytest.mark.parametrize("share", [0.0005, 0.01, 0.3, 0.7, 0.95, 0.999])
def test_truncated_file_is_told(scene: Scene, share: float) -> None:
    data = scene.issued.pdf
    assert check(scene, data[: int(share * len(data))]).outcome == "truncated"


def test_file_cut_back_to_before_its_signature_is_told(scene: Scene) -> None:
    """The unsigned paper is a whole PDF: only its signature is missing."""
    unsigned = render(scene.record(), code=scene.issued.code)
    assert scene.issued.pdf.startswith(unsigned)
    assert check(scene, unsigned).outcome == "not signed"


@pytest.mark.parametrize("data", [b"", b"hello", b"\x89PNG\r\n", b"%PDF-1.7\n%%EOF\n"])
def test_not_ours_or_not_readable(scene: Scene, data: bytes) -> None:
    assert check(scene, data).outcome in {"not ours", "unreadable"}


def test_other_pdf_is_not_ours(scene: Scene) -> None:
    out = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(out)
    assert check(scene, out.getvalue()).outcome == "not ours"


def test_swapped_record_is_told_even_under_a_good_signature(scene: Scene) -> None:
    """Somebody with the shop's key sets one paper and attaches another record."""
    from hoistwright.certificate.release.page import certificate_page

    other = scene.record(rated_load=3000.0)
    page = certificate_page(scene.record(), "x")
    paper = typeset("statement", page, day=scene.day, record=record_bytes(other))
    result = check(scene, sign_pdf(paper, scene.signer, scene.at))
    assert result.outcome == "swapped record"


def test_swapped_record_after_signing_is_told(scene: Scene) -> None:
    buffer = io.BytesIO()
    with pikepdf.open(io.BytesIO(scene.issued.pdf)) as pdf:
        spec = pdf.attachments[RECORD]
        other = record_bytes(scene.record(rated_load=3000.0))
        spec.obj.EF.F.write(other)
        pdf.save(buffer)
    assert check(scene, buffer.getvalue()).outcome in {"changed", "swapped record"}


def test_unknown_record_is_not_ours(scene: Scene) -> None:
    from hoistwright.certificate.release.page import certificate_page

    page = certificate_page(scene.record(), "x")
    for text in (b"{}", b'{"format": 2, "kind": "certificate"}', b"[1]"):
        page["keywords"] = f"record sha256 {sha256(text)}"
        paper = typeset("statement", page, day=scene.day, record=text)
        assert check(scene, sign_pdf(paper, scene.signer, scene.at)).outcome == "not ours"
    bare = b'{"format": 1, "kind": "certificate"}'
    page["keywords"] = f"record sha256 {sha256(bare)}"
    paper = typeset("statement", page, day=scene.day, record=bare)
    assert check(scene, sign_pdf(paper, scene.signer, scene.at)).outcome == "unreadable"


def test_key_that_was_out_of_date_is_told(scene: Scene) -> None:
    late = datetime.datetime(2035, 1, 1, tzinfo=datetime.UTC)
    young = make_signer_keys(
        scene.keys, scene.shop.name, "odile", "Odile Brannagh", datetime.date(2034, 6, 1)
    )
    paper = sign_pdf(render(scene.record(), code="x"), young, late)
    forged = attrs.evolve(young, certificate=scene.signer.certificate, key=scene.signer.key)
    assert verify(paper, scene.trust, datetime.date(2035, 2, 1)).valid
    with pytest.raises(ValueError, match="in date"):
        sign_pdf(render(scene.record(), code="x"), forged, late)


def test_signature_outside_the_time_of_its_key_is_told(
    scene: Scene, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Signed with a program that does not ask the key's dates."""
    from hoistwright.certificate.signing import sign_pdf as module

    monkeypatch.setattr(module, "check_in_date", lambda *_: None)
    late = datetime.datetime(2035, 1, 1, tzinfo=datetime.UTC)
    paper = sign_pdf(render(scene.record(), code="x"), scene.signer, late)
    result = verify(paper, scene.trust, datetime.date(2035, 2, 1))
    assert result.outcome == "key out of date"


def test_old_paper_stays_valid_with_a_remark_once_its_key_ran_out(scene: Scene) -> None:
    result = verify(scene.issued.pdf, scene.trust, datetime.date(2031, 1, 1))
    assert result.valid
    assert any("no time stamp proves it" in item.sentence for item in result.found)


def test_signer_without_the_right_is_told(scene: Scene) -> None:
    """The shop's root vouches for a technician's key; the record still names Odile."""
    other = make_signer_keys(scene.keys, scene.shop.name, "tomasz", "Tomasz Ferrier", START)
    assert check(scene, signed(scene, scene.record(), signer=other)).outcome == "no right"


def test_record_that_names_somebody_without_the_right_is_told(scene: Scene) -> None:
    who = attrs.evolve(scene.certificate.authenticated_by, roles=("technician",))
    assert check(scene, signed(scene, scene.record(authenticated_by=who))).outcome == "no right"


def test_signer_of_another_trusted_shop_is_told(scene: Scene) -> None:
    """A reader may trust two shops; neither may sign for the other."""
    other = make_shop_keys("Gannet Hoist Yard (invented)", START)
    theirs = make_signer_keys(other, "Gannet Hoist Yard (invented)", "odile", "Odile B", START)
    both = trust_of((scene.keys.root, other.root))
    data = signed(scene, scene.record(), signer=theirs)
    assert verify(data, both, TODAY).outcome == "no right"


def test_clock_set_back_is_told(scene: Scene) -> None:
    early = datetime.datetime(2026, 3, 1, tzinfo=datetime.UTC)
    data = sign_pdf(render(scene.record(), code="x"), scene.signer, early)
    result = check(scene, data)
    assert result.outcome == "clock"
    assert any("before it was examined" in item.sentence for item in result.found)


def test_signed_in_the_future_is_told(scene: Scene) -> None:
    result = verify(scene.issued.pdf, scene.trust, datetime.date(2026, 10, 1))
    assert result.outcome == "clock"


def revised(scene: Scene) -> Issued:
    old = Supersedes(
        number="KQ-2026-0042",
        revision=0,
        file_sha256=scene.issued.sha256,
        issued_on=scene.day,
        reason="serial number was misread",
    )
    later = scene.at + datetime.timedelta(days=2)
    return scene.issue(
        register=scene.issued.register,
        at=later,
        revision=1,
        supersedes=old,
        issued_on=later.date(),
    )


def test_superseded_is_told_by_the_revision_or_by_the_register(scene: Scene) -> None:
    new = revised(scene)
    assert check(scene, new.pdf).valid
    assert check(scene, scene.issued.pdf, others=[new.pdf]).outcome == "superseded"
    assert check(scene, scene.issued.pdf, register=new.register).outcome == "superseded"
    assert check(scene, new.pdf, others=[scene.issued.pdf], register=new.register).valid


def withdrawn(scene: Scene) -> Issued:
    day = scene.day + datetime.timedelta(days=5)
    stated = withdrawal_of(scene.issued.pdf, scene.trust, scene.shop, "odile", "wrong hoist", day)
    at = scene.at + datetime.timedelta(days=5)
    return withdraw(stated, scene.shop, scene.pens, scene.issued.register, at)


def test_withdrawn_is_told_by_the_withdrawal_or_by_the_register(scene: Scene) -> None:
    gone = withdrawn(scene)
    assert check(scene, gone.pdf).valid
    assert check(scene, scene.issued.pdf, others=[gone.pdf]).outcome == "withdrawn"
    assert check(scene, scene.issued.pdf, register=gone.register).outcome == "withdrawn"
    code = verify_code(scene.issued.code, scene.trust, TODAY, register=gone.register)
    assert code.outcome == "withdrawn"


def test_only_what_is_registered_is_withdrawn_and_once(scene: Scene) -> None:
    day, at = scene.day + datetime.timedelta(days=5), scene.at + datetime.timedelta(days=6)
    stated = withdrawal_of(scene.issued.pdf, scene.trust, scene.shop, "odile", "x", day)
    with pytest.raises(FaultsError, match="no such file"):
        withdraw(stated, scene.shop, scene.pens, scene.empty, at)
    with pytest.raises(FaultsError, match="withdrawn already"):
        withdraw(stated, scene.shop, scene.pens, withdrawn(scene).register, at)
    with pytest.raises(FaultsError):
        withdrawal_of(b"%PDF-", scene.trust, scene.shop, "odile", "x", day)


def test_withdrawal_by_somebody_else_counts_for_nothing(scene: Scene) -> None:
    """A stranger signs a withdrawal of our certificate with a root of his own."""
    other = make_shop_keys(scene.shop.name, START)
    his = make_signer_keys(other, scene.shop.name, "odile", "Odile Brannagh", START)
    day = scene.day + datetime.timedelta(days=5)
    stated = withdrawal_of(scene.issued.pdf, scene.trust, scene.shop, "odile", "spite", day)
    pens = Pens(signer=his, code_key=other.code_key)
    at = scene.at + datetime.timedelta(days=5)
    false = withdraw(stated, scene.shop, pens, scene.issued.register, at)
    assert check(scene, scene.issued.pdf, others=[false.pdf, b"junk"]).valid


def test_register_reads_back_and_any_change_is_found(scene: Scene) -> None:
    register = withdrawn(scene).register
    data = register_bytes(register, scene.keys.code_key)
    assert read_register(data, scene.trust) == register
    with pytest.raises(RegisterError, match="changed"):
        read_register(data.replace(b"wrong hoist", b"wrong place"), scene.trust)
    with pytest.raises(RegisterError, match="nobody"):
        read_register(data, NOBODY)
    for junk in (b"", b"[]", b"{}", data[:-40]):
        with pytest.raises(RegisterError):
            read_register(junk, scene.trust)


def test_numbers_follow_each_other(scene: Scene) -> None:
    assert scene.issued.register.next_number("KQ", 2026) == "KQ-2026-0043"
    assert scene.issued.register.next_number("KQ", 2027) == "KQ-2027-0001"


def _stamper(scene: Scene, key: rsa.RSAPrivateKey) -> tuple[DummyTimeStamper, x509.Certificate]:
    """A time-stamping service (RFC 3161) in this process, with a certificate of its own."""
    from asn1crypto.keys import PrivateKeyInfo

    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Stamps (invented)")])
    start = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)
    use = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.TIME_STAMPING])
    certificate = (
        x509.CertificateBuilder(name, name, key.public_key(), x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + datetime.timedelta(days=3650))
        .add_extension(use, critical=True)
        .sign(key, hashes.SHA256())
    )
    secret = key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())
    stamper = DummyTimeStamper(as_asn1(certificate), PrivateKeyInfo.load(secret), fixed_dt=scene.at)
    return stamper, certificate


def test_time_stamp_is_told(scene: Scene) -> None:
    """A stamp by a service that is trusted proves the time; any other is only named."""
    stamper, service = _stamper(scene, rsa.generate_private_key(65537, 2048))
    paper = sign_pdf(render(scene.record(), code="x"), scene.signer, scene.at, stamper=stamper)
    unknown = check(scene, paper)
    assert unknown.outcome == "valid", unknown.found
    assert unknown.stamped_at is None
    assert any("nobody here vouches" in item.sentence for item in unknown.found)
    both = trust_of((scene.keys.root, scene.keys.code, service))
    late = datetime.date(2031, 1, 1)
    known = verify(paper, both, late)
    assert known.outcome == "valid", known.found
    assert known.stamped_at == scene.at
    assert not any("no time stamp proves" in item.sentence for item in known.found)


def test_changed_byte_in_a_stamped_signature_is_found(scene: Scene) -> None:
    stamper, service = _stamper(scene, rsa.generate_private_key(65537, 2048))
    paper = sign_pdf(render(scene.record(), code="x"), scene.signer, scene.at, stamper=stamper)
    both = trust_of((scene.keys.root, scene.keys.code, service))
    rng, start = random.Random(3), paper.rindex(b"/Contents <")
    end = paper.index(b"00000000000000000000", start)
    for _ in range(100):
        at = rng.randrange(start, end)
        assert not verify(changed(paper, at, 1), both, TODAY).valid, at - start


def test_the_library_alone_would_let_changes_pass(scene: Scene) -> None:
    """Why `coverage` is there: the padding of a signature is read by nobody else."""
    from pyhanko.sign.validation import validate_pdf_signature

    data = scene.issued.pdf
    at = data.rindex(b"0000>")
    other = data[:at] + b"1" + data[at + 1 :]
    embedded = PdfFileReader(io.BytesIO(other)).embedded_signatures[0]
    nobody = ValidationContext(trust_roots=[], allow_fetching=False)
    status = outside_loop(lambda: validate_pdf_signature(embedded, nobody, skip_diff=True))
    assert status.intact
    assert check(scene, other).outcome == "changed"
