"""A PostgreSQL server of its own in a temporary folder, for tests and figures.

It listens on a loopback port nobody else has, keeps fsync on, and goes with its folder. Needs
Debian's package `postgresql`; as root it runs as the user postgres, which initdb insists on.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
import time
from pathlib import Path

MISSING = (
    "PostgreSQL is needed for this and is not installed: as root, run "
    "'apt-get install postgresql', then run this again."
)

SETTINGS = {
    "listen_addresses": "127.0.0.1",
    "fsync": "on",
    "synchronous_commit": "on",
    "full_page_writes": "on",
    "shared_buffers": "64MB",
    "max_connections": "80",
    "autovacuum": "off",
    "checkpoint_timeout": "30min",
    "max_wal_size": "1GB",
    "log_min_messages": "fatal",
}


def programs() -> Path:
    """The folder of initdb and pg_ctl. Raises RuntimeError where there is none."""
    for folder in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True):
        if (folder / "initdb").exists():
            return folder
    found = shutil.which("initdb")
    if found is None:
        raise RuntimeError(MISSING)
    return Path(found).parent


class ScratchServer:
    """A running server. `fresh()` gives an empty place in it."""

    def __init__(self, folder: Path | None = None) -> None:
        self.bin = programs()
        made = folder or Path(tempfile.mkdtemp(prefix="hoistwright-pg-"))
        self.folder, self._count = made, 0
        if os.geteuid() == 0:
            shutil.chown(made, "postgres", "postgres")
        made.chmod(0o700)
        self.data = made / "data"
        self._run("initdb", "-D", str(self.data), "-U", "postgres", "-A", "trust", "-E", "UTF8",
                  "--locale=C.UTF-8", "-N")  # fmt: skip
        self.port = _free_port()
        lines = [f"{name} = '{value}'" for name, value in SETTINGS.items()]
        lines += [f"port = {self.port}", f"unix_socket_directories = '{made}'"]
        with (self.data / "postgresql.conf").open("a") as file:
            file.write("\n".join(lines) + "\n")
        self.start()

    def start(self) -> None:
        self._run("pg_ctl", "-D", str(self.data), "-w", "-l", str(self.folder / "log"), "start")

    def stop(self, mode: str = "immediate") -> None:
        """Stop it; "immediate" is as if it had been killed."""
        self._run("pg_ctl", "-D", str(self.data), "-w", "-m", mode, "stop", check=False)

    def address(self, database: str = "postgres") -> str:
        return f"postgresql://postgres@127.0.0.1:{self.port}/{database}"

    def fresh(self) -> str:
        """The address of a new, empty schema: as good as a database, and made at once."""
        import psycopg

        self._count += 1
        name = f"shop_{os.getpid()}_{self._count}"
        with psycopg.connect(self.address(), autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA {name}".encode())
        return f"{self.address()}?options=-csearch_path%3D{name}"

    def close(self) -> None:
        self.stop()
        shutil.rmtree(self.folder, ignore_errors=True)

    def _run(self, program: str, *words: str, check: bool = True) -> None:
        command = [str(self.bin / program), *words]
        if os.geteuid() == 0:
            command = ["runuser", "-u", "postgres", "--", *command]
        quiet = subprocess.DEVNULL
        for attempt in range(3):
            done = subprocess.run(
                command, stdout=quiet, stderr=subprocess.PIPE, cwd=self.folder, check=False
            )
            if done.returncode == 0 or not check:
                return
            time.sleep(0.5 * (attempt + 1))
        raise RuntimeError(f"{program} failed: {done.stderr.decode(errors='replace')}")


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])
