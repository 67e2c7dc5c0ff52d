"""What rules over each feature of a design on a day: the maker's limit or a basis's, and why.

The rule: a maker's limit stands before a general one, unless the basis is stricter and says
that it governs. Whatever does not stand is kept beside it, to be shown. Limits of different
comparisons (at least 7.4 mm; loss of at most 10 %) cannot be set against each other without
the as-new value: both rule, and the worse verdict wins.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Literal

import attrs

from hoistwright.basis.feature_names import feature_names
from hoistwright.basis.limit_value import Side, criterion_limit, limit_si, side_of
from hoistwright.basis.model import Applies, Basis, Known
from hoistwright.faults import Fault, FaultsError, Place
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import is_measured, measure
from hoistwright.hoist.limits import Comparison, MakerLimit
from hoistwright.hoist.parts import Part
from hoistwright.quantity import Length, QuantityError

_LENGTHENING = {"elongation", "rise from as new"}

Of = Literal["each", "mean of directions", "smallest"]


@attrs.frozen(kw_only=True)
class Statement:
    """One limit as one source states it: a maker's, or a criterion's of a basis."""

    by: Literal["maker", "basis"]
    basis: str = ""
    criterion: str = ""
    title: str
    feature: str
    comparison: Comparison
    limit_si: float | None
    limit_text: str
    of: Of = "each"
    source: str
    """Title of the source (for a maker, where the design file says it is stated)."""
    source_key: str = ""
    clause: str = ""
    edition: str = ""
    known: Known | Literal["maker"]
    since: datetime.date | None = None
    by_analogy: str = ""
    note: str = ""
    action: str = ""
    governs_when_stricter: bool = False
    gauge_from: Length | None = None
    gauge_to: Length | None = None
    gauge_links: int | None = None


@attrs.frozen(kw_only=True)
class Ruling:
    """The limit that one part's feature is judged by.

    `id` is stable: part, then the criterion's id, or "maker", feature and comparison.
    `limit_si` is in SI (a share for elongation, rise and loss from as new), None for a look.
    `side` says where the limit stands to what is judged: "upper" for elongation, rise, loss
    and at most; "lower" for at least; "none" for a look.
    """

    id: str
    part: str
    stands: Statement
    shown_besides: tuple[Statement, ...] = ()
    why: str

    @property
    def feature(self) -> str:
        return self.stands.feature

    @property
    def comparison(self) -> Comparison:
        return self.stands.comparison

    @property
    def limit_si(self) -> float | None:
        return self.stands.limit_si

    @property
    def limit_text(self) -> str:
        return self.stands.limit_text

    @property
    def side(self) -> Side:
        return side_of(self.stands.comparison)

    @property
    def of(self) -> Of:
        return self.stands.of

    @property
    def source(self) -> str:
        return self.stands.source

    @property
    def clause(self) -> str:
        return self.stands.clause

    @property
    def edition(self) -> str:
        return self.stands.edition

    @property
    def known(self) -> Known | Literal["maker"]:
        return self.stands.known

    @property
    def action(self) -> str:
        return self.stands.action


@attrs.frozen(kw_only=True)
class Unruled:
    """A feature of the catalogue over which neither the maker nor a basis rules."""

    part: str
    feature: str
    name: str
    measured: bool


def rulings(design: Design, bases: Sequence[Basis], day: datetime.date) -> tuple[Ruling, ...]:
    """Every ruling over `design` on `day`, by part, then in the catalogue's order.

    Each basis is applied in full and keeps its own source: no basis borrows a figure from
    another. Raises FaultsError where a limit in the design file cannot be read.
    """
    faults = maker_limit_faults(design)
    if faults:
        raise FaultsError(faults)
    stated = [s for basis in bases for s in statements(design, basis, day)]
    return tuple(
        ruling
        for part in design.parts
        for feature in _features(part)
        for ruling in _over(part, feature, design, stated)
    )


def unruled_features(
    design: Design, bases: Sequence[Basis], day: datetime.date
) -> tuple[Unruled, ...]:
    """The features of the design's parts over which nothing rules on `day`."""
    ruled = {(ruling.part, ruling.feature) for ruling in rulings(design, bases, day)}
    return tuple(
        Unruled(part=part.key, feature=feature, name=_name(feature), measured=is_measured(feature))
        for part in design.parts
        for feature in _features(part)
        if (part.key, feature) not in ruled
    )


def statements(design: Design, basis: Basis, day: datetime.date) -> tuple[Statement, ...]:
    """What `basis` states on `day` for a hoist of this design; number checks left out."""
    kinds = basis.head.for_kinds
    if kinds and design.identity.kind not in kinds:
        return ()
    return tuple(_stated(basis, design, day))


def maker_limit_faults(design: Design) -> list[Fault]:
    """Every maker's limit whose figure does not fit its feature and comparison."""
    faults: list[Fault] = []
    for limit in design.maker_limits:
        try:
            _maker_si(limit)
        except QuantityError as error:
            place = Place(file=f"{design.key}.toml", key=f"maker_limits[{limit.feature}].limit")
            faults.append(Fault(place, error.read, error.expected, error.mend))
    return faults


def _stated(basis: Basis, design: Design, day: datetime.date) -> Iterator[Statement]:
    titles = {source.key: source.title for source in basis.sources}
    for criterion in basis.criteria:
        found = criterion_limit(criterion, day)
        if found is None or criterion.use != "decides" or not _applies(criterion.applies, design):
            continue
        dated = found.dated
        yield Statement(
            by="basis",
            basis=basis.key,
            criterion=criterion.id,
            title=criterion.title,
            feature=criterion.feature,
            comparison=criterion.comparison,
            limit_si=found.si,
            limit_text=dated.value,
            of=criterion.of,
            source=titles[dated.source],
            source_key=dated.source,
            clause=dated.clause,
            edition=dated.edition,
            known=dated.known,
            since=dated.since,
            by_analogy=criterion.by_analogy,
            note=dated.note,
            action=criterion.action,
            governs_when_stricter=basis.head.governs_when_stricter,
            gauge_from=criterion.gauge_from,
            gauge_to=criterion.gauge_to,
            gauge_links=criterion.gauge_links,
        )


def _applies(applies: Applies, design: Design) -> bool:
    """An unknown grade or number of falls does not excuse a hoist from a criterion."""
    grade, falls = design.load_chain.grade, design.rating.falls
    return (
        (not applies.kinds or design.identity.kind in applies.kinds)
        and (not applies.chain_grades or grade is None or grade in applies.chain_grades)
        and (falls is None or falls >= applies.falls_at_least)
    )


def _features(part: Part) -> tuple[str, ...]:
    return tuple(f"{part.role}.{key}" for key in feature_names(part.role))


def _name(feature: str) -> str:
    role, _, key = feature.partition(".")
    return feature_names(role)[key]


def _over(
    part: Part, feature: str, design: Design, stated: Sequence[Statement]
) -> Iterator[Ruling]:
    general = [s for s in stated if s.feature == feature]
    makers = [_makers(limit, design, general) for limit in _makers_limits(design, part, feature)]
    groups: dict[tuple[str, str], list[Statement]] = {}
    for statement in (*makers, *general):
        groups.setdefault(_group(statement, makers), []).append(statement)
    for group in groups.values():
        yield _ruling(part, group)


def _group(statement: Statement, makers: Sequence[Statement]) -> tuple[str, str]:
    """What `statement` can be set against: same comparison, same way of taking directions.

    A chain's elongation (by n p) and its rise (by n p + 2 d) are the same lengthening told in
    two ways: a maker's figure in either stands before a general one in the other.
    """
    for maker in makers:
        told = {maker.comparison, statement.comparison}
        if told == _LENGTHENING and not statement.governs_when_stricter:
            return maker.comparison, statement.of
    return statement.comparison, statement.of


def _makers_limits(design: Design, part: Part, feature: str) -> Iterator[MakerLimit]:
    for limit in design.maker_limits:
        if limit.feature == feature and limit.part in ("", part.key):
            yield limit


def _makers(limit: MakerLimit, design: Design, general: Sequence[Statement]) -> Statement:
    return Statement(
        by="maker",
        title=f"{_name(limit.feature)}, maker's limit",
        feature=limit.feature,
        comparison=limit.comparison,
        limit_si=_maker_si(limit),
        limit_text=limit.limit,
        of=_maker_of(limit, general),
        source=limit.source,
        edition=f"design file {design.key}",
        known="maker",
        action=limit.action,
    )


def _maker_of(limit: MakerLimit, general: Sequence[Statement]) -> Of:
    """A maker's limit does not say how directions are taken together: as the bases do."""
    ways = {s.of for s in general if s.comparison == limit.comparison}
    return ways.pop() if len(ways) == 1 else "each"


def _maker_si(limit: MakerLimit) -> float | None:
    if limit.comparison == "in order":
        return None
    return limit_si(limit.limit, limit.comparison, measure(limit.feature))


def _ruling(part: Part, group: Sequence[Statement]) -> Ruling:
    """The one of `group` (same feature, comparison and way of taking it) that stands."""
    stands = _strictest([s for s in group if s.by == "maker"] or group)
    if stands.by == "maker":
        governing = [s for s in group if s.governs_when_stricter]
        stands = _strictest([stands, *governing])
    besides = tuple(s for s in group if s is not stands)
    return Ruling(
        id=f"{part.key}/{_own_id(stands)}",
        part=part.key,
        stands=stands,
        shown_besides=besides,
        why=_why(stands, besides),
    )


def _strictest(group: Sequence[Statement]) -> Statement:
    """The first of the strictest. Looks are all alike: the first."""
    sign = -1.0 if side_of(group[0].comparison) == "lower" else 1.0
    return min(group, key=lambda s: 0.0 if s.limit_si is None else sign * s.limit_si)


def _own_id(statement: Statement) -> str:
    if statement.by == "basis":
        return statement.criterion
    return f"maker/{statement.feature}/{statement.comparison.replace(' ', '-')}"


def _why(stands: Statement, besides: Sequence[Statement]) -> str:
    others = ", ".join(_named(s) for s in besides)
    if stands.by == "maker":
        return "The maker's limit stands" + (f" before {others}." if others else ".")
    if not besides:
        return f"{_named(stands)} rules; the maker states no limit of this kind."
    if any(s.by == "maker" for s in besides):
        return f"{_named(stands)} is stricter than {others} and says that it governs."
    if stands.limit_si is None:
        return f"{_named(stands)} asks for this look; so does {others}."
    return f"{_named(stands)} is the strictest; beside it: {others}."


def _named(statement: Statement) -> str:
    who = "the maker" if statement.by == "maker" else statement.criterion
    return f"{who} ({statement.limit_text})" if statement.limit_text else who
