"""The job: its pages from book in to ready to prove. One module for each page."""

from __future__ import annotations

from hoistwright.web.page import Page
from hoistwright.web.pages.job import (
    booking,
    drawings,
    examine,
    history,
    overview,
    papers,
    part,
    photos,
    prove,
    prove_series,
    quote,
    rebuild,
    release,
    release_papers,
    release_sign,
    renew,
    step_pictures,
    stream,
    strip,
    worker,
)

PAGES: tuple[Page, ...] = tuple(
    page
    for module in (
        worker,
        overview,
        booking,
        strip,
        examine,
        part,
        renew,
        quote,
        rebuild,
        prove,
        prove_series,
        release,
        release_sign,
        release_papers,
        history,
        papers,
        photos,
        drawings,
        step_pictures,
        stream,
    )
    for page in module.PAGES
)
