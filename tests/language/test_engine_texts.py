"""Every sentence in the code of the engines has its French, reached by a demo or not."""

from __future__ import annotations

from pathlib import Path

import pytest
from engine_texts import ROOT, modules, texts

from hoistwright.language import language

ENGINES = modules(
    "examine",
    "metrology/rules.py",
    "metrology/verdict.py",
    "metrology/gauges.py",
    "metrology/reading.py",
    "metrology/derived.py",
    "basis/adoption.py",
    "basis/rulings.py",
    "hoist/as_new.py",
    "sheet/limit_words.py",
    "job/requirements.py",
    "job/conflicts.py",
    "renew/needs.py",
    "renew/optimum.py",
    "renew/selection.py",
)

NOT_SHOWN = {
    # words that the code compares, or that name a state: no page or paper prints them
    "better than as new", "not in the shop file", "was due for calibration", "no as-new value",
    "number of links", "found state", "changed since", "person not entitled",
    "in date", "out of date", "not yet calibrated", "no calibration on record",
    "reading out of range", "outside its working temperature",
    "chain gauge length", "hook mark distance or throat",
    # told in errors to whoever writes data or calls the engine
    "nobody of this shop yet", "0 or more", "a finite figure", "above range_min",
    "not before calibrated_on",
    # the rule's kind, printed as a name by the page of a basis
    "guarded acceptance", "simple acceptance",
    # completed by " (why)" or by nothing; what comes of it is tested with the demo
    "3 likely to reach its limit before the next visit3.",
}  # fmt: skip


@pytest.mark.parametrize("path", ENGINES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_sentence_has_its_french(path: Path) -> None:
    french = language("fr")
    lacking = {text for text in texts(path) if french.lacking(text)}
    assert lacking - NOT_SHOWN == set()


def test_the_search_finds_sentences() -> None:
    """So that an empty answer of the search cannot pass for a full catalogue."""
    found = {text for path in ENGINES for text in texts(path)}
    assert "the reading is at or beyond the limit" in found
    assert "the gauge '3' is not in the shop file" in found
    assert found >= NOT_SHOWN
