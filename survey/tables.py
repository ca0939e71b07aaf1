"""The answers of a survey as plain tables, one for each page of the form, for a database.

Figures are bare numbers in the unit that the heading names; days are ISO dates. An answer that is
not known is an empty field, so is a question that was never asked; one that does not apply says so.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterator, Mapping

from survey.model import Row, Survey, Value
from survey.vocabulary import DOES_NOT_APPLY, Kind, Missing, Subject, Word, plain_number
from survey.vocabulary.kinds import MEASURES
from survey.vocabulary.walk import PAGES, questions

# A spreadsheet that opens the table would take such a text for a formula.
_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def tables(survey: Survey) -> Mapping[str, str]:
    """A table in CSV (RFC 4180) for each page of the form, by the page's name.

    The first two columns name the job and the row. Text that begins as a formula does has an
    apostrophe before it.
    """
    return {page.sheet: _table(survey, page.subject, questions(page, survey.vocabulary))
            for page in PAGES}  # fmt: skip


def _table(survey: Survey, subject: Subject, words: tuple[Word, ...]) -> str:
    written = io.StringIO()
    table = csv.writer(written)
    table.writerow(["survey", "label", *(_heading(survey, word) for word in words)])
    for row in survey.rows(subject):
        table.writerow(_fields(survey, row, words))
    return written.getvalue()


def _fields(survey: Survey, row: Row, words: tuple[Word, ...]) -> Iterator[str]:
    yield _plain(survey.name)
    yield _plain(row.label)
    for word in words:
        yield _field(word, row.value(word.name), word.unit_in(survey.units))


def _heading(survey: Survey, word: Word) -> str:
    unit = word.unit_in(survey.units)
    return f"{word.key} [{unit}]" if unit else word.key


def _field(word: Word, value: Value, unit: str | None) -> str:
    if isinstance(value, Missing):
        return str(DOES_NOT_APPLY) if value is DOES_NOT_APPLY else ""
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, str):
        return _plain(value)
    if word.kind is Kind.COUNT or not unit:
        return plain_number(value)
    return plain_number(value / MEASURES[word.kind].units[unit.lower()])


def _plain(text: str) -> str:
    return f"'{text}" if text.startswith(_LIKE_A_FORMULA) else text
