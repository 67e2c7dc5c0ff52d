"""The tests of a job for its page: which are needed, by which clause, why; which are open."""

from __future__ import annotations

import attrs

from hoistwright.job.state import Standing
from hoistwright.job.to_proof import Proof
from hoistwright.prove.tests_needed import AskedTest
from hoistwright.quantity import Dimension, show
from hoistwright.web.pages.job.case import Case


@attrs.frozen(kw_only=True)
class TestLine:
    """One test. `state` is "needed", "not needed" or "open"; `said` who settled it."""

    __test__ = False  # not a test, whatever its name

    test: AskedTest
    state: str
    name: str
    load: str
    hold: str
    why: str
    basis: str
    clause: str
    said: Standing | None

    @property
    def id(self) -> str:
        """For the page; names of tests have blanks."""
        words = "".join(c if c.isalnum() else "-" for c in self.test.name)
        return f"test-{self.test.basis}-{words}"


def test_lines(case: Case, proof: Proof) -> tuple[TestLine, ...]:
    """The tests of all bases: needed ones first, then open ones."""
    order = {"open": 0, "needed": 1, "not needed": 2}
    lines = [_line(case, proof, test) for test in proof.needed.asked]
    return tuple(sorted(lines, key=lambda line: order[line.state]))


def _line(case: Case, proof: Proof, test: AskedTest) -> TestLine:
    own = case.visit.language
    basis = next((one for one in proof.bases if one.key == test.basis), None)
    titles = {source.key: source.title for source in basis.sources} if basis else {}
    state = "open" if test.needed is None else "needed" if test.needed else "not needed"
    return TestLine(
        test=test,
        state=state,
        name=own.sentence(test.name),
        load=load_words(case, proof, test),
        hold="" if test.hold is None else show(test.hold, Dimension.TIME, "min"),
        why=own.sentence(test.why),
        basis=own.sentence(titles.get(test.source, test.source)),
        clause=own.sentence(test.clause) + own.sentence(_edition(test)),
        said=proof.state.settled.get((test.basis, test.name)),
    )


def _edition(test: AskedTest) -> str:
    return f" ({test.edition})" if test.edition and test.edition != "undated" else ""


def load_words(case: Case, proof: Proof, test: AskedTest) -> str:
    """The load that a test asks for, as shares and, where the rated load is known, as masses."""
    shares = [share for share in (test.load_from, test.load_to) if share is not None]
    if not shares:
        return ""
    mark = case.visit.language.decimal
    percents = [show(share, Dimension.RATIO, "%", decimal=mark) for share in shares]
    told = case.visit.say("%(low)s to %(high)s", low=percents[0], high=percents[-1])
    if test.load_to is None:
        told = case.visit.say("at least %(least)s", least=percents[0])
    elif shares[0] == shares[-1]:
        told = percents[0]
    if proof.rated is None:
        return told
    masses = [case.visit.figure(proof.rated * share, Dimension.MASS, "kg") for share in shares]
    return f"{told} = {' – '.join(dict.fromkeys(masses))}"
