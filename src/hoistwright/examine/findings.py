"""Findings that follow from several verdicts together, or from the data plate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

import attrs

from hoistwright.examine.chain_split import COVERAGE, OVERSTRAIN, ChainSplit, SplitKind
from hoistwright.examine.verdict import Verdict
from hoistwright.hoist.design import Design
from hoistwright.metrology import Outcome


@attrs.frozen(kw_only=True)
class Finding:
    """Something that no single ruling says. `outcome` counts for the hoist: NOT_ESTABLISHED
    where more must be found out first, RENEW where something is known to be bad. It holds the
    release of the hoist until every one of `parts` is renewed; with none, until it is settled.
    """

    title: str
    sentence: str
    next_step: str
    outcome: Outcome = Outcome.NOT_ESTABLISHED
    about: Literal["parts", "identity", "rule"] = "parts"
    """What it questions: parts of the hoist, which hoist this is, or the decision rule."""
    parts: tuple[str, ...] = ()
    """Keys of the parts that it follows from."""


@attrs.frozen(kw_only=True)
class Plate:
    """What the data plate says, as typed; empty or None where nothing was entered."""

    maker: str = ""
    model: str = ""
    rated_load: float | None = None


def findings(
    design: Design,
    verdicts: Sequence[Verdict],
    splits: Sequence[ChainSplit],
    plate: Plate | None,
) -> tuple[Finding, ...]:
    """Overstrain of the chain, an opened hook, an unsafe brake, a plate that contradicts, a
    decision rule that cannot release.
    """
    return (
        *_overstrain(splits),
        *_cause_unknown(splits),
        *_opened_hook(verdicts),
        *_brake(verdicts),
        *(_plate(design, verdicts, plate) if plate else ()),
        *_rule(verdicts),
    )


def _cause_unknown(splits: Sequence[ChainSplit]) -> Iterator[Finding]:
    unclear = [
        item
        for item in splits
        if item.kind is SplitKind.NOT_ESTABLISHED
        and item.elongation > COVERAGE * item.elongation_uncertainty
    ]
    if unclear:
        places = [item.place for item in unclear]
        yield Finding(
            title="Wear or overstrain of the load chain is not established",
            sentence=f"At {', '.join(places)} it is longer than as new, and no usable crown "
            "reading tells whether by wear or by overstrain.",
            next_step="Measure the crowns of these sections along the load.",
            parts=_each(item.part for item in unclear),
        )


def _rule(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    rules = {v.rule.words for v in verdicts if v.measured and not v.rule.can_release}
    if rules:
        yield Finding(
            title="The decision rule cannot release a hoist",
            sentence=f"Verdicts were made by {'; '.join(sorted(rules))}.",
            next_step="Choose a basis with guarded acceptance or a maximum probability.",
            about="rule",
        )


def _overstrain(splits: Sequence[ChainSplit]) -> Iterator[Finding]:
    stretched = [item for item in splits if item.kind in OVERSTRAIN]
    if stretched:
        places = [item.place for item in stretched]
        yield Finding(
            title="The load chain has been overstrained",
            sentence=(
                f"At {', '.join(places)} it is longer than the wear of its crowns can explain; the "
                "rest is permanent stretch."
            ),
            next_step=(
                "Examine hooks, suspension pin, anchor pin, sheave, side plates and brake for "
                "overload before anything goes back; ask how the hoist was used."
            ),
            parts=_each(item.part for item in stretched),
        )


def _opened_hook(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    opened = [v for v in verdicts if v.feature == "hook.throat" and v.outcome is Outcome.RENEW]
    if opened:
        names = _each(v.part_name for v in opened)
        yield Finding(
            title="A hook has opened",
            sentence=f"The throat of the {' and of the '.join(names)} is beyond its limit.",
            next_step=(
                "A hook opens under overload or tip loading: examine the load chain and every "
                "part in the load path for the same event."
            ),
            outcome=Outcome.RENEW,
            parts=_each(v.part for v in opened),
        )


_BRAKE = (
    "friction_disc", "ratchet_disc", "pawl", "pawl_spring", "disc_hub", "changeover_wheel",
)  # fmt: skip
"""Roles that the load brake is made of; the brake thread counts with them."""


def _of_brake(feature: str) -> bool:
    return feature.partition(".")[0] in _BRAKE or feature.startswith("drive_shaft.thread")


def _brake(verdicts: Sequence[Verdict]) -> Iterator[Finding]:
    bad = [v for v in verdicts if _of_brake(v.feature) and v.outcome is Outcome.RENEW]
    if bad:
        yield Finding(
            title="The load brake cannot be relied on",
            sentence=f"To be renewed or put right: {'; '.join(_each(v.title for v in bad))}.",
            next_step=(
                "Do not put any load on this hoist, not even to test it, until the brake is put "
                "right and proved with a light load first."
            ),
            outcome=Outcome.RENEW,
            parts=_each(v.part for v in bad),
        )


def _plate(design: Design, verdicts: Sequence[Verdict], plate: Plate) -> Iterator[Finding]:
    for what, read, known in (
        ("maker", plate.maker, design.identity.maker),
        ("model", plate.model, design.identity.model),
    ):
        if read and known != NOT_KNOWN and not _alike(read, known):
            yield _contradiction(f"The plate states the {what} {read!r}, the design {known!r}.")
    rated = design.rating.rated_load
    if rated is None:
        return
    if plate.rated_load is None:
        if any(v.feature == "data_plate.legible" and v.outcome is Outcome.FIT for v in verdicts):
            yield _contradiction("The plate is legible, but its rated load was not entered.")
    elif abs(plate.rated_load - rated) > 0.03 * rated:  # a long ton is 1.6 % over a tonne
        yield _contradiction(
            f"The plate states a rated load of {plate.rated_load:g} kg; the design "
            f"{design.identity.maker} {design.identity.model} is rated for {rated:g} kg."
        )


NOT_KNOWN = "not known"


def _alike(read: str, known: str) -> bool:
    a, b = ("".join(c for c in text.casefold() if c.isalnum()) for text in (read, known))
    return a in b or b in a


def _each(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))


def _contradiction(sentence: str) -> Finding:
    return Finding(
        title="The data plate and the design disagree",
        sentence=sentence,
        next_step="Establish which hoist this is before any limit is trusted.",
        about="identity",
    )
