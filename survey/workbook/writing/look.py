"""The looks of the form: black, white and patterns, so that a poor printer loses nothing."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import enum
from collections.abc import Mapping
from typing import Any

from openpyxl.styles.alignment import Alignment
from openpyxl.styles.borders import Border, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.fills import PatternFill
from openpyxl.styles.fonts import Font
from openpyxl.styles.named_styles import NamedStyle
from openpyxl.styles.protection import Protection
from openpyxl.workbook.workbook import Workbook

from survey.vocabulary import Kind, Word

_FACE = "Arial"
_BLACK, _WHITE = "FF000000", "FFFFFFFF"
_THIN, _THICK = Side(style="thin", color="9A9A9A"), Side(style="thick", color=_BLACK)
_MEDIUM = Side(style="medium", color=_BLACK)
_GREY = PatternFill("solid", fgColor="E4E4E4")
_DARK = PatternFill("solid", fgColor="404040")
_HIGH = Alignment(wrap_text=True, vertical="top", horizontal="left", indent=1)
_WRAPPED = Alignment(wrap_text=True, vertical="center", horizontal="left", indent=1)
_ONE_LINE = Alignment(vertical="center", horizontal="left", indent=1)
_GRID = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THIN)
_LAST_OF_HEAD = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_MEDIUM)
_FRAME = Border(left=_THICK, right=_THICK, top=_THICK, bottom=_THICK)
_TALLEST_ROW = 409.0  # points; what a spreadsheet can show
_TALLEST_HEADING, _TALLEST_HELP = 33.0, 64.0  # points; they must leave rows in sight

HEADING_SIZE = 11  # points; bold letters of 10 need the room of these
QUESTION_SIZE, ANSWER_SIZE, HELP_SIZE, SMALL_HELP_SIZE = 11, 11, 9, 8  # points
LOWEST = 26.0  # points; a row that a finger hits


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
    FIGURE = "survey figure"
    SHOWN_DATE = "survey shown date"
    ANSWER = "survey answer"
    DATE = "survey date"
    COUNT = "survey count"
    LABEL = "survey label"
    ASKED_ANSWER = "survey asked answer"
    ASKED_DATE = "survey asked date"
    ASKED_COUNT = "survey asked count"
    OPEN = "survey open"
    RULED_OUT = "survey ruled out"
    ODD = "survey odd"


# The state of a cell, which changes as answers are given.
_STATES: Mapping[Look, Mapping[str, Any]] = {
    Look.OPEN: {"fill": PatternFill("gray125", fgColor=_BLACK, bgColor=_WHITE)},
    Look.RULED_OUT: {
        "fill": PatternFill("lightUp", fgColor="FF7F7F7F", bgColor="FFE4E4E4"),
        "font": Font(color="FF7F7F7F", strike=True),
    },
    Look.ODD: {
        "fill": PatternFill("solid", fgColor=_BLACK, bgColor=_BLACK),
        "font": Font(color=_WHITE, bold=True),
    },
}


def answer_look(word: Word, *, asked: bool = False) -> Look:
    """The look of the cell to write in; a framed one where the last check asks for it."""
    plain, framed = {
        Kind.DATE: (Look.DATE, Look.ASKED_DATE),
        Kind.COUNT: (Look.COUNT, Look.ASKED_COUNT),
    }.get(word.kind, (Look.ANSWER, Look.ASKED_ANSWER))
    return framed if asked else plain


def state(look: Look) -> DifferentialStyle:
    """What a conditional format changes to show a state."""
    return DifferentialStyle(**_STATES[look])


def dress(book: Workbook) -> None:
    """Give a new workbook its styles, and a usual font: widths of columns are counted in it."""
    usual = Font(name=_FACE, size=10)
    book._named_styles["Normal"].font = usual
    book._fonts[0] = usual
    for style in styles():
        book.add_named_style(style)


def styles() -> list[NamedStyle]:
    """The styles of one workbook, by the names in :class:`Look`."""

    def style(look: Look, size: int, **more: Any) -> NamedStyle:
        font = Font(name=_FACE, size=size, **{**letters, **more.pop("letters", {})})
        return NamedStyle(look.value, font, **more)

    letters: dict[str, Any] = {"bold": False, "italic": False}
    bold, italic = {"bold": True}, {"italic": True}
    inverse = {"bold": True, "color": _WHITE}
    cell: dict[str, Any] = {"border": _GRID, "alignment": _WRAPPED}
    # Text format keeps 1/2 or 3-6 from turning into a date.
    answer: dict[str, Any] = {
        "border": _GRID, "alignment": _WRAPPED, "protection": Protection(locked=False),
        "number_format": "@",
    }  # fmt: skip
    framed = {**answer, "border": _FRAME}
    date, count = {"number_format": "yyyy-mm-dd"}, {"number_format": "0"}
    head = {"border": _LAST_OF_HEAD, "alignment": _HIGH}
    band = {
        "alignment": _ONE_LINE,
        "fill": _DARK,
        "letters": inverse,
    }
    return [
        style(Look.TITLE, 18, letters=bold),
        style(Look.BLOCK, 12, **band),
        style(Look.LINE, 11, alignment=_WRAPPED),
        style(Look.HEADING, 10, fill=_GREY, letters=bold, **cell),
        style(Look.UNIT, HELP_SIZE, letters=italic, **cell),
        style(Look.HELP, HELP_SIZE, **cell),
        style(Look.SMALL_HELP, SMALL_HELP_SIZE, **head),
        style(Look.QUESTION, QUESTION_SIZE, **cell),
        style(Look.NAME, QUESTION_SIZE, letters=bold, **cell),
        style(Look.FIGURE, QUESTION_SIZE, letters=bold, **cell, **count),
        style(Look.SHOWN_DATE, QUESTION_SIZE, **cell, **date),
        style(Look.ANSWER, ANSWER_SIZE, **answer),
        style(Look.DATE, ANSWER_SIZE, **{**answer, **date}),
        style(Look.COUNT, ANSWER_SIZE, **{**answer, **count}),
        style(Look.LABEL, ANSWER_SIZE, letters=bold, **answer),
        style(Look.ASKED_ANSWER, ANSWER_SIZE, **framed),
        style(Look.ASKED_DATE, ANSWER_SIZE, **{**framed, **date}),
        style(Look.ASKED_COUNT, ANSWER_SIZE, **{**framed, **count}),
        *(
            style(
                look, QUESTION_SIZE, fill=changed["fill"],
                letters={"bold": look is Look.ODD, "color": _WHITE if look is Look.ODD else _BLACK},
                **cell,
            )
            for look, changed in _STATES.items()
        ),
    ]  # fmt: skip


def column_width(word: Word, help_text: str) -> int:
    """Width of a question's column, in letters; a long help makes it wide, not tall."""
    longest = max((len(choice) for choice in word.choices), default=0)
    wanted = {Kind.TEXT: 26, Kind.CHOICE: min(longest + 6, 24)}
    width = max(14, wanted.get(word.kind, 14))
    while (
        height((word.name, width, HEADING_SIZE)) > _TALLEST_HEADING
        or height((help_text, width, SMALL_HELP_SIZE)) > _TALLEST_HELP
    ):
        width += 2
    return width


def title_width(title: str) -> float:
    """Width of a block, in letters, in which its title is not cut."""
    return 1.3 * len(title) + 2


def height(*texts: tuple[str, float, int], lowest: float = 20.0) -> float:
    """Height, in points, of a row of wrapped texts, each with its column's width and letter size.

    Where it is not set, not every program makes the row grow when the file is opened.
    """
    return max(
        lowest,
        *(height_of_lines(_lines(text, width, size), size) for text, width, size in texts),
    )


def height_of_lines(lines: int, size: int) -> float:
    """Height, in points, of a row with so many lines of a letter size."""
    return min(lines * size * 1.3 + 4, _TALLEST_ROW)


def _lines(text: str, width: float, size: int) -> int:
    return sum(_lines_of(line, width, size) for line in text.split("\n"))


def _lines_of(text: str, width: float, size: int) -> int:
    letters = (width - 2) * 10 / size * 1.15
    lines, room = 1, letters
    for word in text.split():
        if len(word) > room:
            lines, room = lines + 1, letters
        if len(word) > letters:
            lines, room = lines + int(len(word) / letters), 0
        room -= len(word) + 1
    return lines
