"""`hoistwright tag`: the label for the hoist, from its signed certificate."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path

from hoistwright.cli.passphrases import SHOP, passphrase
from hoistwright.cli.show import console, plain


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", help="the signed certificate (PDF)")
    parser.add_argument("--keys", required=True, metavar="FOLDER", help="the shop's key folder")
    parser.add_argument("--out", required=True, metavar="FOLDER", help="folder of the labels")
    parser.add_argument(
        "--size", default="62x29", help="62x29, 89x28, 76x51 or 100x50 (mm); default 62x29"
    )
    parser.add_argument("--format", choices=("pdf", "png"), default="pdf")
    parser.add_argument("--language", choices=("en", "fr"), default="en")


def run(args: argparse.Namespace) -> int:
    from hoistwright.certificate.release.issue import code_of
    from hoistwright.certificate.release.verify import verify
    from hoistwright.certificate.signing import key_files
    from hoistwright.certificate.signing.trust import trust_of
    from hoistwright.certificate.tag.label import SIZES, label_data, label_pdf, label_png
    from hoistwright.certificate.write import file_name, write_whole
    from hoistwright.faults import Fault, FaultsError, Place

    if args.size not in SIZES:
        raise FaultsError([Fault(Place(key="--size"), args.size, f"one of {', '.join(SIZES)}")])
    folder = Path(args.keys)
    trust = trust_of(key_files.load_certificates(folder / key_files.PUBLIC))
    result = verify(Path(args.file).read_bytes(), trust, datetime.date.today())
    record = result.record
    if not result.valid or record is None or record["kind"] != "certificate":
        told = "; ".join(item.sentence for item in result.found) or "no certificate"
        raise FaultsError([Fault(Place(file=args.file), told, "a valid certificate of this shop")])
    code = code_of(record, key_files.load_code_key(folder, passphrase(SHOP, "the shop's keys")))
    data = label_data(record, code, args.size, args.language)
    made = label_pdf(data) if args.format == "pdf" else label_png(data)
    name = file_name(f"{record['number']}-{record['revision']}-tag-{args.size}")
    path = write_whole(Path(args.out) / f"{name}.{args.format}", made)
    console().print(plain(f"Label: {path}"))
    return 0
