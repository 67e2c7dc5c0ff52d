"""What a quote asks for before the rebuild: the customer's answer, and nothing without it."""

from __future__ import annotations

from collections.abc import Iterator

from hoistwright.hoist.design import Design
from hoistwright.job.stages import Facts, Missing
from hoistwright.strip.plan import with_companions


def quote_answer(facts: Facts) -> Iterator[Missing]:
    """What is missing of a quote that was made. A job without a quote needs no answer."""
    quoted, design = facts.state.quoted, facts.design
    if quoted is None or design is None:
        return
    answer = facts.state.answered
    if answer is None:
        yield _say(
            "quote answer",
            f"Quote {quoted.number} has no answer yet: enter what the customer said.",
        )
        return
    agreed = _whole(design, answer.agreed)
    declined = [key for key in quoted.must if key not in agreed]
    for key in declined:
        yield _say(
            "declined",
            f"{design.part(key).name}: must be renewed, and the customer declined it. The hoist "
            "can only be returned unrepaired: choose that under Release, or enter a new answer.",
            key,
        )
    yield from _differences(facts, design, agreed, set(declined))


def _differences(
    facts: Facts, design: Design, agreed: set[str], declined: set[str]
) -> Iterator[Missing]:
    for key in facts.renewed:
        part = design.part(key)
        if key not in agreed | declined and part.renewal != "always":
            yield _say(
                "not agreed",
                f"{part.name}: chosen, but not agreed with the customer. Leave it in, or ask them "
                "and enter their answer anew.",
                key,
            )
    chosen = set(facts.renewed)
    for part in design.parts:
        if part.key in agreed - chosen:
            yield _say(
                "agreed", f"{part.name}: agreed with the customer. Choose it, too.", part.key
            )


def _whole(design: Design, keys: tuple[str, ...]) -> set[str]:
    """Parts agreed to, with those that are renewed together with them."""
    known = {part.key for part in design.parts}
    return set(with_companions(design, [key for key in keys if key in known]))


def _say(what: str, sentence: str, part: str = "") -> Missing:
    return Missing(stage="renew", what=what, sentence=sentence, address=(part, "", ""))
