"""`hoistwright serve`: the bench."""

from __future__ import annotations

import argparse
import os
import socket
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli.show import console, plain

if TYPE_CHECKING:
    from hoistwright.web.bench import Bench

PORT = 8470


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--db",
        metavar="WHERE",
        help="the record: a file, or postgresql://... (default: hoistwright.db; a demo's is "
        "out/demo.db)",
    )
    parser.add_argument("--shop", metavar="FILE", help="a shop file to begin with")
    parser.add_argument("--host", default="127.0.0.1", help="0.0.0.0 to be seen from tablets")
    parser.add_argument("--port", type=int, default=PORT)
    parser.add_argument(
        "--bases", metavar="FOLDER", help="bases of the shop's own, each in a folder of its own"
    )
    parser.add_argument("--demo", action="store_true", help="the invented demo shop")
    parser.add_argument(
        "--keys",
        metavar="FOLDER",
        help="the shop's signing keys (`hoistwright keys make`); HOISTWRIGHT_SHOP_PASSPHRASE opens "
        "the shop's own, else it is asked for at each signing",
    )
    parser.add_argument(
        "--hoists",
        type=int,
        default=None,
        metavar="N",
        help="hoists in the demo's twelve months of history (default: 300; 0: no history)",
    )


def run(args: argparse.Namespace) -> int:
    from hoistwright.web.serving import start_bench

    where = args.db or ("out/demo.db" if args.demo else "hoistwright.db")
    if "://" not in where:
        Path(where).parent.mkdir(parents=True, exist_ok=True)
    port = _port(args.host, args.port)
    shop = Path(args.shop) if args.shop else None
    if args.demo:
        from hoistwright.demo.shop_files import demo_folder

        shop = shop or demo_folder() / "shop.toml"
    keys, passphrase = _keys(args)
    bench = start_bench(
        where,
        shop=shop,
        demo=args.demo,
        bases=Path(args.bases) if args.bases else None,
        keys=keys,
        keys_passphrase=passphrase,
    )
    if args.demo:
        _fill(bench, args.hoists)
        _sign_one(bench)
    _tell(bench, where, args.host, port.getsockname()[1])
    return _serve(bench, port)


def _keys(args: argparse.Namespace) -> tuple[Path | None, str]:
    """The folder of the keys, and what opens the shop's own; a demo has keys of its own."""
    from hoistwright.cli.passphrases import SHOP

    if args.keys or not args.demo:
        return (Path(args.keys) if args.keys else None), os.environ.get(SHOP, "")
    from hoistwright.demo.signed_job import KEYS, PASSPHRASE

    beside = "." if args.db and "://" in args.db else Path(args.db or "out/demo.db").parent
    return Path(beside) / KEYS, PASSPHRASE


def _fill(bench: Bench, hoists: int | None) -> None:
    from rich.progress import Progress

    from hoistwright.demo.bench_jobs import fill_demo
    from hoistwright.demo.history import HOISTS

    many = HOISTS if hoists is None else max(0, hoists)
    names = ["Demo shop: twelve months of jobs"] if many else []
    names.append("Demo shop: jobs in hand")
    with Progress(console=console()) as bars:
        fill_demo(
            bench,
            hoists=many,
            watched=lambda items: bars.track(items, description=names.pop(0)),
        )


def _sign_one(bench: Bench) -> None:
    """One demo hoist goes the whole way, so that there is a certificate to look at."""
    from hoistwright.demo.signed_job import signed_job
    from hoistwright.web.shop_keys import give_demo_keys

    with console().status("Signing a demo certificate"):
        signed_job(bench)
        give_demo_keys(bench)


def _tell(bench: Bench, where: str, host: str, port: int) -> None:
    from hoistwright.web.serving import first_link

    out = console()
    names = {"127.0.0.1": "localhost", "0.0.0.0": socket.gethostname()}
    address = f"http://{names.get(host, host)}:{port}"
    out.print(f"[bold]The bench is at {address}/[/]")
    out.print(
        plain(f"It keeps its record in {where.rsplit('@', maxsplit=1)[-1]}. Ctrl-C stops it.")
    )
    link = first_link(bench)
    if link:
        out.print("Nobody can sign in yet. This link makes the administrator, once:")
        out.print(f"[bold]{address}{link}[/]", soft_wrap=True)


def _port(host: str, port: int) -> socket.socket:
    """The port, taken before anything else is done: it may be in use. Raises FaultsError."""
    from hoistwright.faults import Fault, FaultsError, Place

    # the protocol is named: without it asyncio lets small answers wait for 40 ms
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        bound.bind((host, port))
        bound.listen(128)  # who follows the printed link at once waits instead of being refused
    except (OSError, OverflowError) as error:
        said = getattr(error, "strerror", None) or str(error)
        read = f"{host}:{port} ({said})"
        mend = "Another bench may be running already; --port takes another number."
        expected = "a free port of this machine"
        raise FaultsError([Fault(Place(), read, expected, mend)]) from None
    return bound


def _serve(bench: Bench, port: socket.socket) -> int:
    from hoistwright.web.serving import run_bench

    try:
        run_bench(bench, port)
    except KeyboardInterrupt:  # Ctrl-C is how one stops it
        console().print("The bench has stopped. Its record is safe.")
    return 0
