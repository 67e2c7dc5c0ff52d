"""What proof and release ask for before a hoist may leave."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.job.stages import Facts, Missing


def prove(facts: Facts) -> Iterator[Missing]:
    if not facts.state.proof_looks:
        sentence = "Nothing is recorded of the proof yet."
        yield Missing(stage="prove", what="proof", sentence=sentence)


def release(facts: Facts) -> Iterator[Missing]:
    if facts.state.exit is None:
        sentence = "Nobody has said how the hoist is to leave."
        yield Missing(stage="release", what="exit", sentence=sentence)
    if facts.state.certificate is None:
        sentence = "No certificate is signed."
        yield Missing(stage="release", what="certificate", sentence=sentence)
