"""Whose limit stands: maker before general, unless the basis is stricter and says it governs."""

from __future__ import annotations

import datetime

import attrs
import pytest

from hoistwright.basis.feature_names import feature_names
from hoistwright.basis.loading import shipped_bases, shipped_basis
from hoistwright.basis.model import Applies, Basis, BasisHead, Criterion, DatedLimit, Source
from hoistwright.basis.rulings import Ruling, rulings, statements, unruled_features
from hoistwright.faults import FaultsError
from hoistwright.hoist.design import Design, Identity
from hoistwright.hoist.feature import is_measured
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.hoist.limits import Comparison, MakerLimit
from hoistwright.hoist.machine import LoadChain, Rating
from hoistwright.hoist.parts import Part

DAY = datetime.date(2026, 11, 25)


def _design(*limits: MakerLimit, grade: str | None = None, falls: int | None = 1) -> Design:
    return Design(
        format=1,
        key="bare",
        identity=Identity(maker="Ardle", model="bare", kind="hand chain hoist", invented=True),
        rating=Rating(falls=falls),
        load_chain=LoadChain(grade=grade),
        parts=(
            Part(key="top_hook", name="Top hook", role="hook"),
            Part(key="bottom_hook", name="Bottom hook", role="hook"),
            Part(key="load_chain", name="Load chain", role="load_chain"),
            Part(key="screw", name="Screw"),
        ),
        maker_limits=limits,
    )


def _maker(feature: str, comparison: Comparison, limit: str, part: str = "") -> MakerLimit:
    return MakerLimit(
        feature=feature, comparison=comparison, limit=limit, part=part, source="invented"
    )


def _basis(
    value: str,
    *,
    key: str = "own",
    feature: str = "hook.throat",
    comparison: Comparison = "rise from as new",
    governs: bool = False,
    applies: Applies | None = None,
) -> Basis:
    limit = DatedLimit(
        since=datetime.date(2000, 1, 1),
        value=value,
        source="book",
        clause="1",
        edition="first",
        known="memory",
    )
    criterion = Criterion(
        id=f"{key}-one",
        title="One",
        feature=feature,
        comparison=comparison,
        limit=(limit,),
        applies=applies or Applies(),
    )
    return Basis(
        head=BasisHead(format=1, key=key, title=key, governs_when_stricter=governs),
        criteria=(criterion,),
        sources=(Source(key="book", title="A book"),),
    )


def _one(found: tuple[Ruling, ...], part: str, feature: str) -> Ruling:
    (ruling,) = [r for r in found if r.part == part and r.feature == feature]
    return ruling


def test_without_a_maker_limit_the_basis_rules_on_every_part_of_the_role() -> None:
    found = rulings(_design(), [_basis("5 %")], DAY)
    assert [r.id for r in found] == ["top_hook/own-one", "bottom_hook/own-one"]
    assert {(r.limit_si, r.side, r.source) for r in found} == {(0.05, "upper", "A book")}


def test_a_makers_limit_stands_before_a_stricter_basis_and_both_are_shown() -> None:
    ruling = _one(
        rulings(_design(_maker("hook.throat", "rise from as new", "8 %")), [_basis("5 %")], DAY),
        "top_hook",
        "hook.throat",
    )
    assert (ruling.stands.by, ruling.limit_si, ruling.known) == ("maker", 0.08, "maker")
    assert [s.limit_si for s in ruling.shown_besides] == [0.05]
    assert ruling.why == "The maker's limit stands before own-one (5 %)."


@pytest.mark.parametrize(("basis", "stands"), [("5 %", 0.05), ("8 %", 0.08), ("9 %", 0.08)])
def test_a_governing_basis_stands_only_where_it_is_stricter(basis: str, stands: float) -> None:
    design = _design(_maker("hook.throat", "rise from as new", "8 %"))
    found = rulings(design, [_basis(basis, governs=True)], DAY)
    ruling = _one(found, "top_hook", "hook.throat")
    assert ruling.limit_si == stands
    assert ruling.stands.by == ("basis" if stands < 0.08 else "maker")
    assert len(ruling.shown_besides) == 1


def test_strictest_of_a_lower_limit_is_the_higher_one() -> None:
    low = _basis("7 mm", key="low", feature="load_chain.crown_diameter", comparison="at least")
    high = _basis("7.4 mm", key="high", feature="load_chain.crown_diameter", comparison="at least")
    ruling = _one(rulings(_design(), [low, high], DAY), "load_chain", "load_chain.crown_diameter")
    assert (ruling.limit_text, ruling.side) == ("7.4 mm", "lower")
    assert [s.basis for s in ruling.shown_besides] == ["low"]


def test_different_comparisons_both_rule() -> None:
    design = _design(_maker("load_chain.crown_diameter", "at least", "7.4 mm"))
    basis = _basis("10 %", feature="load_chain.crown_diameter", comparison="loss from as new")
    found = rulings(design, [basis], DAY)
    assert [(r.comparison, r.stands.by) for r in found] == [
        ("at least", "maker"),
        ("loss from as new", "basis"),
    ]


def test_a_makers_chain_limit_stands_whichever_way_the_lengthening_is_told() -> None:
    """ASME B30.16 gives its 2.5 % only where the maker recommends no length."""
    b30 = shipped_basis("b30-hand-hoists")
    design = _design(_maker("load_chain.gauge_length", "elongation", "3 %"))
    ruling = _one(rulings(design, [b30], DAY), "load_chain", "load_chain.gauge_length")
    assert (ruling.stands.by, ruling.comparison) == ("maker", "elongation")
    assert [s.criterion for s in ruling.shown_besides] == ["b30-load-chain-gauge-length"]


def test_a_governing_basis_keeps_its_own_way_of_telling_it() -> None:
    design = _design(_maker("load_chain.gauge_length", "elongation", "3 %"))
    basis = _basis("2.5 %", feature="load_chain.gauge_length", governs=True)
    assert [r.stands.by for r in rulings(design, [basis], DAY)] == ["maker", "basis"]


def test_a_makers_limit_for_one_part_leaves_the_other_to_the_basis() -> None:
    design = _design(_maker("hook.throat", "rise from as new", "8 %", part="top_hook"))
    found = rulings(design, [_basis("5 %")], DAY)
    assert _one(found, "top_hook", "hook.throat").limit_si == 0.08
    assert _one(found, "bottom_hook", "hook.throat").limit_si == 0.05


def test_two_bases_that_ask_for_the_same_look_give_one_ruling() -> None:
    bases = [shipped_basis("b30-hand-hoists"), shipped_basis("workshop-practice")]
    ruling = _one(rulings(_design(), bases, DAY), "top_hook", "hook.cracks")
    assert (ruling.side, ruling.limit_si, ruling.stands.basis) == ("none", None, "b30-hand-hoists")
    assert [s.basis for s in ruling.shown_besides] == ["workshop-practice"]


@pytest.mark.parametrize(
    ("applies", "grade", "falls", "counts"),
    [
        (Applies(kinds=("lever hoist",)), None, 1, False),
        (Applies(chain_grades=("T",)), "T", 1, True),
        (Applies(chain_grades=("T",)), "V", 1, False),
        (Applies(chain_grades=("T",)), None, 1, True),  # unknown does not excuse
        (Applies(falls_at_least=2), None, 1, False),
        (Applies(falls_at_least=2), None, None, True),
    ],
)
def test_what_a_criterion_applies_to(
    applies: Applies, grade: str | None, falls: int | None, counts: bool
) -> None:
    found = rulings(_design(grade=grade, falls=falls), [_basis("5 %", applies=applies)], DAY)
    assert bool(found) is counts


def test_an_old_job_is_judged_by_the_limit_of_its_day() -> None:
    b30 = shipped_basis("b30-hand-hoists")
    old = rulings(_design(), [b30], datetime.date(1999, 6, 1))
    new = rulings(_design(), [b30], DAY)
    assert _one(old, "top_hook", "hook.throat").limit_text == "15 %"
    assert _one(old, "top_hook", "hook.twist").limit_text == "10°"
    assert {r.limit_text for r in new if r.feature == "hook.throat"} == {"5 %", "6 mm"}
    assert not [r for r in new if r.feature == "hook.twist"]
    assert _one(new, "top_hook", "hook.visible_twist").edition == "2005 and later"


def test_a_basis_for_another_kind_says_nothing() -> None:
    basis = _basis("5 %")
    lever = attrs.evolve(basis, head=attrs.evolve(basis.head, for_kinds=("lever hoist",)))
    assert rulings(_design(), [lever], DAY) == ()


def test_a_ruling_tells_source_clause_edition_and_what_to_do() -> None:
    found = rulings(_design(), [shipped_basis("europe-round-link")], DAY)
    ruling = _one(found, "load_chain", "load_chain.crown_diameter")
    assert ruling.source == "DIN 685-5, Tested round steel link chains, use"
    assert (ruling.clause, ruling.known) == ("discard criteria, mean link diameter", "read")
    assert (ruling.edition, ruling.of) == ("1981 and later", "mean of directions")
    assert ruling.action == "Renew the load chain."


def test_nothing_rules_before_the_first_edition() -> None:
    assert rulings(_design(), [_basis("5 %")], datetime.date(1999, 12, 31)) == ()


def test_a_number_check_never_rules_a_hoist() -> None:
    checks = {
        c.id
        for key in shipped_bases()
        for c in shipped_basis(key).criteria
        if c.use == "number check"
    }
    assert len(checks) == 4
    for key in shipped_bases():
        stated = statements(shipped("ardle-2000"), shipped_basis(key), DAY)
        assert not checks & {s.criterion for s in stated}


def test_what_nothing_rules_over_is_named() -> None:
    found = unruled_features(_design(), [_basis("5 %")], DAY)
    assert ("top_hook", "hook.throat") not in {(u.part, u.feature) for u in found}
    assert ("top_hook", "hook.twist", True) in {(u.part, u.feature, u.measured) for u in found}
    assert ("load_chain", "load_chain.cracks", False) in {
        (u.part, u.feature, u.measured) for u in found
    }
    assert not [u for u in found if u.part == "screw"]


@pytest.mark.parametrize("key", shipped_keys())
def test_every_feature_of_a_design_is_ruled_or_named_as_unruled(key: str) -> None:
    design = shipped(key)
    bases = [shipped_basis("b30-hand-hoists"), shipped_basis("workshop-practice")]
    found = rulings(design, bases, DAY)
    ids = [r.id for r in found]
    assert len(ids) == len(set(ids))
    ruled = {(r.part, r.feature) for r in found}
    unruled = {(u.part, u.feature) for u in unruled_features(design, bases, DAY)}
    features = {
        (part.key, f"{part.role}.{name}")
        for part in design.parts
        for name in feature_names(part.role)
    }
    assert ruled | unruled == features
    assert not ruled & unruled


@pytest.mark.parametrize("key", shipped_keys())
def test_a_ruling_over_a_look_has_no_limit_and_over_a_measure_has_one(key: str) -> None:
    for ruling in rulings(shipped(key), [shipped_basis(b) for b in shipped_bases()], DAY):
        measured = is_measured(ruling.feature)
        assert (ruling.limit_si is not None) is measured
        assert (ruling.side != "none") is measured
        assert ruling.source
        assert ruling.why.endswith(".")


def test_the_order_of_bases_does_not_change_what_is_judged() -> None:
    bases = [shipped_basis(key) for key in shipped_bases()]
    design = attrs.evolve(shipped("ardle-2000"), maker_limits=())
    there = {
        (r.part, r.feature, r.comparison, r.of, r.limit_si) for r in rulings(design, bases, DAY)
    }
    back = {
        (r.part, r.feature, r.comparison, r.of, r.limit_si)
        for r in rulings(design, bases[::-1], DAY)
    }
    assert there == back


def test_a_makers_limit_that_cannot_be_read_is_named() -> None:
    design = _design(
        _maker("hook.throat", "rise from as new", "5 mm"), _maker("hook.twist", "at most", "10")
    )
    with pytest.raises(FaultsError) as caught:
        rulings(design, [], DAY)
    first, second = caught.value.faults
    assert first.place.key == "maker_limits[hook.throat].limit"
    assert "'mm'" in first.read
    assert second.read == "'10' without a unit"
