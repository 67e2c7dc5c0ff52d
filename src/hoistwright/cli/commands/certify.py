"""`hoistwright certify`: a competent person signs the certificate of a job, or withdraws one."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.passphrases import HELP, OWN, SHOP, passphrase
from hoistwright.cli.show import console, plain
from hoistwright.cli.typed import latest_day

if TYPE_CHECKING:
    from hoistwright.certificate.release.issue import Issued, Pens
    from hoistwright.certificate.release.register import Register
    from hoistwright.job.shop import Shop


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = f"{parser.description} {HELP}"
    parser.add_argument("sheet", help="the job sheet; with --withdraw, the signed certificate")
    parser.add_argument("--shop", required=True, help="the shop file")
    parser.add_argument("--keys", required=True, metavar="FOLDER", help="the shop's key folder")
    parser.add_argument("--by", required=True, metavar="PERSON", help="key of who signs")
    parser.add_argument("--order", metavar="FILE", help="the release order (TOML)")
    parser.add_argument("--withdraw", metavar="REASON", help="withdraw this certificate instead")
    parser.add_argument("--out", required=True, metavar="FOLDER", help="folder of the certificates")
    parser.add_argument(
        "--p12", metavar="FILE", help="sign with this PKCS#12 file, not the folder's"
    )
    parser.add_argument(
        "--register", metavar="FILE", help="register file (default: register.json in --out)"
    )
    parser.add_argument("--time-stamp", metavar="URL", help="an RFC 3161 time-stamping service")
    parser.add_argument("--language", choices=("en", "fr"), default="en")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4")


def run(args: argparse.Namespace) -> int:
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.job.shop_file import load_shop

    if bool(args.order) == bool(args.withdraw):
        raise FaultsError(
            [Fault(Place(key="--order"), "both or neither", "either --order or --withdraw")]
        )
    shop = load_shop(Path(args.shop))
    register_path = Path(args.register or Path(args.out) / "register.json")
    register = _register(register_path, shop, args)
    pens = _pens(args)
    issued, name = (_withdraw if args.withdraw else _issue)(args, shop, pens, register)
    _write(args, issued, name, register_path, pens)
    return 0


def _issue(
    args: argparse.Namespace, shop: Shop, pens: Pens, register: Register
) -> tuple[Issued, str]:
    from hoistwright.certificate.release.issue import issue
    from hoistwright.certificate.release.order import certificate_of, load_order
    from hoistwright.sheet import read_sheet
    from hoistwright.sheet.examine_sheet import examine_sheet

    sheet = read_sheet(Path(args.sheet), shop=shop, today=latest_day(shop))
    certificate = certificate_of(load_order(Path(args.order)), shop, args.by)
    issued = issue(
        certificate, examine_sheet(sheet, shop), sheet, shop, pens, register, _now(),
        lang=args.language, paper=args.paper,
    )  # fmt: skip
    return issued, f"{certificate.number}-{certificate.revision}"


def _withdraw(
    args: argparse.Namespace, shop: Shop, pens: Pens, register: Register
) -> tuple[Issued, str]:
    from hoistwright.certificate.release.issue import withdraw, withdrawal_of
    from hoistwright.certificate.signing.key_files import PUBLIC, load_certificates
    from hoistwright.certificate.signing.trust import trust_of

    trust = trust_of(load_certificates(Path(args.keys) / PUBLIC))
    withdrawal = withdrawal_of(
        Path(args.sheet).read_bytes(), trust, shop, args.by, args.withdraw, datetime.date.today()
    )
    issued = withdraw(
        withdrawal, shop, pens, register, _now(), lang=args.language, paper=args.paper
    )
    return issued, f"{withdrawal.number}-{withdrawal.revision}-withdrawn"


def _now() -> datetime.datetime:
    return datetime.datetime.now().astimezone()


def _pens(args: argparse.Namespace) -> Pens:
    from hoistwright.certificate.release.issue import Pens
    from hoistwright.certificate.signing import key_files
    from hoistwright.certificate.signing.sign_pdf import time_stamper

    folder = Path(args.keys)
    path = Path(args.p12) if args.p12 else folder / key_files.signer_file(args.by)
    code_key = key_files.load_code_key(folder, passphrase(SHOP, "the shop's keys"))
    return Pens(
        signer=key_files.load_signer(path, passphrase(OWN, args.by)),
        code_key=code_key,
        stamper=time_stamper(args.time_stamp) if args.time_stamp else None,
    )


def _register(path: Path, shop: Shop, args: argparse.Namespace) -> Register:
    from hoistwright.certificate.release.register import Register
    from hoistwright.certificate.release.register_file import load_register
    from hoistwright.certificate.signing.key_files import PUBLIC, load_certificates
    from hoistwright.certificate.signing.trust import trust_of

    if not path.exists():
        return Register(shop=shop.name)
    return load_register(path, trust_of(load_certificates(Path(args.keys) / PUBLIC)))


def _write(
    args: argparse.Namespace, issued: Issued, name: str, register_path: Path, pens: Pens
) -> None:
    """The paper first, then the register: a paper without its line can be entered again."""
    from hoistwright.certificate.release.register import register_bytes
    from hoistwright.certificate.write import file_name, write_whole

    base = file_name(name)
    folder = Path(args.out)
    path = write_whole(folder / f"{base}.pdf", issued.pdf)
    write_whole(folder / f"{base}.json", issued.record)
    write_whole(register_path, register_bytes(issued.register, pens.code_key))
    console().print(plain(f"Signed: {path}"))
    console().print(plain(f"SHA-256 {issued.sha256}; entered in {register_path}"))
