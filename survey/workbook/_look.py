"""The looks of the form: grey, black and white, so that a poor printer loses nothing."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import enum
from math import ceil
from typing import Any

from openpyxl.styles.alignment import Alignment
from openpyxl.styles.borders import Border, Side
from openpyxl.styles.fills import PatternFill
from openpyxl.styles.fonts import Font
from openpyxl.styles.named_styles import NamedStyle
from openpyxl.styles.protection import Protection
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import Kind, Word

_FACE = "Arial"
_THIN, _THICK = Side(style="thin", color="9A9A9A"), Side(style="medium", color="000000")
_GREY = PatternFill("solid", fgColor="E4E4E4")
_PALE = PatternFill("solid", fgColor="F4F4F4")
_WRAPPED = Alignment(wrap_text=True, vertical="top", horizontal="left", indent=1)
_GRID = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THIN)
_LAST_OF_HEAD = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THICK)
_LETTERS_A_PAGE = 200  # column widths that stay legible on one landscape page
_TALLEST_ROW = 409.0  # points; what a spreadsheet can show
_TALLEST_HEADING, _TALLEST_HELP = 43.0, 56.0  # points; they must leave rows in sight


class Look(enum.StrEnum):
    """The looks of a cell; each is a named style of the workbook."""

    TITLE = "survey title"
    BLOCK = "survey block"
    LINE = "survey line"
    HEADING = "survey heading"
    UNIT = "survey unit"
    HELP = "survey help"
    SMALL_HELP = "survey small help"
    QUESTION = "survey question"
    NAME = "survey name"
    ANSWER = "survey answer"
    DATE = "survey date"
    COUNT = "survey count"
    LABEL = "survey label"


def answer_look(word: Word) -> Look:
    """The look of the cell to write in."""
    return {Kind.DATE: Look.DATE, Kind.COUNT: Look.COUNT}.get(word.kind, Look.ANSWER)


def styles() -> list[NamedStyle]:
    """The styles of one workbook, by the names in :class:`Look`."""

    def style(look: Look, size: int, *, bold: bool = False, **more: Any) -> NamedStyle:
        italic = look is Look.UNIT
        return NamedStyle(look.value, Font(name=_FACE, size=size, bold=bold, italic=italic), **more)

    cell: dict[str, Any] = {"border": _GRID, "alignment": _WRAPPED}
    # Text format keeps 1/2 or 3-6 from turning into a date.
    answer: dict[str, Any] = {**cell, "protection": Protection(locked=False), "number_format": "@"}
    return [
        style(Look.TITLE, 16, bold=True),
        style(Look.BLOCK, 12, bold=True),
        style(Look.LINE, 10),
        style(Look.HEADING, 10, bold=True, fill=_GREY, **cell),
        style(Look.UNIT, 9, fill=_PALE, **cell),
        style(Look.HELP, 9, fill=_PALE, **cell),
        style(Look.SMALL_HELP, 8, fill=_PALE, border=_LAST_OF_HEAD, alignment=_WRAPPED),
        style(Look.QUESTION, 10, **cell),
        style(Look.NAME, 10, bold=True, **cell),
        style(Look.ANSWER, 10, **answer),
        style(Look.DATE, 10, **{**answer, "number_format": "yyyy-mm-dd"}),
        style(Look.COUNT, 10, **{**answer, "number_format": "0"}),
        style(Look.LABEL, 10, bold=True, **answer),
    ]


def column_width(word: Word, help_text: str) -> int:
    """Width of a question's column, in letters; a long help makes it wide, not tall."""
    longest = max((len(choice) for choice in word.choices), default=0)
    wanted = {Kind.TEXT: 26, Kind.CHOICE: min(longest + 4, 24)}
    width = max(16, wanted.get(word.kind, 16))
    while (
        height((word.name, width, 10)) > _TALLEST_HEADING
        or height((help_text, width, 8)) > _TALLEST_HELP
    ):
        width += 2
    return width


def height(*texts: tuple[str, float, int]) -> float:
    """Height, in points, of a row of wrapped texts, each with its column's width and letter size.

    Where it is not set, not every program makes the row grow when the file is opened.
    """
    return max(
        20.0,
        *(height_of_lines(_lines(text, width, size), size) for text, width, size in texts),
    )


def height_of_lines(lines: int, size: int) -> float:
    """Height, in points, of a row with so many lines of a letter size."""
    return min(lines * size * 1.3 + 4, _TALLEST_ROW)


def _lines(text: str, width: float, size: int) -> int:
    letters = (width - 2) * 10 / size * 1.15
    lines, room = 1, letters
    for word in text.split():
        if len(word) > room:
            lines, room = lines + 1, letters
        if len(word) > letters:
            lines, room = lines + int(len(word) / letters), 0
        room -= len(word) + 1
    return lines


def set_up(sheet: Worksheet, *, head_rows: str, frozen: str, columns: str | None = None) -> None:
    """Freeze and repeat the head of a sheet, lock all but the answers, print on any paper.

    Margins leave room for the printable width of both letter and A4 paper.
    """
    sheet.freeze_panes = frozen
    sheet.print_title_rows, sheet.print_title_cols = head_rows, columns
    sheet.sheet_view.showGridLines = False
    sheet.sheet_format.defaultRowHeight = 20  # for a finger; rows of answers grow with their text
    page = sheet.page_setup
    page.orientation, page.pageOrder = "landscape", "overThenDown"
    page.fitToHeight = 0
    wide = sum(d.width for d in sheet.column_dimensions.values() if not d.hidden)
    page.fitToWidth = ceil(wide / _LETTERS_A_PAGE)
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = sheet.page_margins
    margins.left = margins.right = 0.5
    margins.top, margins.bottom, margins.header, margins.footer = 0.7, 0.7, 0.3, 0.3
    sheet.oddHeader.left.text, sheet.oddHeader.right.text = "Pier survey: &A", "&F"
    sheet.oddFooter.right.text = "Page &P of &N"
    sheet.protection.sheet = True
    for allowed in ("formatCells", "formatColumns", "formatRows", "insertRows", "sort"):
        setattr(sheet.protection, allowed, False)  # in the file format, false means not forbidden
