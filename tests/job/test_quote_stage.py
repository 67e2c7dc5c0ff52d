"""The stage of renewals with a quote: nothing is fitted that the customer did not agree to."""

from __future__ import annotations

import pytest
from record_helpers import NOON, booking, draft

from hoistwright.basis.loading import shipped_basis
from hoistwright.certificate.quote_words import reason_words, weighing_words
from hoistwright.certificate.writer import Writer
from hoistwright.examine.points import Point
from hoistwright.faults import FaultsError
from hoistwright.hoist.library import shipped
from hoistwright.job.charges import Charges
from hoistwright.job.entry import seal
from hoistwright.job.events import Body, Corrected, ExtentChosen, LookAnswered, PartChosen
from hoistwright.job.events_quote import QuoteAnswered, QuoteMade
from hoistwright.job.events_release import ExitChosen
from hoistwright.job.fold import further
from hoistwright.job.offers import BY_SHOP, offer_of, opened
from hoistwright.job.shop_file import shop_from_text
from hoistwright.job.stages import Facts, missing_of, stands_at
from hoistwright.job.state import JobState
from hoistwright.language import language
from hoistwright.renew.policy import PartRisk
from hoistwright.renew.prices import PriceBook, PriceLine

SHOP = """
format = 1
name = "Kittiwake Quay Lifting Works"
address = "3 Slipway Row"
[[people]]
key = "odile"
name = "Odile Brannagh"
roles = ["competent person"]
[charges]
currency = "GBP"
labour_per_hour = "44.00"
call_back = "240.00"
[[charges.new_hoists]]
design = "ardle-2000"
price = "1,150.00"
"""
DESIGN = shipped("ardle-2000")
BOOK = PriceBook(
    currency="GBP",
    lines={p.key: PriceLine(number=p.key, price=500, stock=9) for p in DESIGN.parts},
    fits={("ardle-2000", p.key): p.key for p in DESIGN.parts},
)


class Job:
    """A job whose pawl was found defective."""

    def __init__(self) -> None:
        self.shop = shop_from_text(SHOP)
        self.state = JobState(job="KQ-1")
        self.say(booking())
        look = self.look("pawl")
        self.say(LookAnswered(part="pawl", feature=look.feature, place=look.place, answer="defect"))

    def look(self, part: str) -> Point:
        return next(p for p in self.facts.points if p.part == part and not p.measured)

    def say(self, *bodies: Body) -> str:
        for body in bodies:
            event = seal(draft(body), job="KQ-1", seq=self.state.seq + 1, at=NOON,
                         before=self.state.hash)  # fmt: skip
            self.state = further(self.state, [event])
        return event.id

    @property
    def facts(self) -> Facts:
        bases = (shipped_basis("b30-hand-hoists"),)
        return Facts(state=self.state, design=DESIGN, bases=bases, shop=self.shop)

    def lacks(self) -> list[tuple[str, str]]:
        """What the stage of renewals lacks, and of which part."""
        return [(item.what, item.address[0]) for item in missing_of("renew", self.facts)]

    def quote(self, number: str = "KQ-1-Q1") -> None:
        self.say(
            QuoteMade(
                number=number,
                currency="GBP",
                must=("pawl",),
                advised=("load_chain",),
                can_wait=("disc_hub",),
                must_total=100,
                total=200,
            )
        )

    def answer(self, *agreed: str, number: str = "KQ-1-Q1") -> None:
        self.say(QuoteAnswered(quote=number, agreed=agreed, said_by="Mr Ash", how="in writing"))


@pytest.fixture
def job() -> Job:
    return Job()


def test_without_a_quote_the_shop_decides_alone(job: Job) -> None:
    """The shop's own hoists need no answer of anybody."""
    assert job.lacks() == [("choice", "pawl")]
    job.say(PartChosen(part="pawl"))
    assert job.lacks() == []


def test_a_quote_asks_for_its_answer(job: Job) -> None:
    job.say(PartChosen(part="pawl"))
    job.quote()
    assert job.lacks() == [("quote answer", "")]
    job.answer("pawl")
    assert job.lacks() == []


def test_an_answer_to_an_older_quote_does_not_count(job: Job) -> None:
    job.say(PartChosen(part="pawl"))
    job.quote()
    job.answer("pawl")
    job.quote("KQ-1-Q2")
    assert job.lacks() == [("quote answer", "")]


def test_a_part_that_nobody_agreed_to_is_not_fitted(job: Job) -> None:
    job.say(PartChosen(part="pawl"), PartChosen(part="load_chain"))
    job.quote()
    job.answer("pawl")
    assert job.lacks() == [("not agreed", "load_chain")]
    job.say(PartChosen(part="load_chain", renew=False, reason="declined"))
    assert job.lacks() == []


def test_a_part_agreed_to_is_fitted(job: Job) -> None:
    job.say(PartChosen(part="pawl"))
    job.quote()
    job.answer("pawl", "load_chain")
    assert job.lacks() == [("agreed", "load_chain")]


def test_one_use_parts_need_no_agreement_of_their_own(job: Job) -> None:
    job.say(PartChosen(part="pawl"), PartChosen(part="pawl_retaining_ring"))
    job.quote()
    job.answer("pawl")
    assert job.lacks() == []


def test_a_declined_must_leaves_only_the_way_out_unrepaired(job: Job) -> None:
    job.quote()
    job.answer("load_chain")
    job.say(PartChosen(part="load_chain"))
    assert ("declined", "pawl") in job.lacks()
    found = next(item for item in missing_of("renew", job.facts) if item.what == "declined")
    assert "returned unrepaired" in found.sentence
    # design of the project: without a repair there is nothing to prove
    job.say(ExitChosen(exit="returned unrepaired", reason="declined", marked=True,
                       customer_told=True))  # fmt: skip
    assert "renew" not in job.state.asked
    assert stands_at(job.facts) in ("book in", "release")


def test_a_quote_taken_back_asks_for_nothing(job: Job) -> None:
    job.say(PartChosen(part="pawl"))
    job.quote()
    entry = next(e for e in job.state.entries.values() if isinstance(e.body, QuoteMade))
    job.say(Corrected(corrects=entry.event.id, replacement=None))
    assert job.lacks() == []


# the offer of a job


def charges(job: Job) -> Charges:
    assert job.shop.charges is not None
    return job.shop.charges


def test_the_offer_has_the_must_of_the_verdicts_and_the_wish_of_the_shop(job: Job) -> None:
    job.say(PartChosen(part="load_chain", reason="customer lost trust in it"))
    found = offer_of(job.facts, BOOK, charges(job))
    assert found is not None
    assert [line.part for line in found.of("must")] == ["pawl"]
    assert [(line.part, line.reason) for line in found.of("advised")] == [
        ("load_chain", "customer lost trust in it")
    ]
    job.say(PartChosen(part="load_chain"))
    again = offer_of(job.facts, BOOK, charges(job))
    assert again is not None
    assert again.of("advised")[0].reason == BY_SHOP
    assert again.repair is not None
    assert again.repair.new == 115_000


def test_choosing_an_advised_part_keeps_its_reason_and_its_risk(job: Job) -> None:
    """The customer decides by them: whoever touches "renew" adds nothing and takes nothing away."""
    risks = [PartRisk(part="load_chain", probability=0.3, why="nearly at its limit")]
    before = offer_of(job.facts, BOOK, charges(job), risks)
    job.say(PartChosen(part="load_chain"))
    after = offer_of(job.facts, BOOK, charges(job), risks)
    assert before is not None
    assert after is not None
    (was,), (now,) = before.of("advised"), after.of("advised")
    assert (now.reason, now.forecast) == ("nearly at its limit", "nearly at its limit")
    assert (now.probability, now.leaving) == (was.probability, was.leaving)
    job.say(PartChosen(part="load_chain", reason="customer lost trust in it"))
    own = offer_of(job.facts, BOOK, charges(job), risks)
    assert own is not None
    (line,) = own.of("advised")
    assert (line.reason, line.forecast) == ("customer lost trust in it", "nearly at its limit")
    told = reason_words(line, Writer(language("en"), "mm"))
    assert told == "Customer lost trust in it. Nearly at its limit."
    assert "costs" in weighing_words(line, own.lines, own.currency, Writer(language("en"), "mm"))


def test_what_was_taken_follows_the_choices(job: Job) -> None:
    found = offer_of(job.facts, BOOK, charges(job))
    assert found is not None
    assert found.taken is None
    job.say(PartChosen(part="pawl"))
    found = offer_of(job.facts, BOOK, charges(job), [PartRisk(part="pawl", probability=1, why="")])
    assert found is not None
    assert found.taken == found.least == found.best
    assert found.of("can wait") == ()  # the risk of a part that must is not weighed


def test_a_smaller_extent_costs_less_work_than_the_full_strip(job: Job) -> None:
    """The strip to the chain alone is part of the full one: it cannot take longer."""
    full = offer_of(job.facts, BOOK, charges(job))
    job.say(ExtentChosen(parts=("load_chain",)))
    small = offer_of(job.facts, BOOK, charges(job))
    assert full is not None
    assert small is not None
    assert 0 < small.least.labour < full.least.labour
    assert set(opened(job.facts)) < {step.key for step in DESIGN.take_apart}


def test_nothing_is_offered_before_anything_is_known() -> None:
    empty = Facts(state=JobState(job="KQ-2"), design=None, bases=(), shop=shop_from_text(SHOP))
    assert offer_of(empty, BOOK, shop_from_text(SHOP).charges) is None  # type: ignore[arg-type]


# charges of a shop file


def test_charges_are_read(job: Job) -> None:
    found = charges(job)
    assert found.policy().labour_per_hour == 4400
    assert (found.new_price("ardle-2000"), found.new_price("ardle-500")) == (115_000, None)
    assert shop_from_text(SHOP.split("[charges]", maxsplit=1)[0]).charges is None


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"GBP"', '"pounds"', "charges.currency"),
        ('"44.00"', '"forty"', "charges.labour_per_hour"),
        ('"240.00"', '"EUR 240.00"', "an amount in GBP"),
        ('"1,150.00"', '"1,150"', "one way only"),
        ('call_back = "240.00"', 'call_back = "1.00"\nscrap_from = 7.0', "a share such as 0.6"),
        ('call_back = "240.00"', 'call_back = "1.00"\nvalid_days = 0', "1 to 3650 days"),
    ],
)
def test_faulty_charges_are_told_with_their_key(old: str, new: str, told: str) -> None:
    with pytest.raises(FaultsError, match="charges") as caught:
        shop_from_text(SHOP.replace(old, new, 1), file="shop.toml")
    assert told in str(caught.value)
    assert "shop.toml, line " in str(caught.value)
