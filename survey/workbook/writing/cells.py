"""Write one cell of the form."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import datetime as dt
import re

from openpyxl.cell.cell import Cell

from survey.model import Row
from survey.vocabulary import NOT_KNOWN, Kind, Missing, Word, write_exactly
from survey.workbook.writing.look import Look
from survey.workbook.writing.plan import Order

# What a spreadsheet would take for a coded letter, "_x0041_", is itself written in that code.
_CODED_LETTER = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")


def write(cell: Cell, text: str, as_look: Look | None = None) -> None:
    """Write a text as text, whatever it looks like: never a formula, an error or a number."""
    if as_look is not None:
        cell.style = as_look
    cell.value = coded(text)
    cell.data_type = "s"
    if text.startswith("="):
        cell.quotePrefix = True


def coded(text: str) -> str:
    """The text as it is written in the file, so that a spreadsheet shows it as it is."""
    return _CODED_LETTER.sub("_x005F_", text)


def write_answer(cell: Cell, word: Word, row: Row, order: Order) -> None:
    """Write an answer as a person would, so that reading it gives the same value.

    What stood there and gave no answer is written as it stood.
    """
    value = row.value(word.name)
    unread = order.unread.get((row.subject, row.label, word.name))
    if unread is not None and isinstance(value, Missing):
        write(cell, unread)
    elif value is NOT_KNOWN:
        pass
    elif isinstance(value, (Missing, str)):
        write(cell, str(value))
    elif isinstance(value, dt.date):
        cell.value = value
    elif word.kind is Kind.COUNT:
        cell.value = int(value)
    else:
        write(cell, write_exactly(value, word.kind, word.unit_in(order.units)))
