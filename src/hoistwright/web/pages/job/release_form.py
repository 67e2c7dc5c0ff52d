"""The form of the way out: which fields it has for each exit, and what was typed into them."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright.job.events_release import OCCASIONS, ExitChosen
from hoistwright.job.to_release import rated_load_of
from hoistwright.language import marked
from hoistwright.prove.release import Exit
from hoistwright.quantity import Dimension, show
from hoistwright.web.forms import Form
from hoistwright.web.pages.job.case import Case

EXITS: tuple[tuple[Exit, str, str], ...] = (
    ("released", marked("Released"), marked("fit, proved, for its rated load")),
    (
        "released with lower rated load",
        marked("Released with lower rated load"),
        marked("fit and proved for less; the data plate says so"),
    ),
    (
        "returned unrepaired",
        marked("Returned unrepaired"),
        marked("goes back as it is, marked as not to be used"),
    ),
    ("condemned", marked("Condemned"), marked("made unusable, never to lift again")),
)

FIELDS: Mapping[Exit, tuple[str, ...]] = {
    "released": ("occasion", "due", "more"),
    "released with lower rated load": ("lower", "occasion", "due", "more"),
    "returned unrepaired": ("reason", "told", "occasion", "remarks"),
    "condemned": ("reason", "unusable", "occasion", "remarks"),
}
"""Groups of fields that an exit has."""

_TEXTS = (
    "reason", "allowed_by", "made_unusable", "made_unusable_by", "configuration", "deviations",
    "from_others", "remarks", "why_due",
)  # fmt: skip
_TICKS = ("plate_changed", "marked", "customer_told", "plate_removed")
MOST = 1000


def exit_asked(case: Case, asked: str) -> Exit | None:
    """The exit whose form is open: as asked for, else as chosen."""
    known = {key: key for key, _, _ in EXITS}
    chosen = case.state.exit
    return known.get(asked) or (chosen.exit if chosen else None)  # type: ignore[call-overload]


@attrs.define
class AsChosen(Form):
    """The form as it stands in the journal, whatever was sent to sign."""

    @property
    def sent(self) -> bool:
        return False


def started(case: Case, wanted: Exit | None) -> Form:
    """The form as it stands for an exit, filled with what was chosen before."""
    visit, chosen = case.visit, case.state.exit
    start = {"exit": wanted or "", "occasion": "within 12 months"}
    if chosen is not None and chosen.exit == wanted:
        start |= {name: getattr(chosen, name) for name in _TEXTS}
        start |= {name: "yes" if getattr(chosen, name) else "" for name in _TICKS}
        correct = {None: "", True: "yes", False: "no"}[chosen.installed_correctly]
        start |= {"occasion": chosen.occasion, "installed_correctly": correct}
        if chosen.lowered_to is not None:
            start["lowered_to"] = show(chosen.lowered_to, Dimension.MASS, _unit(case))
        if chosen.next_due is not None:
            start["next_due"] = chosen.next_due.isoformat()
    elif wanted == "condemned":
        start["made_unusable_by"] = visit.person.name
    return AsChosen(visit, start)


def said(case: Case, form: Form) -> ExitChosen | None:
    """What the form says; None where something of it is wrong, which the form then tells."""
    say = case.visit.say
    wanted = exit_asked(case, form.value("exit")) if form.value("exit") else None
    if wanted is None:
        form.wrong("exit", say("Choose one of the four ways out."))
        return None
    typed: dict[str, Any] = {name: form.text(name, most=MOST) for name in _TEXTS}
    typed |= {name: form.value(name) == "yes" for name in _TICKS}
    occasion = form.choice("occasion", OCCASIONS, needed=say("Say which kind of examination."))
    correct = {"yes": True, "no": False}.get(form.value("installed_correctly"))
    made = ExitChosen(
        exit=wanted,
        lowered_to=_lowered(case, form) if "lower" in FIELDS[wanted] else None,
        occasion=occasion or "within 12 months",  # type: ignore[arg-type]
        installed_correctly=correct,
        next_due=_next_due(case, form) if "due" in FIELDS[wanted] else None,
        **typed,
    )
    return _cut(made) if form.sound else None


def _cut(made: ExitChosen) -> ExitChosen:
    """Without what belongs to another exit, should it have been sent."""
    groups = FIELDS[made.exit]
    off: dict[str, Any] = {}
    if "lower" not in groups:
        off |= {"allowed_by": ""}
    if made.exit not in ("released with lower rated load",):
        off |= {"plate_changed": False}
    if "told" not in groups:
        off |= {"marked": False, "customer_told": False}
    if "unusable" not in groups:
        off |= {"made_unusable": "", "made_unusable_by": "", "plate_removed": False}
    if "reason" not in groups:
        off |= {"reason": ""}
    return attrs.evolve(made, **off)


def _lowered(case: Case, form: Form) -> float | None:
    found = form.quantity("lowered_to", Dimension.MASS, _unit(case))
    say, rated = case.visit.say, rated_load_of(case.facts)
    if found is None:
        form.wrong("lowered_to", say("State the lower rated load."))
        return None
    value = float(found.si)
    if not value > 0 or (rated is not None and not value < rated):
        words = say("It must lie below %(load)s and above 0.", load=case.visit.load(rated))
        form.wrong("lowered_to", words)
        return None
    return value


def _next_due(case: Case, form: Form) -> datetime.date | None:
    day = form.date("next_due")
    if day is not None and day <= case.visit.bench.today:
        form.wrong("next_due", case.visit.say("This day is past. State one to come."))
    return day


def _unit(case: Case) -> str:
    return "kg" if case.visit.units == "mm" else "lb"
