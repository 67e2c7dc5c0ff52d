"""Entries: one text for one content, sealed so that nothing in it can be changed unseen."""

from __future__ import annotations

import datetime
import hashlib
import json
import math
import subprocess
import sys

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_helpers import NOON, booking, draft, look, reading

from hoistwright.faults import FaultsError
from hoistwright.job.codec import body_of, canonical, plain
from hoistwright.job.entry import BEGINNING, EntryError, Event, seal, unseal
from hoistwright.job.events import KINDS, Body, Corrected, ReadingEntered

writing = st.text(
    st.characters(exclude_categories=["Cs", "Cc"], include_characters="\n\t"), max_size=40
)
figures = st.floats(allow_nan=False, allow_infinity=False, width=64).filter(
    lambda value: abs(value) < 1e300
)
readings = st.builds(
    ReadingEntered,
    part=writing,
    feature=writing,
    place=writing,
    values=st.lists(figures, min_size=1, max_size=5).map(tuple),
    unit=st.sampled_from(["mm", "in", "°"]),
    gauge=writing,
    links=st.none() | st.integers(1, 999),
    remark=writing,
)


def sealed(body: Body, seq: int = 1, before: str = BEGINNING, by: str = "odile") -> Event:
    return seal(draft(body, by=by), job="KQ-1", seq=seq, at=NOON, before=before)


@given(readings)
def test_what_is_read_back_is_what_was_said(body: ReadingEntered) -> None:
    event = sealed(body)
    again = unseal(event.text, event.hash)
    assert again == event
    assert again.body == body
    assert canonical(json.loads(event.text)) == event.text


@given(figures)
def test_a_figure_comes_back_to_the_last_bit(value: float) -> None:
    """IEEE 754: the shortest decimal that rounds to a double gives that double back."""
    body = unseal(*_text_and_hash(reading(value=value))).body
    assert isinstance(body, ReadingEntered)
    assert math.copysign(1, body.values[0]) == math.copysign(1, value)
    assert body.values[0] == value


def _text_and_hash(body: Body) -> tuple[str, str]:
    event = sealed(body)
    return event.text, event.hash


def test_the_hash_is_sha256_of_the_text_as_any_tool_makes_it() -> None:
    event = sealed(booking())
    assert event.hash == hashlib.sha256(event.text.encode()).hexdigest()
    told = subprocess.run(
        ["sha256sum"], input=event.text.encode(), capture_output=True, check=True
    ).stdout
    assert told.decode().split()[0] == event.hash


def test_the_text_does_not_depend_on_the_hash_seed() -> None:
    """The same entry on any machine: sets and dictionaries in another order change nothing."""
    code = (
        "from record_helpers import *; from hoistwright.job.entry import *;"
        "print(seal(draft(booking(), id_='same-id-0001'), job='KQ', seq=1, at=NOON,"
        " before=BEGINNING).hash)"
    )
    paths = [path for path in sys.path if path]
    hashes = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(paths)},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(hashes) == 1


def test_an_entry_of_the_first_format_stays_readable() -> None:
    """As written by the first release: this text may never be changed."""
    text = (
        '{"at":"2026-11-25T12:00:00.000000Z","before":"' + BEGINNING + '","body":{"feature":'
        '"load_chain.link_pitch","gauge":"","links":null,"part":"load_chain","place":"section 1",'
        '"remark":"½ turned","unit":"mm","values":[0.0241]},"by":"odile","format":1,"id":'
        '"record-0001","job":"KQ-1","kind":"reading","seen":0,"seq":1,"told_at":'
        '"2026-11-25T13:00:01.000000+01:00"}'
    )
    event = unseal(text, hashlib.sha256(text.encode()).hexdigest())
    assert event.told_at == datetime.datetime.fromisoformat("2026-11-25T13:00:01+01:00")
    again = seal(
        attrs.evolve(draft(event.body, id_="record-0001"), told_at=event.told_at),
        job="KQ-1", seq=1, at=NOON, before=BEGINNING,
    )  # fmt: skip
    assert again.text == text


@pytest.mark.parametrize("at", range(0, 300, 7))
def test_any_changed_letter_is_found(at: int) -> None:
    event = sealed(reading())
    changed = event.text[:at] + chr(ord(event.text[at]) ^ 1) + event.text[at + 1 :]
    with pytest.raises(EntryError, match="it was altered"):
        unseal(changed, event.hash, job="KQ-1", seq=1)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_names_what_it_lacks(kind: str) -> None:
    with pytest.raises(FaultsError) as told:
        body_of(kind, {"surprise": 1})
    assert "surprise" in str(told.value)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"values": ["0.02"]}, "key values[1]: read '0.02'; expected a finite number"),
        ({"values": [True]}, "expected a finite number"),
        ({"values": []}, "expected 1 to 100"),
        ({"part": 3}, "key part: read 3; expected a text"),
        ({"links": 1.5}, "key links"),
        ({"values": [1e999]}, "expected a finite number"),
    ],
)
def test_a_tablets_mistake_is_explained(change: dict[str, object], told: str) -> None:
    with pytest.raises(FaultsError) as fault:
        body_of("reading", {**plain(reading()), **change})
    assert told in str(fault.value)


def test_an_unknown_kind_is_explained() -> None:
    with pytest.raises(ValueError, match=r"an event of kind 'sold'; expected one of: .*booked in"):
        body_of("sold", {})


def test_a_correction_carries_its_replacement() -> None:
    body = Corrected(corrects="draft-000001", replacement=look("defect"), reason="seen again")
    event = sealed(body)
    assert unseal(event.text, event.hash).body == body


def test_a_time_without_offset_is_refused() -> None:
    naive = attrs.evolve(draft(reading()), told_at=datetime.datetime(2026, 11, 25, 9, 0))
    with pytest.raises(ValueError, match="without an offset"):
        seal(naive, job="KQ-1", seq=1, at=NOON, before=BEGINNING)
