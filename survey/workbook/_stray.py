"""What stands in a workbook outside the questions of the form.

None of it is read as an answer, and none of it may go unseen: a surveyor who runs out of rows
copies a sheet, or writes beside the table what no question asked for. Each such cell or sheet
becomes a :class:`~survey.errors.Problem`.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Collection, Iterator, Sequence
from io import BytesIO

from python_calamine import CalamineWorkbook, SheetTypeEnum

from survey.answers import as_text
from survey.errors import Problem
from survey.vocabulary import Word, tidy
from survey.workbook import _texts as texts
from survey.workbook._layout import (
    CHOICES_COLUMNS,
    SHEETS,
    SITE_HEADINGS,
    VERSION_KEY,
    column_name,
    folded,
)

Grid = Sequence[Sequence[object]]
_IsStray = Callable[[int, int], bool]  # row and column, from 0
MOST_LISTED = 20
_LARGEST_AREA = 100_000  # cells of a foreign sheet to look through for the first filled one
_HEAD_ROWS = 3  # heading, unit and help stand above the keys of a list
_LONGEST_SHOWN = 80
_ELSEWHERE = "put it where it is asked for, or in 'remarks' on sheet 'Site', and clear the cell"
_COMMENT = re.compile(r"xl/.*comment", re.IGNORECASE)


def beside_start(sheet: str, grid: Grid) -> Iterator[Problem]:
    """Cells of the sheet Start below the form's version or outside its two columns."""
    marks = (
        (number, column)
        for number, row in enumerate(grid)
        for column, cell in enumerate(row)
        if cell == VERSION_KEY
    )
    last, first_column = next(marks, (len(grid), 0))
    own = (first_column, first_column + 1)
    yield from _filled(sheet, grid, lambda row, column: row > last or column not in own)


def beside_choices(sheet: str, grid: Grid) -> Iterator[Problem]:
    """Cells of the sheet Choices right of what is printed there."""
    yield from _filled(sheet, grid, lambda _row, column: column >= CHOICES_COLUMNS)


def beside_list(sheet: str, grid: Grid, head: int, columns: Collection[int]) -> Iterator[Problem]:
    """Cells of a list that stand in no column of a question, or above its headings.

    Args:
        sheet: its name in this file.
        grid: its cells, from A1.
        head: number of the row of keys, from 0.
        columns: numbers of the columns that have a key, from 0.
    """
    above = [n for n in range(head) if any(_visible(grid[n][column]) for column in columns)]
    extra = set(above[:-_HEAD_ROWS])
    yield from _filled(sheet, grid, lambda row, column: column not in columns or row in extra)


def beside_questions(
    sheet: str, grid: Grid, head: int, marks: Collection[int], asked: Collection[tuple[Word, int]]
) -> Iterator[Problem]:
    """Cells of the sheet Site that are neither a question, its unit and help, nor its answer.

    Args:
        sheet: its name in this file.
        grid: its cells, from A1.
        head: number of the row of keys, from 0.
        marks: numbers of the columns of keys and answers, from 0.
        asked: each question with the number of its row, from 0.
    """
    heads = {
        str(cell): (row, column)
        for row in range(head)
        for column, cell in enumerate(grid[row])
        if cell in SITE_HEADINGS
    }
    own_columns = {*marks, *(column for _row, column in heads.values())}
    # A blank in the column of help is where a note would be written beside an answer.
    help_column = heads[SITE_HEADINGS[-1]][1] if SITE_HEADINGS[-1] in heads else None
    rows = {row for _word, row in asked}
    no_help = {row for word, row in asked if not texts.has_help(word)}

    def stray(row: int, column: int) -> bool:
        if row < head:
            return (row, column) not in heads.values()
        if row == head:
            return False
        spare = column not in own_columns or row not in rows
        return spare or (column == help_column and row in no_help)

    yield from _filled(sheet, grid, stray)


def first_few(strays: Sequence[Problem]) -> tuple[Problem, ...]:
    """The first 20, and one that says how many more there are."""
    more = strays[MOST_LISTED:]
    if not more:
        return tuple(strays)
    expected = (
        f"nothing outside the questions of the form, and {len(more)} more cells have something"
    )
    return (*strays[:MOST_LISTED], Problem(more[0].where, "", expected))


def foreign_sheets(workbook: CalamineWorkbook, ours: Collection[str]) -> tuple[Problem, ...]:
    """The sheets that are not of the form and hold anything, with where to put it.

    At most 20 are looked at: no honest workbook has more, and each may be as large as a sheet
    can be.
    """
    foreign = [sheet for sheet in workbook.sheets_metadata if folded(sheet.name) not in ours]
    found: list[Problem] = []
    for sheet in foreign[:MOST_LISTED]:
        if sheet.typ is not SheetTypeEnum.WorkSheet:
            found.append(Problem(f"{sheet.name}!A1", "", _not_read(sheet.name)))
        elif first := _first_filled(workbook, sheet.name):
            cell, text = first
            found.append(Problem(f"{sheet.name}!{cell}", text, _not_read(sheet.name)))
    if more := foreign[MOST_LISTED:]:
        expected = f"no sheet but those of the form; nothing on {len(more)} more of them was read"
        found.append(Problem(f"{more[0].name}!A1", "", expected))
    return tuple(found)


def comments(content: bytes) -> tuple[Problem, ...]:
    """Comments pinned to cells, which no cell of the form shows."""
    with zipfile.ZipFile(BytesIO(content)) as package:
        if not any(_COMMENT.match(name) for name in package.namelist()):
            return ()
    expected = (
        "none: they are not read; put what they say where it is asked for, or in 'remarks' on "
        "sheet 'Site', and delete them"
    )
    return (Problem("comments on cells", "", expected),)


def _not_read(name: str) -> str:
    """Why a foreign sheet is no good and where its rows belong."""
    copied = [ours for ours in SHEETS.values() if folded(name).startswith(folded(ours))]
    target = f"the sheet '{copied[0]}'" if copied else "the sheets of the form"
    return (
        f"no sheet of this name: nothing on it was read; put its rows on {target}, where rows may "
        "be added at the end, notes in 'remarks' on sheet 'Site', and delete this sheet"
    )


def _first_filled(workbook: CalamineWorkbook, name: str) -> tuple[str, str] | None:
    """Address and text of the first cell in which anything can be seen.

    A sheet far larger than any of the form is not looked through: its first cell, with no text.
    """
    sheet = workbook.get_sheet_by_name(name)
    if sheet.start is None:
        return None
    top, left = sheet.start
    if sheet.height * sheet.width > _LARGEST_AREA:
        return f"{column_name(left)}{top + 1}", ""
    for number, row in enumerate(sheet.to_python(skip_empty_area=True), start=top + 1):
        for column, cell in enumerate(row, start=left):
            if _visible(cell):
                return f"{column_name(column)}{number}", _shown(cell)
    return None


def _filled(sheet: str, grid: Grid, stray: _IsStray) -> Iterator[Problem]:
    for number, row in enumerate(grid):
        for column, cell in enumerate(row):
            if cell != "" and stray(number, column) and _visible(cell):
                where = f"{sheet}!{column_name(column)}{number + 1}"
                expected = f"nothing outside the questions of the form: not read; {_ELSEWHERE}"
                yield Problem(where, _shown(cell), expected)


def _visible(cell: object) -> bool:
    return cell != "" and tidy(as_text(cell)) != ""


def _shown(cell: object) -> str:
    return tidy(as_text(cell))[:_LONGEST_SHOWN]
