"""What is kept for a second: thrown away by one's own writing, asked again after it."""

from __future__ import annotations

from pathlib import Path

import pytest
from bench_client import visitor
from bench_live import made_bench

from hoistwright.store.connect import writing
from hoistwright.web import kept
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import Account, change_account, find_account
from hoistwright.web.records.sessions import end_sessions_of
from hoistwright.web.records.settings import keep_setting
from hoistwright.web.serving import start_bench


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return made_bench(tmp_path, jobs=False)


def test_who_is_put_out_is_out_at_the_next_request(bench: Bench) -> None:
    cora, tim = visitor(bench, "cora"), visitor(bench, "tim")
    assert cora.get("/me").status_code == tim.get("/me").status_code == 200
    with writing(bench.engine) as conn:
        end_sessions_of(conn, "cora")
        account = find_account(conn, "tim")
        assert isinstance(account, Account)
        account = Account(key="tim", name="Tim", roles=account.roles, active=False)
        change_account(conn, account)
    assert cora.get("/me").status_code == tim.get("/me").status_code == 303


def test_another_bench_on_the_record_is_heard_of_within_the_time(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "LONGEST", 0.0)
    before = bench.shop_name
    other = start_bench(tmp_path / "bench.db")
    with writing(other.engine) as conn:
        keep_setting(conn, "shop name", "Another name")
    assert before != "Another name"
    assert bench.shop_name == "Another name"
    other.store.close()


def test_nothing_is_kept_longer_than_a_second() -> None:
    assert kept.LONGEST <= 1.0
