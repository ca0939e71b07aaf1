"""A sheet with what stood outside the questions of the file that the form was filled from.

Nothing of it is an answer, and nothing of it may be lost: somebody has to put it where it belongs.
"""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.worksheet.worksheet import Worksheet

from survey.errors import Problem
from survey.workbook.layout import NOT_READ_FIRST, column_name
from survey.workbook.writing import look
from survey.workbook.writing.cells import write
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import set_up

_TITLE = "What was not read, and belongs somewhere else"
_USE = "Put each text where it is asked for, or in the remarks. Then delete this sheet."
_HEADINGS, _WIDTHS = ("Where it stood", "What stood there", "What belongs there"), (28, 50, 60)


def fill_left_over(sheet: Worksheet, stray: Iterable[Problem]) -> None:
    """Write each text with the place where it stood."""
    write(sheet["A1"], _TITLE, Look.TITLE)
    write(sheet["A2"], _USE)
    for column, (heading, width) in enumerate(zip(_HEADINGS, _WIDTHS, strict=True), start=1):
        write(sheet.cell(NOT_READ_FIRST - 1, column), heading, Look.HEADING)
        sheet.column_dimensions[column_name(column - 1)].width = width
    for row, one in enumerate(stray, start=NOT_READ_FIRST):
        said = one.where, one.read, one.expected
        for column, text in enumerate(said, start=1):
            write(sheet.cell(row, column), text, Look.QUESTION)
        texts = zip(said, _WIDTHS, strict=True)
        sheet.row_dimensions[row].height = look.height(
            *((text, width, look.QUESTION_SIZE) for text, width in texts)
        )
    set_up(sheet, head_rows=None, frozen=f"A{NOT_READ_FIRST}", landscape=True)
