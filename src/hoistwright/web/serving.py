"""Starting the bench: its database, its shop, the link for the first administrator."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from pathlib import Path

from hoistwright.store.connect import reading, writing
from hoistwright.store.sql_store import open_store
from hoistwright.web.bench import Bench, open_bench
from hoistwright.web.records.accounts import administrators, all_accounts
from hoistwright.web.records.invitations import FIRST, invite
from hoistwright.web.records.settings import setting
from hoistwright.web.records.shop_records import import_shop


def start_bench(
    where: str | Path,
    *,
    shop: Path | None = None,
    demo: bool = False,
    keys: Path | None = None,
    keys_passphrase: str = "",
) -> Bench:
    """Open the bench on a database. The shop file is taken over at the first start only.

    `keys` is the folder of the shop's signing keys; `keys_passphrase` opens the shop's own.

    Raises FaultsError for a shop file that cannot be used, StoreError, ValueError.
    """
    store = open_store(where)
    folder = Path(tempfile.mkdtemp(prefix="hoistwright-designs-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    bench = open_bench(
        store,
        designs_folder=folder,
        demo=demo,
        keys_folder=keys,
        keys_passphrase=keys_passphrase,
    )
    with writing(bench.engine) as conn:
        if shop is not None and not setting(conn, "shop name"):
            import_shop(conn, shop)
    return bench


def first_link(bench: Bench) -> str:
    """The path of a one-time link that makes an administrator; empty where there is one."""
    with reading(bench.engine) as conn:
        if administrators(all_accounts(conn)):
            return ""
    with writing(bench.engine) as conn:
        return f"/first/{invite(conn, FIRST, bench.now())}"
