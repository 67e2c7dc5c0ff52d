"""Job sheets into the record."""

from __future__ import annotations

from hoistwright.job.from_sheet import drafts_of
from hoistwright.job.job_sheet import JobSheet
from hoistwright.store.model import Appended, Store


def import_sheet(store: Store, sheet: JobSheet) -> Appended:
    """Enter a whole job sheet as events of its job. A sheet entered before enters nothing.

    Raises ValueError or StoreError; nothing was entered then.
    """
    return store.append(sheet.job, drafts_of(sheet))
