"""Keys for signing: the printed command works as it stands, and whoever joins a demo has a key."""

from __future__ import annotations

import html
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from bench_client import visitor
from release_bench import READY, signing_bench

from hoistwright.cli.main import main
from hoistwright.demo.signed_job import PASSPHRASE, signed_job
from hoistwright.store.connect import reading
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import find_account
from hoistwright.web.shop_keys import give_demo_keys, keys_of


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = signing_bench(tmp_path, READY)
    yield made
    made.store.close()


def test_the_printed_command_makes_a_key_with_the_passphrases_that_the_page_names(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = html.unescape(visitor(bench, "cora").get(f"/jobs/{READY}/release").text)
    found = re.search(r"<pre>(hoistwright keys make .*?)</pre>", page, re.S)
    assert found is not None
    names = re.findall(r"HOISTWRIGHT_\w+", page)
    assert len(names) == 2
    for name in names:
        monkeypatch.setenv(name, PASSPHRASE)
    assert main(shlex.split(found[1])[1:]) == 0
    assert keys_of(bench).opened("cora", PASSPHRASE).signer is not None


def test_in_a_demo_every_competent_person_has_a_key_that_opens(bench: Bench) -> None:
    demo = attrs.evolve(bench, demo=True)
    assert not keys_of(demo).has_signer("cora")
    give_demo_keys(demo)
    assert keys_of(demo).opened("cora", PASSPHRASE).signer is not None


def test_a_shop_that_is_no_demo_gives_nobody_a_key(bench: Bench) -> None:
    give_demo_keys(attrs.evolve(bench, demo=False))
    assert not keys_of(bench).has_signer("cora")


def test_a_demo_that_lost_its_keys_gets_new_ones(tmp_path: Path) -> None:
    bench = attrs.evolve(signing_bench(tmp_path, keys=False), demo=True)
    assert signed_job(bench) is not None
    for file in (tmp_path / "keys").iterdir():
        file.unlink()
    signed_job(bench)
    assert keys_of(bench).ready
    assert keys_of(bench).has_signer("odile")
    bench.store.close()


def test_who_is_competent_without_a_qualification_is_told_where_it_is_stated(bench: Bench) -> None:
    from hoistwright.store.connect import writing
    from hoistwright.web.records.accounts import change_account

    with reading(bench.engine) as conn:
        odile = find_account(conn, "odile")
    assert odile is not None
    with writing(bench.engine) as conn:
        change_account(conn, attrs.evolve(odile, qualification=""))
    page = visitor(bench, "odile").get(f"/jobs/{READY}/release").text
    assert "qualification is not stated" in page
    assert 'href="#refused' not in page
    assert 'class="great"' not in page.split('id="sign"')[1].split("</section>")[0]
    assert "administrator" in visitor(bench, "odile").get("/me").text
