"""Which tests a job needs, from what was renewed and what the bases ask for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Literal

import attrs

from hoistwright.basis.model import BasisHead, Known, LoadTest
from hoistwright.hoist.design import Kind
from hoistwright.prove.settled import Settled, Stated, settle
from hoistwright.prove.tests_data import CARRIES_NOTHING, LIFTING_MEDIUM, Occasion, proof_data

TestKind = Literal["function test", "brake test", "load test"]
Extent = Literal["functional only", "rated-load test", "proof load", "not established"]
Work = Literal["renewed", "repaired", "altered"]


@attrs.frozen(kw_only=True)
class Done:
    """What was done to one part."""

    part: str
    role: str = ""
    name: str = ""
    work: Work = "renewed"

    @property
    def words(self) -> str:
        return f"{self.name or self.part} {self.work}"


@attrs.frozen(kw_only=True)
class AskedTest:
    """One test of a basis: whether this job needs it (None: nobody has said), and why.

    Loads are shares of the rated load, `hold` is in seconds; None where none is stated.
    """

    name: str
    kind: TestKind
    needed: bool | None
    why: str
    load_from: float | None
    load_to: float | None
    hold: float | None
    basis: str
    source: str
    clause: str
    edition: str
    known: Known
    note: str = ""


@attrs.frozen(kw_only=True)
class NeededTests:
    """What has to be proved. `band` is the share of the rated load that serves every load test."""

    extent: Extent
    why: str
    band: tuple[float, float] | None
    hold: float
    """The longest hold that a needed test states, s; 0 where none does."""
    asked: tuple[AskedTest, ...]
    warnings: tuple[str, ...] = ()

    @property
    def needed(self) -> tuple[AskedTest, ...]:
        return tuple(test for test in self.asked if test.needed)

    @property
    def unsettled(self) -> tuple[AskedTest, ...]:
        """Tests of which a competent person must say whether they apply."""
        return tuple(test for test in self.asked if test.needed is None)


@attrs.frozen(kw_only=True)
class _Sorted:
    """The work by what it means for proving."""

    sustaining: tuple[str, ...]
    medium: tuple[str, ...]


def needed_tests(
    done: Sequence[Done],
    bases: Sequence[BasisHead],
    kind: Kind,
    *,
    marine_cargo_gear: bool = False,
    new: bool = False,
    rated_load: float | None = None,
    settled: Mapping[tuple[str, str], Settled] = MappingProxyType({}),
    stated: Stated | None = None,
) -> NeededTests:
    """Which tests the work done asks for, by every basis of the job.

    extent = proof load, if a needed load test asks for more than 100 %; rated-load test, if
    one asks for 100 %; functional only, if none is needed; not established, if load-sustaining
    work was done and no basis says what then, or if two tests leave no common load

    Args:
        done: the parts renewed, repaired or altered, each with its role.
        bases: heads of the job's bases.
        kind: hand chain hoist or lever hoist.
        marine_cargo_gear: whether the hoist is used as marine cargo gear.
        new: whether the hoist is new and not yet put to use.
        rated_load: kg; some tests are for some rated loads only.
        settled: what a competent person said of a test, by basis and name of the test.
        stated: a load test that a competent person asks for beside those of the bases.

    Returns:
        Every test of the bases with needed or not and the reason, the common band as shares of
        the rated load, the longest hold in s. A part in no list counts as load-sustaining.

    Raises:
        ValueError: no basis given.

    >>> from hoistwright.basis.loading import shipped_basis
    >>> head = shipped_basis("b30-hand-hoists").head
    >>> chain = Done(part="load_chain", role="load_chain")
    >>> needed_tests([chain], [head], "hand chain hoist").extent
    'functional only'
    >>> hook = Done(part="top_hook", role="hook")
    >>> needed_tests([chain, hook], [head], "hand chain hoist").band
    (1.0, 1.25)

    References:
        ASME B30.16, 16-2.2 (100 to 125 % after repair; not for the load chain alone), from
        memory; ASME HST-3-2017, load tests, read. Each figure stands in its basis file.
    """
    if not bases:
        raise ValueError("bases: given none; expected the bases that the job is judged by.")
    work = _sorted(done)
    occasions = _occasions(work, marine_cargo_gear, new)
    asked = tuple(
        settle(_asked(test, head.key, occasions, rated_load), settled)
        for head in bases
        for test in head.load_test
        if not test.for_kinds or kind in test.for_kinds
    )
    asked = (*asked, _stated(stated)) if stated else asked
    return _gathered(asked, work, marine_cargo_gear or new)


STATED = "load test that a competent person asks for"


def _stated(stated: Stated) -> AskedTest:
    return AskedTest(
        name=STATED, kind="load test", needed=True, load_from=stated.load_from,
        load_to=stated.load_to, hold=stated.hold, basis="", source=stated.by,
        clause="competent person", edition="", known="practice",
        why=f"{stated.by} asks for it" + (f": {stated.reason}" if stated.reason else ""),
    )  # fmt: skip


def _sorted(done: Sequence[Done]) -> _Sorted:
    sustaining, medium = [], []
    for one in done:
        group = proof_data().group_of(one.part, one.role)
        if group is None:
            sustaining.append(f"{one.words} (in no list of parts: taken as load-sustaining)")
        elif group.name == LIFTING_MEDIUM and one.work == "renewed":
            medium.append(one.words)
        elif group.name != CARRIES_NOTHING or one.work == "altered":
            sustaining.append(one.words)
    return _Sorted(sustaining=tuple(sustaining), medium=tuple(medium))


def _occasions(work: _Sorted, marine: bool, new: bool) -> dict[Occasion, str]:
    """The occasions that this job is, each with its reason."""
    found: dict[Occasion, str] = {"every rebuild": "done at every rebuild"}
    if work.sustaining:
        found["load-sustaining work"] = "load-sustaining work: " + ", ".join(work.sustaining)
    elif work.medium:
        found["lifting medium only"] = "of what carries the load, only " + ", ".join(work.medium)
    if marine:
        found["marine cargo gear"] = "used as marine cargo gear"
    if new:
        found["new hoist"] = "new hoist"
    return found


def _asked(
    test: LoadTest, basis: str, occasions: dict[Occasion, str], rated: float | None
) -> AskedTest:
    occasion = proof_data().occasion_of(test.when)
    needed, why = _whether(test, occasion, occasions)
    size = proof_data().size_of(basis, test.name)
    if needed and size is not None and rated is None:
        needed, why = None, "the rated load is not known, and the test goes by it"
    elif needed and size is not None and rated is not None and not size.holds(rated):
        needed, why = False, f"not for a rated load of {rated:g} kg"
    return AskedTest(
        name=test.name,
        kind=_kind(test, occasion),
        needed=needed,
        why=why,
        load_from=_float(test.load_from),
        load_to=_float(test.load_to),
        hold=_float(test.hold),
        basis=basis,
        source=test.source,
        clause=test.clause,
        edition=test.edition,
        known=test.known,
        note=test.note,
    )


def _whether(
    test: LoadTest, occasion: Occasion | None, occasions: dict[Occasion, str]
) -> tuple[bool | None, str]:
    if occasion is None:
        return None, f"a competent person must say whether this job is: {test.when}"
    return occasion in occasions, occasions.get(occasion, f"this job is not: {test.when}")


def _kind(test: LoadTest, occasion: Occasion | None) -> TestKind:
    if occasion == "every rebuild":
        return "brake test"
    return "function test" if test.load_from is None else "load test"


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)


def _gathered(asked: tuple[AskedTest, ...], work: _Sorted, special: bool) -> NeededTests:
    loads = [test for test in asked if test.needed and test.kind == "load test"]
    hold = max((test.hold or 0.0 for test in asked if test.needed), default=0.0)
    if not loads:
        extent, why = _without_load(work, special)
        return NeededTests(extent=extent, why=why, band=None, hold=hold, asked=asked)
    band, warnings = _band(loads)
    extent = "not established" if band is None else _extent(band)
    why = "; ".join(dict.fromkeys(test.why for test in loads))
    return NeededTests(extent=extent, why=why, band=band, hold=hold, asked=asked, warnings=warnings)


def _without_load(work: _Sorted, special: bool) -> tuple[Extent, str]:
    if work.sustaining or special:
        told = ", ".join(work.sustaining) or "its use or its newness asks for a test"
        return "not established", (
            f"no basis of this job says which load proves this work ({told}); "
            "a competent person must"
        )
    if work.medium:
        return "functional only", "of what carries the load, only " + ", ".join(work.medium)
    return "functional only", "nothing that carries the load was renewed, repaired or altered"


def _band(loads: Sequence[AskedTest]) -> tuple[tuple[float, float] | None, tuple[str, ...]]:
    """The loads that serve every test, where there are any."""
    low = max(test.load_from or 0.0 for test in loads)
    stated = [test.load_to for test in loads if test.load_to is not None]
    if stated and min(stated) < low:
        names = ", ".join(f"{test.name} ({test.basis})" for test in loads)
        return None, (f"no load serves all of: {names}. Prove one by one, or ask the maker.",)
    if stated:
        return (low, min(stated)), ()
    highest = proof_data().highest_where_none_is_stated
    warning = (
        f"no source states a highest load; {max(low, highest.load_to):.0%} is taken "
        f"({highest.source}, {highest.known})"
    )
    return (low, max(low, float(highest.load_to))), (warning,)


def _extent(band: tuple[float, float]) -> Extent:
    return "proof load" if band[0] > 1.0 else "rated-load test"
