"""The demo shop's bench: its job sheets as jobs in work, each left at some stage. Invented."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from pathlib import PurePosixPath

import attrs

from hoistwright.basis.loading import shipped_basis
from hoistwright.demo.fill_history import Watched, fill_history, unwatched
from hoistwright.demo.history import LAST_TODAY, TODAY
from hoistwright.demo.quoted_job import quote_demo
from hoistwright.demo.shop_files import demo_folder, demo_sheets
from hoistwright.faults import FaultsError
from hoistwright.hoist.feature import look
from hoistwright.job.entry import Draft
from hoistwright.job.events import (
    Body,
    BookedIn,
    GivenTo,
    HoldPointSigned,
    LookAnswered,
    PartChosen,
    Remarked,
    StageFinished,
    StageName,
    StepTicked,
)
from hoistwright.job.from_sheet import drafts_of
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.job.stages import Facts, missing_of
from hoistwright.job.state import STAGES
from hoistwright.metrology import Outcome
from hoistwright.sheet import read_sheet
from hoistwright.store.connect import reading, writing
from hoistwright.web.bench import Bench
from hoistwright.web.designs import design_named
from hoistwright.web.records.own_designs import keep_design
from hoistwright.web.records.shop_records import shop_of

STOPS: dict[str, tuple[StageName, str]] = {
    "01-sound": ("prove", "odile"),
    "02-worn-chain": ("renew", "tomasz"),
    "03-overstrained-chain": ("renew", "odile"),
    "04-oil-on-discs": ("rebuild", "tomasz"),
    "05-seized-pawl": ("rebuild", "wren"),
    "06-borderline-throat": ("examine", "wren"),
    "07-gauge-out-of-date": ("examine", "tomasz"),
    "08-missing-baseline": ("examine", "odile"),
    "09-illegible-plate": ("strip", "tomasz"),
    "11-sound-inches": ("strip", ""),
    "12-limiter-seal": ("book in", ""),
}
"""The stage at which each sheet's job has come to rest, and who has it."""

FOUND = "lifts and holds"


OUT_OF_TRUE = (
    "digital caliper 2 came back from its calibration on 2026-09-21: it had read 0.06 mm long. "
    "Look up which verdicts leaned on it since 2025-09-15."
)
"""A remark for the recall of a gauge, on the job that used it last."""
WITH_GAUGE = "KQ-0407"


def fill_demo(bench: Bench, *, hoists: int = 0, watched: Watched = unwatched) -> int:
    """Enter the demo jobs into an empty bench; how many. One that has jobs is left alone.

    `hoists`: with the history of so many hoists up to today, and more jobs at each stage.
    """
    if bench.store.jobs(limit=1):
        return 0
    _keep_designs(bench)
    with reading(bench.engine) as conn:
        shop = shop_of(conn)
    past = _fill_past(bench, shop, hoists, watched) if hoists else 0
    count = past + _fill_sheets(bench, shop, watched)
    if hoists:
        _remark_on_gauge(bench)
        quote_demo(bench, attrs.evolve(shop, demo=bench.demo))
    return count


def _fill_past(bench: Bench, shop: Shop, hoists: int, watched: Watched) -> int:
    today = min(max(bench.today, TODAY), LAST_TODAY)
    jobs, _ = fill_history(bench.store, shop, hoists=hoists, today=today, watched=watched)
    return jobs


def _remark_on_gauge(bench: Bench) -> None:
    remark = Draft(id="demo-recall-cal-2", by="odile", body=Remarked(text=OUT_OF_TRUE))
    at = datetime.datetime.combine(TODAY, datetime.time(15), datetime.UTC)
    bench.store.append(WITH_GAUGE, [remark], now=at)


def _fill_sheets(bench: Bench, shop: Shop, watched: Watched) -> int:
    sheets = [path for path in demo_sheets() if path.stem in STOPS]
    count = 0
    for path in watched(sheets):
        try:
            sheet = read_sheet(path, shop=shop)
        except FaultsError:  # the sheet that shows what faults look like
            continue
        stop, holder = STOPS[path.stem]
        Walk(bench, shop, sheet, holder).to(stop)
        count += 1
    return count


def _keep_designs(bench: Bench) -> None:
    for path in sorted((demo_folder() / "designs").glob("*.toml")):
        with writing(bench.engine) as conn:
            text = path.read_text(encoding="utf-8")
            keep_design(conn, path.name, text, by="odile", at=bench.now())


@attrs.define
class Walk:
    """One job on its way. Its clock starts on the day of the sheet and goes on as one works."""

    bench: Bench
    shop: Shop
    sheet: JobSheet
    holder: str
    at: datetime.datetime = attrs.field(init=False)
    count: int = 0

    def __attrs_post_init__(self) -> None:
        day = self.sheet.work.received_on or self.sheet.work.examined_on
        self.at = datetime.datetime(day.year, day.month, day.day, 7, 30, tzinfo=datetime.UTC)

    def to(self, stop: StageName) -> None:
        for stage in STAGES:
            if stage == stop:
                self.enter(self._part_of(stage, whole=False))
                return
            self.enter(self._part_of(stage, whole=True))
            if missing_of(stage, self.facts()):
                return
            self.enter([StageFinished(stage=stage)])

    def _part_of(self, stage: StageName, *, whole: bool) -> list[Body]:
        bodies = {
            "book in": self._booked,
            "strip": self._stripped,
            "examine": self._examined,
            "renew": self._chosen,
            "rebuild": self._rebuilt,
            "prove": list[Body],
            "release": list[Body],
        }[stage]()
        first = 1 if stage == "book in" else 0
        return bodies if whole else bodies[: max(first, len(bodies) // 2)]

    def _booked(self) -> list[Body]:
        booked = drafts_of(self.sheet)[0].body
        assert isinstance(booked, BookedIn)
        design = PurePosixPath(booked.design).name
        given: list[Body] = [GivenTo(person=self.holder)] if self.holder else []
        return [attrs.evolve(booked, design=design, found=FOUND), *given]

    def _stripped(self) -> list[Body]:
        plan = self.facts().strip
        return [StepTicked(way="strip", step=s.key) for s in (plan.steps if plan else ())]

    def _examined(self) -> list[Body]:
        return [body for body in self._told() if not _after_rebuild(body)]

    def _told(self) -> list[Body]:
        return [draft.body for draft in drafts_of(self.sheet)[1:]]

    def _chosen(self) -> list[Body]:
        found = self.facts().examination
        parts = found.parts if found else ()
        return [
            PartChosen(part=p.part)
            for p in parts
            if p.outcome in (Outcome.RENEW, Outcome.BORDERLINE) and p.part != "hoist"
        ]

    def _rebuilt(self) -> list[Body]:
        plan = self.facts().rebuild
        if plan is None:
            return []
        signed = {point.step: point.text for point in plan.hold_points}
        bodies: list[Body] = []
        for step in plan.steps:
            bodies.append(StepTicked(way="rebuild", step=step.key))
            if step.key in signed:
                bodies.append(HoldPointSigned(step=step.key, text=signed[step.key]))
        return [*bodies, *(body for body in self._told() if _after_rebuild(body))]

    def facts(self) -> Facts:
        state = self.bench.store.state(self.sheet.job)
        return Facts(
            state=state,
            design=design_named(self.bench, state.design),
            bases=tuple(shipped_basis(key) for key in state.bases),
            shop=self.shop,
        )

    def enter(self, bodies: Sequence[Body]) -> None:
        """Append, a minute and a half apart each, by whoever has the job."""
        by = self.holder or self.sheet.work.examined_by
        for body in bodies:
            self.count += 1
            self.at += datetime.timedelta(seconds=90)
            draft = Draft(id=f"demo-{self.count:04d}-{self.sheet.job}", by=by, body=body)
            self.bench.store.append(self.sheet.job, [draft], now=self.at)


def _after_rebuild(body: Body) -> bool:
    """Whether a look is one at the hoist put together again."""
    return isinstance(body, LookAnswered) and look(body.feature).stage == "rebuilt"
