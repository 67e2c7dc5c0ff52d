"""What a blank sheet asks: exactly what must be looked at and measured on this design.

A plain value; `blank_xlsx.py`, `blank_csv.py` and `blank_toml.py` write it, and so may others.
"""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Sequence
from typing import Literal, get_args

import attrs

from hoistwright.basis.model import Basis
from hoistwright.basis.rulings import rulings
from hoistwright.examine.entries import Answer
from hoistwright.examine.findings import NOT_KNOWN
from hoistwright.examine.points import Point, points
from hoistwright.hoist.design import Design
from hoistwright.hoist.feature import Stage, catalogue
from hoistwright.language import Language, language
from hoistwright.quantity import Dimension, show
from hoistwright.sheet.columns import HEADER, HeaderLine
from hoistwright.sheet.figures import usual_unit
from hoistwright.sheet.limit_words import limit_words


@attrs.frozen(kw_only=True)
class BlankRow:
    """One point to look at or measure. `unit` is what a bare figure is taken in.

    `boxes` are what to tick: the answers of a look; one empty box for a reading.
    """

    part: str
    feature: str
    """The key without its role, as it is typed."""
    place: str
    place_name: str
    """The place in the sheet's language; `place` is typed and stays as it is."""
    name: str
    measured: bool
    required: bool
    ask: str
    how: str
    stage: Stage
    instruments: tuple[str, ...]
    as_new: str
    limit: str
    unit: str
    links: int | None
    dimension: Dimension
    boxes: tuple[str, ...]


@attrs.frozen(kw_only=True)
class BlankSection:
    """All rows of one part, under its caution."""

    part: str
    name: str
    caution: str
    rows: tuple[BlankRow, ...]


@attrs.frozen(kw_only=True)
class BlankSheet:
    """A blank sheet for one design, judged by these bases on that day.

    `header` holds what is filled in already, by the keys of `sheet/columns.py`. Names, tasks,
    limits, labels and hints are in the sheet's language; keys are not.
    """

    design: Design
    bases: tuple[Basis, ...]
    day: datetime.date
    units: Literal["mm", "in"]
    language: Language
    header: tuple[tuple[HeaderLine, str], ...]
    sections: tuple[BlankSection, ...]

    @property
    def title(self) -> str:
        identity, say = self.design.identity, self.language.say
        names = (identity.maker, identity.model)
        named = " ".join(say(name) if name == NOT_KNOWN else name for name in names)
        return f"{named}, {say(identity.kind)}"

    @property
    def bases_said(self) -> tuple[str, ...]:
        """The titles of the bases."""
        return tuple(self.language.sentence(basis.head.title) for basis in self.bases)

    @property
    def rows(self) -> tuple[BlankRow, ...]:
        return tuple(row for section in self.sections for row in section.rows)


def blank_rows(
    design: Design,
    bases: Sequence[Basis],
    day: datetime.date,
    /,
    *,
    units: Literal["mm", "in"] = "mm",
    lang: str = "en",
    **filled: str,
) -> BlankSheet:
    """A blank sheet: every point of `design`, with as-new values and the limits on `day`.

    Args:
        design: the design.
        bases: the bases to judge by.
        day: the day for which limits hold.
        units: the units of lengths.
        lang: the language of the sheet.
        filled: header lines that are known already, by key with "__" for ".":
            `job="KQ-0412"`, `hoist__serial="A 2210"`. `design` and `work__bases` are the names
            by which the design and the bases are found; their keys where not given.

    Errors:
        ValueError: a header key that there is not.
    """
    own = language(lang)
    ruled = rulings(design, bases, day)
    groups = itertools.groupby(points(design, ruled), key=lambda point: point.part)
    return BlankSheet(
        design=design,
        bases=tuple(bases),
        day=day,
        units=units,
        language=own,
        header=_header(design, bases, units, filled, own),
        sections=tuple(_section(design, list(group), units, own) for _, group in groups),
    )


def _header(
    design: Design, bases: Sequence[Basis], units: str, filled: dict[str, str], own: Language
) -> tuple[tuple[HeaderLine, str], ...]:
    known = {
        "format": "1",
        "design": design.key,
        "work.bases": "; ".join(basis.key for basis in bases),
        "sheet.units": units,
    }
    known |= {key.replace("__", "."): value for key, value in filled.items()}
    keys = {line.key for line in HEADER}
    unknown = ", ".join(key for key in known if key not in keys)
    if unknown:
        raise ValueError(f"header lines {unknown}; expected some of: {', '.join(sorted(keys))}")
    shown = (line for line in HEADER if line.key != "sheet.confirmed")
    return tuple((_said(line, own), known.get(line.key, "")) for line in shown)


def _said(line: HeaderLine, own: Language) -> HeaderLine:
    return attrs.evolve(line, label=own.say(line.label), hint=own.say(line.hint))


def _section(design: Design, group: Sequence[Point], units: str, own: Language) -> BlankSection:
    first = group[0]
    return BlankSection(
        part=first.part,
        name=own.sentence(first.part_name),
        caution=own.sentence(catalogue()[first.feature.partition(".")[0]].caution),
        rows=tuple(_row(design, point, units, own) for point in group),
    )


def _row(design: Design, point: Point, units: str, own: Language) -> BlankRow:
    unit = usual_unit(point.dimension, units) if point.measured else ""
    return BlankRow(
        part=point.part,
        feature=point.feature.partition(".")[2],
        place=point.place,
        place_name=own.sentence(point.place),
        name=own.sentence(point.name),
        measured=point.measured,
        required=not point.reference,
        ask=own.sentence(point.ask),
        how=own.sentence(point.how),
        stage=point.stage,
        instruments=tuple(own.sentence(tool) for tool in point.instruments),
        as_new=_as_new(point, unit, own),
        limit=own.sentence(limit_words(design, point, unit)),
        unit=unit,
        links=point.links,
        dimension=point.dimension,
        boxes=("",) if point.measured else tuple(own.say(word) for word in get_args(Answer)),
    )


def _as_new(point: Point, unit: str, own: Language) -> str:
    if point.baseline is None:
        return own.say("not known") if point.measured else ""
    return show(point.baseline.value, point.dimension, unit, decimal=own.decimal)
