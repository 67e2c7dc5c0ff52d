"""A bare app of the bench's framework: it reads a form and inserts one row durably. No more.

The database's own driver, one statement, one commit on disk; on a thread, as the framework's
documentation advises for what waits on a disk. No session, no token, no verdict, no page.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

Insert = Callable[[str, str, float], None]


def serve_bare(told: Connection, where: str) -> None:
    """Serve it at a free port of this machine, which is told."""
    import gc

    import uvicorn
    from served_bench import free_port

    app = bare_app(_insert(where))
    gc.freeze()
    with free_port() as port:
        told.send((port.getsockname()[1], "", ()))
        uvicorn.Server(uvicorn.Config(app, log_level="warning")).run(sockets=[port])


def bare_app(insert: Insert) -> Starlette:
    async def take(request: Request) -> Response:
        form = await request.form()
        row = str(form["id"]), str(form["place"]), float(str(form["value"]))
        await run_in_threadpool(insert, *row)
        return JSONResponse({"entered": row[0]})

    return Starlette(routes=[Route("/", take, methods=["POST"])])


def _insert(where: str) -> Insert:
    return _postgresql(where) if "://" in where else _sqlite(where)


def _sqlite(where: str) -> Insert:
    bare = sqlite3.connect(where, isolation_level=None, check_same_thread=False)
    for words in ("PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL", _TABLE):
        bare.execute(words)
    return _one_at_a_time(lambda row: bare.execute("INSERT INTO saved VALUES (?, ?, ?)", row))


def _postgresql(where: str) -> Insert:
    import psycopg

    bare = psycopg.connect(where, autocommit=True)
    bare.execute("SET synchronous_commit = on")
    bare.execute(_TABLE.replace("REAL", "DOUBLE PRECISION").encode())
    return _one_at_a_time(lambda row: bare.execute("INSERT INTO saved VALUES (%s, %s, %s)", row))


_TABLE = "CREATE TABLE saved (id TEXT PRIMARY KEY, place TEXT, value REAL)"


def _one_at_a_time(insert: Callable[[Any], object]) -> Insert:
    lock = threading.Lock()

    def held(id_: str, place: str, value: float) -> None:
        with lock:
            insert((id_, place, value))

    return held
