"""The rows that a job's state gives in the tables made from the journal. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from hoistwright.job.codec import canonical, moment_text
from hoistwright.job.events import Corrected, LookAnswered, ReadingEntered, Topic
from hoistwright.job.hoist_key import hoist_key, hoist_words
from hoistwright.job.job_sheet import Customer, HoistIdentity
from hoistwright.job.state import JobState, Standing

Row = dict[str, Any]

FROM_JOB = ("maker", "model", "serial", "tag", "rated_load", "customer", "premises", "design")
"""What the register takes over from a hoist's last job."""
FROM_CERTIFICATE = ("decision", "certificate", "left_on", "next_due")
"""What it takes over from the last job that ended in a certificate."""


def hoist_of(state: JobState) -> str:
    """The key in the register of a job's hoist."""
    hoist, customer = _identity(state)
    return hoist_key(hoist, customer.name, state.job)


def job_row(state: JobState) -> Row:
    """The job's line in the list of jobs."""
    hoist, customer = _identity(state)
    booked = state.booked
    received = booked.received_on if booked else None
    return {
        "job": state.job,
        "hoist": hoist_of(state),
        "maker": hoist.maker,
        "model": hoist.model,
        "serial": hoist.serial,
        "tag": hoist.tag,
        "rated_load": hoist.rated_load,
        "customer": customer.name,
        "premises": customer.premises,
        "design": state.design,
        "bases": canonical(list(state.bases)),
        "complaint": booked.complaint if booked else "",
        "received_on": received.isoformat() if received else "",
        "stage": state.stage,
        "holder": state.holder,
        "opened_at": moment_text(state.opened_at) if state.opened_at else "",
        **counts(state),
        **_left(state),
    }


def counts(state: JobState) -> Row:
    """What of the job's line a reading or a look may change; nothing else of it."""
    who, when = max(state.touched.items(), key=lambda item: (item[1], item[0]))
    answers = [entry.body for entry in state.looks.values()]
    return {
        "changed_at": moment_text(when),
        "changed_by": who,
        "seq": state.seq,
        "conflicts": len(state.conflicts),
        "readings": len(state.readings),
        "defects": sum(isinstance(b, LookAnswered) and b.answer == "defect" for b in answers),
        "renewals": len(state.renewed),
        "photos": len(state.photos),
    }


def _left(state: JobState) -> Row:
    """How and when the hoist left, by the certificate that stands."""
    issued = state.certificate
    if issued is None:
        return dict.fromkeys(FROM_CERTIFICATE, "")
    return {
        "decision": issued.decision,
        "certificate": issued.number,
        "left_on": issued.issued_on.isoformat(),
        "next_due": issued.next_due.isoformat() if issued.next_due else "",
    }


def reading_row(state: JobState, hoist: str, entry: Standing) -> Row:
    """The line of a reading that stands."""
    body = entry.body
    assert isinstance(body, ReadingEntered)
    return {
        **_address(state, body, hoist),
        "mean": sum(body.values) / len(body.values),
        "repeats": canonical(list(body.values)),
        "unit": body.unit,
        "gauge": body.gauge,
        "links": body.links,
        **_who(entry),
    }


def look_row(state: JobState, hoist: str, entry: Standing) -> Row:
    """The line of an answer that stands."""
    body = entry.body
    assert isinstance(body, LookAnswered)
    return {
        **_address(state, body, hoist),
        "answer": body.answer,
        "remark": body.remark,
        **_who(entry),
    }


def reading_rows(state: JobState) -> Iterator[Row]:
    """Lines of all readings that stand."""
    hoist = hoist_of(state)
    for entry in state.readings.values():
        yield reading_row(state, hoist, entry)


def look_rows(state: JobState) -> Iterator[Row]:
    """Lines of all answers that stand."""
    hoist = hoist_of(state)
    for entry in state.looks.values():
        yield look_row(state, hoist, entry)


def register_row(hoist: str, visits: Sequence[Row]) -> Row:
    """A hoist's line in the register, from the lines of its jobs, the last one last."""
    last = visits[-1]
    out = next((row for row in reversed(visits) if row["certificate"]), last)
    return {
        "hoist": hoist,
        **{name: last[name] for name in FROM_JOB},
        **{name: out[name] for name in FROM_CERTIFICATE},
        "last_job": last["job"],
        "last_opened_at": last["opened_at"],
        "visits": len(visits),
    }


def words_of(row: Row) -> frozenset[str]:
    """The words by which a line of the register is found."""
    hoist = HoistIdentity(
        maker=row["maker"], model=row["model"], serial=row["serial"], tag=row["tag"]
    )
    return hoist_words(hoist, row["customer"])


def topics_between(before: JobState, after: JobState) -> set[Topic]:
    """The topics on which anything was said from one state to the next."""
    topics: set[Topic] = set()
    for entry in after.entries.values():
        if entry.last.seq <= before.seq:
            continue
        for event in entry.touches:
            body = event.body
            said = body.replacement if isinstance(body, Corrected) else body
            if said is not None:
                topics.add(said.topic)
    return topics


def _identity(state: JobState) -> tuple[HoistIdentity, Customer]:
    booked = state.booked
    return (booked.hoist, booked.customer) if booked else (HoistIdentity(), Customer())


def _address(state: JobState, body: ReadingEntered | LookAnswered, hoist: str) -> Row:
    return {
        "job": state.job,
        "part": body.part,
        "feature": body.feature,
        "place": body.place,
        "hoist": hoist,
    }


def _who(entry: Standing) -> Row:
    return {
        "person": entry.last.by,
        "entered_at": moment_text(entry.last.at),
        "seq": entry.last.seq,
    }


def in_order(rows: Sequence[Row]) -> list[Row]:
    """A hoist's jobs from the first to the last visit."""
    return sorted(rows, key=lambda row: (row["opened_at"], row["job"]))
