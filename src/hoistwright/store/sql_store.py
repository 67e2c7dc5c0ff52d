"""The store on SQLAlchemy: one code for SQLite and PostgreSQL."""

from __future__ import annotations

import datetime
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from sqlalchemy import Engine

from hoistwright.job.entry import Draft, Event, check_job
from hoistwright.job.fold import further, refuse_lost
from hoistwright.job.state import JobState
from hoistwright.store import asking, attachments, compare, rebuild, restore, verify
from hoistwright.store.connect import open_engine, reading, writing
from hoistwright.store.journal import (
    brought_up,
    enter,
    events_of,
    events_since,
    head_of,
    known,
    sealed,
    sort_out,
)
from hoistwright.store.made_tables import few_rows, follow
from hoistwright.store.migrate import migrate
from hoistwright.store.model import (
    Appended,
    Attachment,
    Damage,
    Difference,
    Head,
    HoistRow,
    JobRow,
    Numbered,
    Progress,
    ReadingRow,
)
from hoistwright.store.quick import Next, enter_next

MOST_DRAFTS = 5000
_HELD = 512


def open_store(where: str | Path) -> SqlStore:
    """The store at a path (SQLite) or an address `postgresql://...`, with its tables up to date.

    Raises StoreError where it cannot be opened, ValueError for another kind of address.
    """
    engine = open_engine(where)
    try:
        before, version = migrate(engine)
        store = SqlStore(engine)
        if 0 < before < 2 <= version:
            store.rebuild()
    except Exception:
        engine.dispose()
        raise
    return store


class SqlStore:
    """See `Store` of `store/model.py` for what each call does."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self._states: OrderedDict[str, JobState] = OrderedDict()
        self._lock = threading.Lock()

    # growing

    def append(
        self, job: str, drafts: Sequence[Draft], *, now: datetime.datetime | None = None
    ) -> Appended:
        """Enter events; on disk when this returns. Sent twice, they are entered once.

        Nothing is expected of what others have entered meanwhile: both stay. All drafts are
        entered or none.

        Errors:
            ValueError, FaultsError: an event no journal can hold, or a correction of nothing.
            StoreError: whatever the database could not do; nothing was saved then.
        """
        if not 1 <= len(drafts) <= MOST_DRAFTS:
            raise ValueError(f"{len(drafts)} events at once; expected 1 to {MOST_DRAFTS}")
        return self.append_by(job, lambda _: drafts, now=now)

    def append_by(
        self,
        job: str,
        make: Callable[[JobState], Sequence[Draft]],
        *,
        now: datetime.datetime | None = None,
    ) -> Appended:
        """As `append`, the drafts made from the very state that they are entered after.

        `make` has no effects: where somebody else enters something meanwhile it is called again.
        What it raises is raised, and nothing is entered.
        """
        check_job(job)
        at = now or datetime.datetime.now(datetime.UTC)
        held = self._held(job)
        done = held and self._quickly(held, make(held), at)
        if not done:
            done = self._fully(job, make, at)
        self._hold(done.state)
        return done

    def _quickly(
        self, held: JobState, drafts: Sequence[Draft], at: datetime.datetime
    ) -> Appended | None:
        """One entry on a state known from before; None where it takes the long way."""
        if len(drafts) != 1 or not held.seq:
            return None
        if drafts[0].id in held.entries or drafts[0].id in held.roots:
            return None
        (event,) = sealed(held, drafts, at)
        after = further(held, [event])
        refuse_lost(held, after)
        rows = few_rows(held, after)
        if rows is None:
            return None
        stands = enter_next(self.engine, Next(before=held, after=after, event=event, rows=rows))
        if stands is None:
            return None
        return Appended(
            job=held.job,
            events=(event,),
            fresh=frozenset([event.id]),
            state=after,
            number=stands.number,
        )

    def _fully(
        self,
        job: str,
        make: Callable[[JobState], Sequence[Draft]],
        now: datetime.datetime,
    ) -> Appended:
        with writing(self.engine) as connection:
            at = head_of(connection, locked=True)
            state = brought_up(connection, job, self._held(job))
            drafts = make(state)
            fresh, before = sort_out(job, drafts, known(connection, [d.id for d in drafts]))
            events = sealed(state, fresh, now)
            after = further(state, events)
            refuse_lost(state, after)
            if events:
                at = enter(connection, at, events)
                follow(connection, state, after)
        return Appended(
            job=job,
            events=tuple(sorted([*before, *events], key=lambda event: event.seq)),
            fresh=frozenset(event.id for event in events),
            state=after,
            number=at.number,
        )

    def restore(self, events: Iterable[Event], *, progress: Progress | None = None) -> int:
        """Enter sealed entries as they are, as from an export; how many were new.

        Raises StoreError where one does not follow what is there.
        """
        return restore.restore(self.engine, events, progress)

    # asking

    def state(self, job: str) -> JobState:
        """The state of a job as the journal has it now; of no entries where there are none."""
        with reading(self.engine) as connection:
            state = brought_up(connection, job, self._held(job))
        self._hold(state)
        return state

    def events(self, job: str, *, after: int = 0) -> tuple[Event, ...]:
        """The entries of a job after its entry number `after`."""
        with reading(self.engine) as connection:
            return events_of(connection, job, after)

    def since(self, number: int = 0, *, limit: int = 1000) -> tuple[Numbered, ...]:
        """The entries of all jobs after a number of the journal, in order, without gaps."""
        with reading(self.engine) as connection:
            return events_since(connection, number, limit)

    def head(self) -> Head:
        """Where the journal stands."""
        with reading(self.engine) as connection:
            return head_of(connection)

    def job(self, job: str) -> JobRow | None:
        """A job's line; None where there is no such job."""
        with reading(self.engine) as connection:
            return asking.job_line(connection, job)

    def jobs(
        self,
        *,
        stage: str | None = None,
        holder: str | None = None,
        hoist: str | None = None,
        limit: int = 200,
    ) -> tuple[JobRow, ...]:
        """Jobs at a stage, with a person, of a hoist: the longest here first."""
        with reading(self.engine) as connection:
            return asking.job_lines(connection, stage, holder, hoist, limit)

    def waiting(self) -> dict[str, dict[str, int]]:
        """How many jobs wait at each stage for each person ("" for nobody)."""
        with reading(self.engine) as connection:
            return asking.counts(connection)

    def search(self, text: str, *, limit: int = 50) -> tuple[HoistRow, ...]:
        """Hoists by beginnings of serial, tag, customer, maker, model; the closest first."""
        with reading(self.engine) as connection:
            return asking.found_hoists(connection, text, limit)

    def hoist(self, hoist: str) -> HoistRow | None:
        """A line of the register by its key."""
        with reading(self.engine) as connection:
            return asking.hoist_line(connection, hoist)

    def earlier_readings(
        self, hoist: str, *, before_job: str | None = None
    ) -> tuple[ReadingRow, ...]:
        """A hoist's readings, the oldest visit first; only of visits before a job where named."""
        with reading(self.engine) as connection:
            return asking.readings_before(connection, hoist, before_job)

    # photos and papers

    def attach(self, data: bytes) -> Attachment:
        """Keep a photo or paper: checked, cleaned of where it was taken, once for one content."""
        return attachments.attach(self.engine, data)

    def attach_figures(self, data: bytes) -> Attachment:
        """Keep a text of figures (CSV) as it came, once for one content."""
        return attachments.attach_figures(self.engine, data)

    def attachment(self, content: str) -> tuple[Attachment, bytes] | None:
        """A photo or paper by its content hash."""
        return attachments.attachment(self.engine, content)

    def attachments(self) -> Iterator[tuple[Attachment, bytes]]:
        """All photos and papers, by content hash."""
        return attachments.every(self.engine)

    # looking after it

    def verify(
        self, *, noted: Head | None = None, progress: Progress | None = None
    ) -> tuple[Damage, ...]:
        """Everything that is wrong with the journal and the attachments; empty: nothing.

        `noted`: where the journal stood earlier, written down elsewhere.
        """
        return verify.verify_store(self.engine, noted, progress)

    def rebuild(self, *, progress: Progress | None = None) -> None:
        """Make the tables again from the journal."""
        rebuild.rebuild(self.engine, progress)

    def compare(self, *, progress: Progress | None = None) -> tuple[Difference, ...]:
        """Every row of the made tables that is not what the journal gives; empty: none."""
        return compare.compare(self.engine, progress)

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    # states known from before: what the journal's head agrees with need not be folded again

    def held(self, job: str) -> JobState | None:
        """A job as it was when this program last had to do with it: may be behind the journal."""
        return self._held(job)

    def _held(self, job: str) -> JobState | None:
        with self._lock:
            return self._states.get(job)

    def _hold(self, state: JobState) -> None:
        if not state.seq:  # asked for a job that is not there
            return
        with self._lock:
            self._states[state.job] = state
            self._states.move_to_end(state.job)
            while len(self._states) > _HELD:
                self._states.popitem(last=False)
