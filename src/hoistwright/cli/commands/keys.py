"""`hoistwright keys`: make the shop's own certificate, and a signing key for a person."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.passphrases import HELP, OWN, SHOP, passphrase
from hoistwright.cli.show import console, plain

if TYPE_CHECKING:
    from hoistwright.job.shop import Shop


def arguments(parser: argparse.ArgumentParser) -> None:
    jobs = parser.add_subparsers(dest="job", required=True, metavar="make | show")
    make = jobs.add_parser(
        "make",
        help="make keys: those of the shop the first time, then one for each person",
        description=f"Make signing keys in a folder. {HELP}",
    )
    make.add_argument("folder", help="folder of the keys; keep it where only signers can read")
    make.add_argument("--shop", metavar="FILE", help="the shop file")
    make.add_argument(
        "--db", metavar="WHERE", help="the bench's record instead: a file, or postgresql://..."
    )
    make.add_argument(
        "--person", action="append", default=[], metavar="KEY", help="a competent person of it"
    )
    show = jobs.add_parser("show", help="whose certificates a file holds, and their fingerprints")
    show.add_argument("file", help="a PEM file, for example shop-certificate.pem")


def run(args: argparse.Namespace) -> int:
    return _make(args) if args.job == "make" else _show(Path(args.file))


def _make(args: argparse.Namespace) -> int:
    from hoistwright.certificate.signing import key_files
    from hoistwright.certificate.signing.make_keys import make_shop_keys

    shop, folder = _shop(args.shop, args.db), Path(args.folder)
    _only_competent(args.person, shop.adopters(), args.shop or args.db)
    today = datetime.date.today()
    new = not (folder / key_files.ROOT_KEY).exists()
    secret = passphrase(SHOP, "the shop's keys", twice=new)
    if new:
        public = key_files.write_shop_keys(folder, make_shop_keys(shop.name, today), secret)
        console().print(plain(f"Made the keys of {shop.name}. Public file, to hand out: {public}"))
    for key in args.person:
        person = shop.person(key)
        if person is not None:
            _signer(folder, secret, shop.name, key, person.name)
    if not new and not args.person:
        console().print(plain("The shop's keys are there already; name a --person to add one."))
    return 0


def _shop(file: str | None, record: str | None) -> Shop:
    """The shop with its people: from its file, or as the bench has them."""
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.job.shop_file import load_shop

    if bool(file) == bool(record):
        raise FaultsError([Fault(Place(key="--shop"), "both or neither", "either --shop or --db")])
    if file:
        return load_shop(Path(file))
    from hoistwright.web.serving import shop_in

    return shop_in(record or "")


def _signer(folder: Path, secret: str, shop: str, key: str, name: str) -> None:
    from hoistwright.certificate.signing import key_files
    from hoistwright.certificate.signing.make_keys import make_signer_keys

    keys = key_files.load_shop_keys(folder, secret)
    made = make_signer_keys(keys, shop, key, name, datetime.date.today())
    own = passphrase(OWN, name, twice=True)
    path = key_files.write_signer(folder, key, made, own)
    until = made.certificate.not_valid_after_utc
    console().print(plain(f"Made a signing key for {name}, until {until:%Y-%m-%d}: {path}"))


def _only_competent(people: list[str], competent: tuple[str, ...], file: str) -> None:
    from hoistwright.faults import Fault, FaultsError, Place

    faults = [
        Fault(Place(file=file, key="people"), f"{key!r} to sign", "a competent person of the shop: "
              + (", ".join(competent) or "there is none"))
        for key in people
        if key not in competent
    ]  # fmt: skip
    if faults:
        raise FaultsError(faults)


def _show(path: Path) -> int:
    from hoistwright.certificate.signing.key_files import load_certificates
    from hoistwright.certificate.signing.names import fingerprint_of, name_of, organisation_of

    for item in load_certificates(path):
        until = item.not_valid_after_utc
        console().print(
            plain(
                f"{name_of(item)}, {organisation_of(item)}: valid until {until:%Y-%m-%d}\n"
                f"  SHA-256 {fingerprint_of(item)}"
            )
        )
    return 0
