"""The proof at the test stand: which tests, which load, step by step, what was found."""

from __future__ import annotations

import functools

import attrs
from starlette.responses import Response

from hoistwright.job.stages import Facts
from hoistwright.job.to_proof import Proof
from hoistwright.prove.tests_needed import STATED
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import Case
from hoistwright.web.pages.job.entering import shown, taking
from hoistwright.web.pages.job.frame import framed, missing_lines
from hoistwright.web.pages.job.prove_found import FOUND_WORDS, finding_lines, suspected
from hoistwright.web.pages.job.prove_load import load_cells, load_view, mass
from hoistwright.web.pages.job.prove_series import series_lines, texts_of
from hoistwright.web.pages.job.prove_steps import step_views
from hoistwright.web.pages.job.prove_tests import test_lines
from hoistwright.web.pages.job.question import Question


def show_page(case: Case, question: Question | None) -> Response:
    """The whole page; a form with a question raised is shown again with it."""
    case.needed_design()
    proof = proof_with_pulls(case)
    steps = step_views(case, proof)
    found = finding_lines(case, proof)
    query = case.visit.request.url.query
    return framed(
        case,
        "prove.html",
        "prove",
        question,
        missing=missing_lines(case, "prove"),
        proof=proof,
        needed=proof.needed,
        why_tests=case.visit.language.sentence(proof.needed.why),
        warnings=[case.visit.language.sentence(text) for text in proof.needed.warnings],
        tests=test_lines(case, proof),
        stated=case.state.settled.get(("", STATED)),
        settles=case.visit.person.key in case.shop.adopters(),
        load=load_view(case, proof),
        weights=case.shop.test_weights,
        mass=lambda value: mass(case, value),
        pull_cells=load_cells(case, fine=True),
        steps=steps,
        next_step=next((view for view in steps if not view.done), None),
        begun=bool(proof.told.looks or proof.told.measured),
        found=found,
        outcome=proof.result.outcome.words,
        found_words=FOUND_WORDS,
        suspected=suspected(case, proof),
        series=series_lines(case, proof),
        at=case.visit.request.url.path + (f"?{query}" if query else ""),
    )


def proof_with_pulls(case: Case) -> Proof:
    """The proof of the facts, with the pulls over time that the store has."""
    facts: Facts = case.facts
    proof = facts.proof
    assert proof is not None
    texts = texts_of(case)
    return _with(proof, tuple(texts.items())) if texts else proof


@functools.lru_cache(maxsize=16)
def _with(proof: Proof, texts: tuple[tuple[str, str], ...]) -> Proof:
    """Once for each state of a job: the diagnosis is not worked out anew for each look."""
    return attrs.evolve(proof, texts=dict(texts))


PAGES = (Page(name="job-prove", path="/jobs/{job}/prove", show=shown(show_page),
              take=taking(show_page)),)  # fmt: skip
