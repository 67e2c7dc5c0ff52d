"""The demo's last metre: one hoist walked to its signed certificate, which is then verified."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain

if TYPE_CHECKING:
    from hoistwright.job.events_release import CertificateIssued
    from hoistwright.web.bench import Bench


def certify_demo(folder: Path) -> int:
    """Certificate, label, customer's packet and register of one hoist; verify's exit code."""
    from hoistwright.demo.shop_files import demo_folder
    from hoistwright.demo.signed_job import KEYS, signed_job
    from hoistwright.web.serving import start_bench

    with (
        console().status("One hoist from book in to its signed certificate"),
        tempfile.TemporaryDirectory() as records,
    ):
        bench = start_bench(
            Path(records) / "demo.db",
            shop=demo_folder() / "shop.toml",
            demo=True,
            keys=folder / KEYS,
        )
        issued = signed_job(bench)
        assert issued is not None, "an empty bench has no such job yet"
        path = _written(bench, issued, folder)
        bench.store.close()
    out = console()
    out.print(
        "\nOne hoist went the whole way, from book in to a signed certificate, with keys made for "
        "the demo:"
    )
    out.print(plain(f"  {path}"))
    return _verified(path, folder)


def _written(bench: Bench, issued: CertificateIssued, folder: Path) -> Path:
    import json

    from hoistwright.certificate.release.mail import mail_packet
    from hoistwright.certificate.signing.contents import record_in
    from hoistwright.certificate.tag.label import label_data, label_pdf
    from hoistwright.certificate.write import file_name, write_whole
    from hoistwright.web.records.issued import signed_register
    from hoistwright.web.shop_keys import keys_of

    kept = bench.store.attachment(issued.content)
    assert kept is not None, "what was signed is kept"
    pdf, record = kept[1], json.loads(record_in(kept[1]) or b"{}")
    base = file_name(f"{issued.number}-{issued.revision}")
    label = label_pdf(label_data(record, issued.code, "62x29"))
    public = keys_of(bench).public
    write_whole(folder / f"{base}-tag.pdf", label)
    write_whole(
        folder / f"{base}-mail.zip", mail_packet(record, pdf, label=label, shop_certificate=public)
    )
    write_whole(folder / "register.json", signed_register(bench.engine))
    return write_whole(folder / f"{base}.pdf", pdf)


def _verified(path: Path, folder: Path) -> int:
    """What the command says to it, as anybody would ask it."""
    from hoistwright.certificate.signing.key_files import PUBLIC
    from hoistwright.cli.main import main
    from hoistwright.demo.signed_job import KEYS

    words = [
        "verify", str(path), "--trust", str(folder / KEYS / PUBLIC), "--register",
        str(folder / "register.json"),
    ]  # fmt: skip
    console().print(plain(f"hoistwright {' '.join(words)}"))
    return main(words)
