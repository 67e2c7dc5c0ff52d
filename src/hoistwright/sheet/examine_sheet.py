"""From a read job sheet and the shop to the examination: the one road everybody takes."""

from __future__ import annotations

from pathlib import Path

from hoistwright.basis.adoption import adoption_state
from hoistwright.basis.loading import find_basis
from hoistwright.examine.entries import Circumstances, Entries
from hoistwright.examine.findings import Plate
from hoistwright.examine.result import Examination, examine
from hoistwright.hoist.library import find_design
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop


def examine_sheet(sheet: JobSheet, shop: Shop) -> Examination:
    """Examine the hoist of one job sheet with the shop's gauges and adopted bases.

    Designs and bases given by path are looked for beside the sheet. Raises FaultsError for a
    design or basis that cannot be read.
    """
    beside = Path(sheet.file).parent if sheet.file else None
    bases = [find_basis(name, beside=beside) for name in sheet.work.bases]
    entries = Entries(
        readings=sheet.readings,
        looks=sheet.looks,
        gauges=shop.all_gauges(),
        circumstances=Circumstances(day=sheet.work.examined_on),
    )
    return examine(
        find_design(sheet.design, beside=beside),
        bases,
        entries,
        adoptions=[adoption_state(basis, shop.adoptions, shop.adopters()) for basis in bases],
        plate=Plate(
            maker=sheet.hoist.maker, model=sheet.hoist.model, rated_load=sheet.hoist.rated_load
        ),
    )
