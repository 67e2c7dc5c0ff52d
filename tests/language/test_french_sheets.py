"""A French blank sheet, filled as a French technician types, reads back like the English one."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import openpyxl
import pytest
from what_papers_say import DAY, demo_shop, every_basis

from hoistwright.hoist.library import shipped
from hoistwright.job.job_sheet import JobSheet
from hoistwright.sheet import BlankSheet, blank_rows, read_sheet
from hoistwright.sheet.answers import answer_of
from hoistwright.sheet.blank_csv import blank_csv
from hoistwright.sheet.blank_toml import blank_toml
from hoistwright.sheet.blank_xlsx import blank_xlsx
from hoistwright.sheet.columns import COLUMNS, HEADER, NOTES, column_of, header_key
from hoistwright.sheet.spellings import spellings
from hoistwright.sheet.write_blank import write_blank

FIGURE = "60,25; 60,31"
"""Two repeats with decimal commas."""
HEADER_TYPED = {
    "en": {"examined on": "2026-11-25", "examined by": "odile", "service": "severe",
           "decimal mark": "comma", "language of papers": "fr"},
    "fr": {"examiné le": "25 nov. 2026", "jour de l’examen": "25 nov. 2026",
           "examiné par": "odile", "service": "sévère", "signe décimal": "virgule",
           "langue des documents": "Français"},
}  # fmt: skip
ANSWER = {"en": "defect", "fr": "défaut"}
MEASURED = ("top_hook", "throat", "")
LOOKED = ("top_hook", "cracks", "")


def made(lang: str) -> BlankSheet:
    return blank_rows(shipped("ardle-2000"), every_basis(), DAY, lang=lang, job="KQ-0500")


def filled_csv(lang: str) -> str:
    """The keys of a CSV sheet are English in every language; what is typed is not."""
    lines = list(csv.reader(io.StringIO(blank_csv(made(lang), separator=";")), delimiter=";"))
    english, typed = HEADER_TYPED["en"], list(HEADER_TYPED[lang].values())
    by_label = dict(zip(english, typed[-5:], strict=True))
    for line in lines:
        if len(line) == 2 and line[0] in by_label:
            line[1] = by_label[line[0]]
        if line[:3] == list(MEASURED):
            line[7:9] = [FIGURE, "cal-1"]
        if line[:3] == list(LOOKED):
            line[10] = ANSWER[lang]
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows(lines)
    return out.getvalue()


def filled_xlsx(lang: str) -> bytes:
    book = openpyxl.load_workbook(io.BytesIO(blank_xlsx(made(lang), shop=demo_shop())))
    job, readings = book.worksheets[:2]
    for row in job.iter_rows(min_row=2):
        label = str(row[0].value)
        if label in HEADER_TYPED[lang]:
            row[1].value = HEADER_TYPED[lang][label]
    heads = [cell.value for cell in readings[3]]
    names = {"en": ("reading", "gauge", "answer"), "fr": ("relevé", "instrument", "réponse")}[lang]
    reading, gauge, answer = (heads.index(name) for name in names)
    for row in readings.iter_rows(min_row=4):
        address = tuple(cell.value or "" for cell in row[:3])
        if address == MEASURED:
            row[reading].value, row[gauge].value = FIGURE, "cal-1"
        if address == LOOKED:
            row[answer].value = ANSWER[lang]
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def filled_toml(lang: str) -> str:
    text = blank_toml(made(lang))
    typed = HEADER_TYPED[lang]
    keys = dict(
        zip(("examined_on", "examined_by", "service", "decimal", "language"),
            list(typed.values())[-5:], strict=True)
    )  # fmt: skip
    for key, value in keys.items():
        text = re.sub(rf'(?m)^{key} = ""', f'{key} = "{value}"', text)
    for (part, feature, _), old, new in (
        (MEASURED, 'value = ""', f'value = "{FIGURE}"'),
        (MEASURED, 'gauge = ""', 'gauge = "cal-1"'),
        (LOOKED, 'answer = ""', f'answer = "{ANSWER[lang]}"'),
    ):
        at = text.index(f'part = "{part}"\nfeature = "{feature}"')
        text = text[:at] + text[at:].replace(old, new, 1)
    return text


def read(path: Path, lang: str) -> JobSheet:
    if path.suffix == ".xlsx":
        path.write_bytes(filled_xlsx(lang))
    else:
        path.write_text((filled_csv if path.suffix == ".csv" else filled_toml)(lang), "utf-8")
    return read_sheet(path, shop=demo_shop(), today=DAY)


@pytest.mark.parametrize("suffix", [".csv", ".toml", ".xlsx"])
def test_a_french_sheet_reads_back_like_an_english_one(suffix: str, tmp_path: Path) -> None:
    french = read(tmp_path / f"fr{suffix}", "fr")
    assert french == read(tmp_path / f"en{suffix}", "en")
    assert french.customer.language == "fr"
    assert french.work.service == "severe"
    (reading,), (look,) = french.readings, french.looks
    assert reading.values == (0.06025, 0.06031)
    assert look.answer == "defect"


def test_a_workbook_is_french_all_through() -> None:
    book = openpyxl.load_workbook(io.BytesIO(blank_xlsx(made("fr"), shop=demo_shop())))
    assert book.sheetnames[:2] == ["Dossier", "Relevés"]
    assert [cell.value for cell in book["Relevés"][3]][:5] == [
        "pièce", "caractéristique", "endroit", "à faire", "à l’état neuf",
    ]  # fmt: skip
    choices = [item.formula1 for item in book["Relevés"].data_validations.dataValidation]
    assert '"en ordre,défaut,non regardé"' in choices


def test_labels_and_columns_are_told_apart_in_every_language() -> None:
    """Two labels with one spelling would send an entry to the wrong line."""
    for words in ([line.label for line in HEADER], [*COLUMNS, *NOTES]):
        spelt = [spelling for word in words for spelling in spellings(word)]
        assert len(spelt) == len(set(spelt))


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("Numéro de série :", "hoist.serial"),
        ("charge nominale", "hoist.rated_load"),
        ("fabricant", "hoist.maker"),
        ("modèle", "hoist.model"),
        ("fichier de modèle", "design"),
        ("Lieu d'utilisation", "customer.premises"),
    ],
)
def test_french_labels_are_known(typed: str, key: str) -> None:
    assert header_key(typed) == key


def test_french_columns_and_answers_are_known() -> None:
    assert [column_of(word) for word in ("Pièce", "relevé", "Réponse")] == [
        "part", "reading", "answer",
    ]  # fmt: skip
    assert [answer_of(word) for word in ("oui", "Non", "en ordre", "defaut", "non regardé")] == [
        "in order", "defect", "in order", "defect", "not looked",
    ]  # fmt: skip
    assert answer_of("peut-être") is None


def test_french_spreadsheets_want_semicolons(tmp_path: Path) -> None:
    """Where the decimal mark is a comma, spreadsheets split CSV at semicolons."""
    write_blank(tmp_path / "fr.csv", made("fr"))
    write_blank(tmp_path / "en.csv", made("en"))
    assert "part;feature;place" in (tmp_path / "fr.csv").read_text("utf-8-sig")
    assert "part,feature,place" in (tmp_path / "en.csv").read_text("utf-8-sig")
