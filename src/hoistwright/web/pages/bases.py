"""The bases, and one basis: its criteria, and adopting it."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.responses import Response

from hoistwright.basis.adoption import Adoption, AdoptionState, adopt, adoption_state
from hoistwright.basis.loading import shipped_bases
from hoistwright.basis.model import Basis, limit_on
from hoistwright.faults import FaultsError
from hoistwright.job.shop import Shop
from hoistwright.language import marked
from hoistwright.sheet.text import decoded
from hoistwright.store.connect import reading, writing
from hoistwright.web.bases import (
    MOST_BYTES,
    bases_named,
    basis_keys,
    basis_named,
    take_basis,
)
from hoistwright.web.fault_words import fault_words
from hoistwright.web.forms import Form
from hoistwright.web.page import Page
from hoistwright.web.records.shop_records import keep_adoption, shop_of
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit

KNOWN = {
    "read": marked("text read"),
    "memory": marked("from memory"),
    "practice": marked("common practice"),
}
WORDS = {
    "adopted": marked("adopted"),
    "changed since": marked("changed since it was adopted"),
    "not adopted": marked("not adopted"),
    "person not entitled": marked("adopted by somebody who may not"),
}


def show_all(visit: Visit, wrong: Sequence[str] = ()) -> Response:
    with reading(visit.bench.engine) as conn:
        shop = shop_of(conn)
    bases = bases_named(visit.bench, basis_keys(visit.bench))
    states = [_state(visit, basis, shop) for basis in bases]
    return visit.page(
        "bases.html",
        status=422 if wrong else 200,
        bases=list(zip(bases, states, strict=True)),
        own={*basis_keys(visit.bench)} - {*shipped_bases()},
        words=WORDS,
        wrong=wrong,
    )


async def take_own(visit: Visit) -> Response:
    """Take the files of a basis of the shop's own over."""
    from starlette.concurrency import run_in_threadpool

    files = {}
    for sent in visit.uploads("files"):
        files[sent.filename or ""] = await sent.read(MOST_BYTES + 1)
    return await run_in_threadpool(_take_own, visit, files)


def _take_own(visit: Visit, files: dict[str, bytes]) -> Response:
    try:
        texts = {name: decoded(data, file=name[:80]) for name, data in files.items()}
        basis = take_basis(visit.bench, texts, by=visit.person.key)
    except FaultsError as error:
        return show_all(visit, [fault_words(fault, visit.language) for fault in error.faults])
    visit.tell(
        visit.say(
            "%(basis)s was taken over. Nothing is released on it before it is adopted.",
            basis=basis.head.title,
        )
    )
    return visit.go("basis", basis=basis.key)


def show(visit: Visit) -> Response:
    return _page(visit, Form(visit))


def take(visit: Visit) -> Response:
    """Adopt the basis as it stands."""
    basis = _basis(visit)
    form = Form(visit)
    compared = form.text(
        "compared_with",
        needed=visit.say(
            "Name the copies that lay beside our figures, with their editions, such as: own copy "
            "of the standard, edition 2022."
        ),
        most=1000,
    )
    if visit.field("digest") != basis.digest:
        form.wrong(
            "compared",
            visit.say("The basis has changed since this page was loaded. Compare it again."),
        )
    if visit.field("compared") != "yes":
        form.wrong("compared", visit.say("Say that you have compared every figure yourself."))
    if not form.sound:
        return _page(visit, form, 422)
    adoption = adopt(
        basis,
        by=visit.person.key,
        on=visit.bench.today,
        compared_with=compared,
        competent=(visit.person.key,),
    )
    with writing(visit.bench.engine) as conn:
        keep_adoption(conn, adoption)
    visit.tell(visit.say("%(basis)s is adopted.", basis=visit.say(basis.head.title)))
    return visit.go("basis", basis=basis.key)


def _page(visit: Visit, form: Form, status: int = 200) -> Response:
    basis = _basis(visit)
    with reading(visit.bench.engine) as conn:
        shop = shop_of(conn)
    state = _state(visit, basis, shop)
    return visit.page(
        "basis.html",
        status=status,
        basis=basis,
        form=form,
        state=state,
        word=WORDS[state.word],
        adopter=_name(shop, state.adoption),
        criteria=[(c, limit_on(c, visit.bench.today)) for c in basis.criteria],
        sources={source.key: source for source in basis.sources},
        known=KNOWN,
    )


def _basis(visit: Visit) -> Basis:
    key = visit.part("basis")
    found = basis_named(visit.bench, key) if len(key) <= 80 else None
    if found is None:
        raise Refused(
            404,
            visit.say("There is no such basis here."),
            visit.say("The page of bases lists all there are."),
        )
    return found


def _state(visit: Visit, basis: Basis, shop: Shop) -> AdoptionState:
    return adoption_state(basis, shop.adoptions, shop.adopters(), day=visit.bench.today)


def _name(shop: Shop, adoption: Adoption | None) -> str:
    if adoption is None:
        return ""
    person = shop.person(adoption.by)
    return person.name if person else adoption.by


PAGES = (
    Page(name="bases", path="/bases", show=show_all, take=take_own, do="adopt"),
    Page(name="basis", path="/bases/{basis}", show=show, take=take, do="adopt"),
)
