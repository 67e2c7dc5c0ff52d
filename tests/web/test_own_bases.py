"""A basis of the shop's own: taken over, adopted, examined by; changed, it is adopted anew."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from bench_client import Visitor, visitor
from bench_live import LiveBench, made_bench
from job_scene import booked_job

from hoistwright.basis.adoption import adoption_state
from hoistwright.basis.loading import shipped_folder
from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.points import points
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.store.connect import reading
from hoistwright.web.bases import basis_named
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.serving import start_bench

KEY = "quay-practice"


def _files() -> dict[str, str]:
    """The shipped basis of common practice under a name of the shop's own."""
    folder = shipped_folder() / "workshop-practice"
    files = {file.name: file.read_text(encoding="utf-8") for file in folder.glob("*.toml")}
    head = files["basis.toml"].replace('key = "workshop-practice"', f'key = "{KEY}"')
    return files | {"basis.toml": head}


def _send(who: Visitor, files: dict[str, str]) -> int:
    sent = [("files", (name, text.encode(), "text/plain")) for name, text in files.items()]
    answer = who.client.post("/bases", data={"_token": who.token()}, files=sent)
    return int(answer.status_code)


@pytest.fixture
def scene(tmp_path: Path) -> LiveBench:
    return LiveBench("", made_bench(tmp_path, jobs=False))


def _asked(basis: Basis) -> int:
    """How many points of the chain the maker and this basis ask for, by the engine alone."""
    design = shipped("ardle-2000")
    wanted = points(design, rulings(design, (basis,), datetime.date.today()))
    here = [point for point in wanted if point.part == "load_chain" and point.stage != "rebuilt"]
    return sum(bool(point.rulings) and not point.reference for point in here)


def _state(scene: LiveBench) -> str:
    basis = basis_named(scene.bench, KEY)
    assert basis is not None
    with reading(scene.bench.engine) as conn:
        shop = shop_of(conn)
    return adoption_state(basis, shop.adoptions, shop.adopters()).word


def test_taken_over_adopted_examined_by_and_adopted_anew_when_changed(scene: LiveBench) -> None:
    cora = visitor(scene.bench, "cora")
    assert _send(cora, _files()) == 303
    assert _state(scene) == "not adopted"
    basis = basis_named(scene.bench, KEY)
    assert basis is not None
    assert basis.digest[:12] in cora.get("/bases").text
    adopted = {"compared_with": "own notes", "compared": "yes", "digest": basis.digest}
    assert cora.post(f"/bases/{KEY}", adopted).status_code == 303
    assert _state(scene) == "adopted"

    job = booked_job(scene, "OWN-1")
    chosen: dict[str, str | list[str]] = {"do": "bases", "bases": [KEY]}
    assert cora.post(f"/jobs/{job}/booking", chosen).status_code == 303
    assert scene.bench.store.state(job).bases == (KEY,)
    look = {"do": "look", "part": "load_chain", "feature": "load_chain.cracks", "place": "",
            "answer": "in order"}  # fmt: skip
    assert cora.post(f"/jobs/{job}/parts/load_chain", look).status_code == 303
    page = cora.get(f"/jobs/{job}/parts/load_chain").text
    assert "no such basis" not in page
    assert f"1 of {_asked(basis)} done" in page

    changed = _files()
    changed["basis.toml"] += "\n# another word\n"
    assert _send(cora, changed) == 303
    assert _state(scene) == "changed since"


@pytest.mark.parametrize(
    "harm",
    [
        {"basis.toml": 'key = "workshop-practice"'},
        {"basis.toml": "no = toml = at all"},
        {"basis.toml": 'key = "../../up"'},
        {"../evil.toml": "x = 1"},
        {"notes.toml": "x = 1"},
    ],
)
def test_what_is_no_basis_is_refused_whole(scene: LiveBench, harm: dict[str, str]) -> None:
    cora = visitor(scene.bench, "cora")
    assert _send(cora, {**_files(), **harm}) == 422
    assert basis_named(scene.bench, KEY) is None
    assert basis_named(scene.bench, "workshop-practice") is not None


def test_only_who_may_adopt_takes_one_over(scene: LiveBench) -> None:
    assert _send(visitor(scene.bench, "tim"), _files()) == 403


def test_a_folder_given_at_the_start_is_taken_over(tmp_path: Path) -> None:
    folder = tmp_path / "bases" / KEY
    folder.mkdir(parents=True)
    for name, text in _files().items():
        (folder / name).write_text(text, encoding="utf-8")
    bench = start_bench(tmp_path / "shop.db", bases=folder.parent)
    assert basis_named(bench, KEY) is not None
    bench.store.close()
    again = start_bench(tmp_path / "shop.db")  # it is in the record now
    assert basis_named(again, KEY) is not None
    again.store.close()
    with pytest.raises(FaultsError, match="no basis in it"):
        start_bench(tmp_path / "other.db", bases=tmp_path)


def test_a_file_in_another_encoding_is_refused_where_it_goes_wrong(scene: LiveBench) -> None:
    """A letter lost without a word could be the one that made a clause another clause."""
    cora = visitor(scene.bench, "cora")
    files = {name: text.encode() for name, text in _files().items()}
    files["basis.toml"] += 'note = "d\xe9j\xe0"\n'.encode("cp1252")
    sent = [("files", (name, data, "text/plain")) for name, data in files.items()]
    answer = cora.client.post("/bases", data={"_token": cora.token()}, files=sent)
    assert answer.status_code == 422
    assert "byte 0xE9, which is not UTF-8" in answer.text
    assert basis_named(scene.bench, KEY) is None
