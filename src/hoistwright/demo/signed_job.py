"""One demo hoist the whole way: booked in, renewed, rebuilt, proved, signed. Invented."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path

import attrs

from hoistwright.certificate.signing import key_files
from hoistwright.certificate.signing.make_keys import make_shop_keys, make_signer_keys
from hoistwright.demo.bench_jobs import Walk
from hoistwright.demo.shop_files import demo_folder
from hoistwright.examine.entries import LookAnswer
from hoistwright.examine.points import Address, points
from hoistwright.hoist.library import shipped
from hoistwright.job.events import Body, StageFinished
from hoistwright.job.events_prove import Hung, ProofLooked, ProofMeasured, TestLoadChosen
from hoistwright.job.events_release import CertificateIssued, ExitChosen
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.proof_load import proposals
from hoistwright.job.shop import Shop
from hoistwright.job.stages import Facts
from hoistwright.job.to_proof import Proof
from hoistwright.prove.criteria import proof_criteria
from hoistwright.prove.sequence import ProofStep
from hoistwright.prove.weight_values import Place, Tackle
from hoistwright.sheet import read_sheet
from hoistwright.store.connect import reading
from hoistwright.web.bench import Bench
from hoistwright.web.leaving import Leaving, sign
from hoistwright.web.records.shop_records import shop_of
from hoistwright.web.shop_keys import keys_of

JOB = "KQ-0405-2"
SERIAL = "AL-5540"
SHEET = "05-seized-pawl.toml"
"""The hoist of this sheet has a twin that is put right and leaves."""
SIGNER = "odile"
KEYS = "demo-keys"
"""Folder of the demo's keys."""
PASSPHRASE = "kittiwake demo"
"""Of all keys of the demo, and told to everybody: they prove nothing."""
YEARS = 15


def make_demo_keys(folder: Path, shop: Shop, day: datetime.date) -> None:
    """Keys for the demo shop, unless the folder has some; valid from `day`."""
    if (folder / key_files.ROOT_KEY).exists():
        return
    keys = make_shop_keys(shop.name, day)
    key_files.write_shop_keys(folder, keys, PASSPHRASE)
    for key in shop.adopters():
        person = shop.person(key)
        if person is not None:
            own = make_signer_keys(keys, shop.name, key, person.name, day, YEARS)
            key_files.write_signer(folder, key, own, PASSPHRASE)


def signed_job(bench: Bench) -> CertificateIssued | None:
    """Walk the hoist through the shop and sign its certificate, once; None where it is there."""
    if bench.keys_folder is None:
        return None
    if bench.store.job(JOB) is not None:
        with reading(bench.engine) as conn:
            make_demo_keys(bench.keys_folder, shop_of(conn), datetime.date(bench.today.year, 1, 1))
        return None
    walk = ready_job(bench)
    day = walk.sheet.work.examined_on
    make_demo_keys(bench.keys_folder, walk.shop, datetime.date(day.year, 1, 1))
    leaving = Leaving(bench=bench, facts=walk.facts(), foretold=False)  # its first visit
    pens = keys_of(bench).opened(SIGNER, PASSPHRASE, PASSPHRASE)
    walk.at = max(leaving.register.as_of or walk.at, walk.at) + datetime.timedelta(minutes=5)
    issued = sign(leaving, SIGNER, pens, walk.at)
    walk.enter([StageFinished(stage="release")])
    return issued


def ready_job(bench: Bench, job: str = JOB, serial: str = SERIAL) -> Walk:
    """The hoist walked so far that only the signature is missing."""
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    walk = Walk(bench, shop, _sheet(shop, job, serial), SIGNER)
    walk.to("prove")
    walk.enter([_test_load(walk.facts())])
    walk.enter(list(_proved(walk.facts())))
    walk.enter([StageFinished(stage="prove"), ExitChosen(exit="released")])
    return walk


def _sheet(shop: Shop, job: str, serial: str) -> JobSheet:
    """The twin's job sheet: what is looked at after the rebuild is in order."""
    sheet = read_sheet(demo_folder() / "sheets" / SHEET, shop=shop)
    after = {p.address for p in points(shipped(sheet.design), ()) if p.stage == "rebuilt"}
    looks = tuple(item for item in sheet.looks if _address(item) not in after)
    good = tuple(
        LookAnswer(part=part, feature=feature, place=place, answer="in order")
        for part, feature, place in sorted(after)
    )
    return attrs.evolve(
        sheet,
        job=job,
        hoist=attrs.evolve(sheet.hoist, serial=serial),
        work=attrs.evolve(sheet.work, complaint="one pawl silent since the winter"),
        looks=(*looks, *good),
    )


def _address(look: LookAnswer) -> Address:
    return look.part, look.feature, look.place


def _proof(facts: Facts) -> Proof:
    assert facts.proof is not None, "the demo hoist has a design"
    return facts.proof


def _test_load(facts: Facts) -> Body:
    proof = _proof(facts)
    assert proof.permitted is not None, "the pawls hold the load: their renewal asks for a test"
    best = proposals(facts.shop, proof.permitted, proof.day, Tackle(), Place())[0]
    hung = tuple(Hung(weight=taken.key, count=taken.count) for taken in best.taken)
    return TestLoadChosen(by="weights", hung=hung)


def _proved(facts: Facts) -> Iterator[Body]:
    """Each step with its figures, then its answer."""
    proof = _proof(facts)
    for step in proof.steps:
        yield from _figures(step, proof)
        if step.look:
            yield ProofLooked(step=step.key, look=step.look, answer="yes", text=step.question)


def _figures(step: ProofStep, proof: Proof) -> Iterator[Body]:
    if "hold" in step.record:
        seconds = proof.needed.hold or float(proof_criteria().hold.least)
        yield ProofMeasured(step=step.key, what="hold time", values=(seconds + 12.0,), unit="s")
    if "pawls heard" in step.record:
        heard = float(proof.design.load_brake.pawls or 2)
        yield ProofMeasured(step=step.key, what="pawls heard", values=(heard,), unit="")
