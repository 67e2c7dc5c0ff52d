"""From a template and its data to PDF bytes. The same data gives the same bytes anywhere."""

from __future__ import annotations

import datetime
import functools
import json
from collections.abc import Mapping
from typing import Any, Literal

from hoistwright.certificate.glyphs import font_folder, names_of, printable
from hoistwright.certificate.template_words import template_folder, template_words

Paper = Literal["a4", "us-letter"]
PAPERS: tuple[Paper, ...] = ("a4", "us-letter")


def typeset(
    template: str,
    data: Mapping[str, Any],
    *,
    day: datetime.date,
    paper: Paper = "a4",
    record: bytes | None = None,
) -> bytes:
    """Set one paper, to PDF/A-2a (for keeping) and PDF/UA-1 (for screen readers).

    Args:
        template: name of a file in `templates/`, without its ending.
        data: what the template asks for, as JSON knows it. Texts may hold any character;
            one that our typeface lacks is replaced by its number, with a remark on the paper.
        day: stands as the day of making, so that the bytes depend on nothing but the data.
        paper: "a4" or "us-letter".
        record: what the template attaches, UTF-8; the paper is then made to PDF/A-3a, which
            allows attachments.

    Raises:
        ValueError: for another paper.
    """
    more = {} if record is None else {"record": record.decode()}
    return _compiled(
        template,
        data,
        day,
        {"paper": checked(paper), **more},
        format="pdf",
        pdf_standards=["a-2a" if record is None else "a-3a", "ua-1"],
        timestamp=datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC),
    )


def checked(paper: Paper) -> Paper:
    """The paper size. Raises ValueError where there is no such."""
    if paper not in PAPERS:
        raise ValueError(f"paper {paper!r}; expected one of: {', '.join(PAPERS)}")
    return paper


def picture_of(template: str, data: Mapping[str, Any], *, day: datetime.date, ppi: float) -> bytes:
    """A template of one page as a PNG picture of `ppi` points to the inch."""
    return _compiled(template, data, day, {}, format="png", ppi=ppi)


def pictures_of(
    template: str, data: Mapping[str, Any], *, day: datetime.date, ppi: float, record: bytes = b""
) -> tuple[bytes, ...]:
    """The pages of a template as PNG pictures."""
    inputs = {"paper": PAPERS[0], "record": record.decode()}
    made = _set(template, data, day, inputs, format="png", ppi=ppi)
    return tuple(made) if isinstance(made, list) else (made,)


def _compiled(
    template: str, data: Mapping[str, Any], day: datetime.date, inputs: dict[str, str], **how: Any
) -> bytes:
    made = _set(template, data, day, inputs, **how)
    if not isinstance(made, bytes):
        raise TypeError(f"the typesetter gave {type(made).__name__}; expected one paper")
    return made


def _set(
    template: str, data: Mapping[str, Any], day: datetime.date, inputs: dict[str, str], **how: Any
) -> Any:
    import typst

    words = template_words(template, data.get("lang", "en"))
    ready, lacking = printable({**data, "words": words})
    ready["lacking"] = names_of(lacking)
    ready["day"] = [day.year, day.month, day.day]
    folder = template_folder()
    return typst.compile(
        str(folder / f"{template}.typ"),
        None,
        root=str(folder),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(ready, ensure_ascii=False), **inputs},
        **how,
    )


@functools.cache
def _fonts() -> Any:
    import typst

    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(font_folder())],
    )
