"""The label that goes on the hoist, from the record of its certificate: PDF or PNG."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

import attrs

from hoistwright.certificate.release.page import code_svg
from hoistwright.certificate.release.page_cells import Writer
from hoistwright.certificate.release.standing import open_defects
from hoistwright.certificate.release.texts import WORDS
from hoistwright.certificate.release.values import RELEASES
from hoistwright.certificate.typeset import picture_of, typeset
from hoistwright.language import language
from hoistwright.quantity import Dimension

PPI = 300.0
"""Of most label printers."""


@attrs.frozen
class LabelSize:
    """A label in mm, with the sizes of its letters in points."""

    width: float
    height: float
    size: float
    big: float
    margin: float = 1.5

    @property
    def code_width(self) -> float:
        """The code takes the height of the label, but never more than half its width."""
        return min(self.height - 2 * self.margin, self.width / 2 - self.margin)


SIZES: Mapping[str, LabelSize] = {
    "62x29": LabelSize(62, 29, 6.4, 15),
    "89x28": LabelSize(89, 28, 6.6, 18),
    "76x51": LabelSize(76, 51, 8, 17, 2),
    "100x50": LabelSize(100, 50, 10, 25, 2),
}
"""Common sizes, width x height in mm."""


def label_data(record: Mapping[str, Any], code: str, size: str, lang: str = "en") -> dict[str, Any]:
    """What a label prints. Pure.

    Args:
        record: of the certificate.
        code: the signed code of the same record.
        size: a key of `SIZES`.
        lang: "en" or "fr".

    Raises:
        ValueError: a size that there is not.
    """
    if size not in SIZES:
        raise ValueError(f"label size {size!r}; expected one of: {', '.join(SIZES)}")
    w = Writer(language(lang), record["units"])
    usable = record["decision"] in RELEASES
    due = record["next_due"]
    waiting = open_defects(record)[:1] if usable else []
    lines = [
        [w.say("Serial number"), w.stated(record["hoist"]["serial"])],
        [w.say("Next examination by"), w.day(due["day"])] if due else [],
        *([w.say("Put right first, by"), w.day(item["by"])] for item in waiting),
        [w.say("Certificate"), f"{record['number']}, {w.say('revision')} {record['revision']}"],
    ]
    return {
        **attrs.asdict(SIZES[size]),
        "code_width": SIZES[size].code_width,
        "lang": lang,
        "title": w.say("Label of %(number)s", number=record["number"]),
        "shop": record["shop"]["name"],
        "usable": usable,
        "load_word": w.say("Rated load"),
        "load": w.figure(record["rated_load"], Dimension.MASS)
        if usable
        else w.say("Do not use: %(why)s", why=w.say(WORDS[record["decision"]])),
        "lines": [line for line in lines if line],
        "code": code_svg(code),
        "code_alt": w.say("Square code with the signed essentials of this certificate"),
        "issued_on": record["dates"]["issued_on"],
    }


def label_pdf(data: Mapping[str, Any]) -> bytes:
    """The label as a PDF of its own size. `data` comes from `label_data`."""
    return typeset("tag", data, day=datetime.date.fromisoformat(data["issued_on"]))


def label_png(data: Mapping[str, Any], ppi: float = PPI) -> bytes:
    """The label as a picture."""
    return picture_of("tag", data, day=datetime.date.fromisoformat(data["issued_on"]), ppi=ppi)
