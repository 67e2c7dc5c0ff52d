"""Which designs the book-in form offers, and what it asks back about the rated load."""

from __future__ import annotations

from typing import Any

import attrs

from hoistwright.hoist.design import Design
from hoistwright.web.booking_before import Before
from hoistwright.web.booking_form import BEGIN, LATER
from hoistwright.web.designs import all_designs, design_named
from hoistwright.web.forms import Form
from hoistwright.web.plate import Plate, Suggestion, suggested_one, suggestions
from hoistwright.web.plate_load import LoadAsked, load_asked, typed_load
from hoistwright.web.visit import Visit


def suggested(visit: Visit, form: Form, plate: Plate, before: Before | None) -> dict[str, Any]:
    """For the template: the designs offered, those folded away beside them, the question."""
    found = list(suggestions(plate, _all(visit)))
    chosen = form.value("design")
    for name in (chosen, before.hoist.design if before else ""):
        design = design_named(visit.bench, name) if name not in ("", BEGIN, LATER) else None
        if design is not None and name not in {one.name for one in found}:
            found.insert(0, suggested_one(plate, name, design))
    first, others = _known_first(found, before)
    return {
        "suggested": first,
        "others": others,
        "chosen": chosen,
        "plate": plate,
        "load_asked": asked_of(visit, form, plate),
    }


def _known_first(
    found: list[Suggestion], before: Before | None
) -> tuple[list[Suggestion], list[Suggestion]]:
    """The design of a hoist that was here before, and the others; all, where the plate as it is
    typed now speaks against that design.
    """
    known = next((one for one in found if before and one.name == before.hoist.design), None)
    if known is None or known.contradicted:
        return found, []
    return [known], [one for one in found if one is not known]


def asked_of(visit: Visit, form: Form, plate: Plate) -> LoadAsked | None:
    """What to ask back about the rated load, where there is one and it is doubtful."""
    text = form.value("rated_load")
    found = typed_load(visit, text)
    if found is None or isinstance(found, str):
        return None
    return load_asked(visit, text, found, _taken_for(visit, form, plate))


def _taken_for(visit: Visit, form: Form, plate: Plate) -> list[Design]:
    """The design that is chosen; else those that bear the name of the plate."""
    chosen = form.value("design")
    if chosen in (BEGIN, LATER):
        return []
    design = design_named(visit.bench, chosen) if chosen else None
    if design is not None:
        return [design]
    named = suggestions(attrs.evolve(plate, rated_load=None), _all(visit))
    return [one.design for one in named if one.fits.get("model") == "same"]


def _all(visit: Visit) -> list[tuple[str, Design]]:
    return [(named.name, named.design) for named in all_designs(visit.bench)]
