"""Forms to test with: blank, filled in throughout, and spoilt on purpose."""

from __future__ import annotations

import datetime as dt
import functools
import io
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl

from survey.model import LISTS, Answer, Row, Survey, Value
from survey.vocabulary import DOES_NOT_APPLY, VOCABULARY, Kind, Subject, Word
from survey.workbook import write_form

_COUNTS = {
    Subject.WALL: 4,
    Subject.PIER: 30,
    Subject.UTILITY: 6,
    Subject.NEIGHBOUR: 4,
    Subject.SOIL_LAYER: 4,
    Subject.PHOTO: 2,
    Subject.RELEASE: 3,
}


def full_survey() -> Survey:
    """A survey of 30 piers with an answer to everything that applies."""
    lists = {
        name: tuple(
            _full_row(subject, f"{subject.value[0].upper()}{n}") for n in range(_COUNTS[subject])
        )
        for subject, name in LISTS.items()
    }
    return Survey("full", _full_row(Subject.SITE, "site"), **lists)


def _full_row(subject: Subject, label: str) -> Row:
    answers: dict[str, Answer] = {}
    for word in VOCABULARY.asked_of(subject):
        value = _usual(word)
        if word.asks_when and answers[word.asks_when.word].value not in word.asks_when.choices:
            value = DOES_NOT_APPLY
        answers[word.name] = Answer(value, label)
    return Row(subject, label, answers, label)


def _usual(word: Word) -> Value:
    match word.kind:
        case Kind.CHOICE | Kind.YES_NO:
            return word.choices[-1]
        case Kind.REFERENCE:
            return "W1"
        case Kind.DATE:
            return dt.date(2026, 4, 3)
        case Kind.TEXT:
            return f"{word.name}, as the surveyor found it"
        case _:
            assert word.low is not None
            assert word.high is not None
            return float(round((word.low + word.high) / 2))


@functools.cache
def blank_form() -> bytes:
    """The bytes of a blank form."""
    return _form(None)


@functools.cache
def filled_form() -> bytes:
    """The bytes of a form filled in throughout."""
    return _form(full_survey())


def _form(survey: Survey | None) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.xlsx"
        write_form(path, survey)
        return path.read_bytes()


def edited(content: bytes, change: Callable[[openpyxl.Workbook], object]) -> bytes:
    """The workbook after a change, as a spreadsheet program would save it."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    change(book)
    saved = io.BytesIO()
    book.save(saved)
    return saved.getvalue()


def with_part(content: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The workbook file after a change to the bytes of one of its parts."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w") as new:
        for entry in old.namelist():
            part = old.read(entry)
            spoilt = change(part) if entry == name else part
            assert entry != name or spoilt != part, "the change changed nothing"
            new.writestr(entry, spoilt, zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def column_of(sheet: openpyxl.worksheet.worksheet.Worksheet, key: str) -> int:
    """Number of the column with a key, counted from 1."""
    for row in sheet.iter_rows(min_row=1, max_row=10):
        for cell in row:
            if cell.value == key:
                return int(cell.column)
    raise LookupError(key)


def row_of(sheet: openpyxl.worksheet.worksheet.Worksheet, key: str) -> int:
    """Number of the row with a key on the Site sheet, counted from 1."""
    for row in sheet.iter_rows():
        for cell in row:
            if cell.value == key:
                return int(cell.row)
    raise LookupError(key)
