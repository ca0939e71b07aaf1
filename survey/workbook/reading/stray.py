"""What stands in a workbook outside the questions of the form.

None of it is read as an answer, and none of it may go unseen: a surveyor who runs out of rows
copies a sheet, or writes beside the table what no question asked for. Each such cell or sheet
becomes a :class:`~survey.errors.Problem`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from survey.answers import PERHAPS_OWN, as_text
from survey.errors import Problem
from survey.vocabulary import VOCABULARY, Word, nearest, tidy
from survey.vocabulary.walk import PAGES, page_of
from survey.workbook import texts
from survey.workbook.layout import (
    CHOICES_COLUMNS,
    NOT_READ_FIRST,
    SITE_HEADINGS,
    START_COLUMNS,
    VERSION_KEY,
    column_name,
    folded,
)
from survey.workbook.reading.book import Book, Grid
from survey.workbook.reading.places import BLOCK_TITLES, Columns, Lines

MOST_LISTED = 20  # foreign sheets
MOST_KEPT = 200  # cells and rows: what is told can be written into another form
LARGEST_AREA = 100_000  # cells of a foreign sheet to look through for the first filled one
_LONGEST_SHOWN = 80
_PICTURE_IN_CELL = "#VALUE!"  # what a cell with a picture in it says to other programs
_SHEETS = [page.sheet for page in PAGES]
_REMARKS = page_of(VOCABULARY["remarks"]).sheet
_ELSEWHERE = (
    f"put it where it is asked for, or in 'remarks' on sheet '{_REMARKS}', and clear the cell"
)
_NOT_QUESTIONS = f"nothing outside the questions of the form: not read; {_ELSEWHERE}"
_Cell = tuple[int, int]  # row and column, from 0


def beside_start(sheet: str, grid: Grid) -> Iterator[Problem]:
    """Cells of the sheet Start below the form's version or right of its columns."""
    marks = (
        (number, row.index(VERSION_KEY)) for number, row in enumerate(grid) if VERSION_KEY in row
    )
    last, first_column = next(marks, (len(grid), 0))
    own = range(first_column, first_column + START_COLUMNS)
    outside = (cell for cell in _every_cell(grid) if cell[0] > last or cell[1] not in own)
    yield from _not_asked(sheet, grid, outside)


def beside_choices(sheet: str, grid: Grid) -> Iterator[Problem]:
    """Cells of the sheet Choices right of what is printed there."""
    outside = (
        (row, column)
        for row, line in enumerate(grid)
        for column in range(CHOICES_COLUMNS, len(line))
    )
    yield from _not_asked(sheet, grid, outside)


def left_over(sheet: str, grid: Grid) -> Iterator[Problem]:
    """What the file from which the form was written had outside its questions, as it was told."""
    for number, row in enumerate(grid):
        where, read, expected = (_shown(cell) for cell in (*row, "", "", "")[:3])
        if number >= NOT_READ_FIRST - 1 and (where or read):
            place = where or f"{sheet}!A{number + 1}"
            yield Problem(place, read, as_text(row[2]) if expected else _NOT_QUESTIONS)
    below = enumerate(grid[NOT_READ_FIRST - 1 :], start=NOT_READ_FIRST - 1)
    beside = ((number, column) for number, row in below for column in range(3, len(row)))
    yield from _not_asked(sheet, grid, beside)


def beside_list(sheet: str, grid: Grid, found: Columns) -> Iterator[Problem]:
    """Cells of a list that stand in no column of a question, or above its headings.

    A question that nobody asks is told even where it is blank: it may be of a firm's own rules,
    without which the site would be judged.
    """
    first = found.top
    if first and any(text in BLOCK_TITLES for text in grid[first - 1]):
        first -= 1
    answers = set(found.rows)
    above = [row for row in range(first, len(grid)) if row not in answers and row != found.keys]
    width = len(grid[0])
    asked = {column for columns in found.every.values() for column in columns}
    strays = [(row, column) for row in range(first) for column in range(width)]
    for column in set(range(width)) - asked:
        filled = [(row, column) for row in found.rows if _visible(grid[row][column])]
        if column in found.pictures:
            strays += [(row, column) for row, _ in filled if grid[row][column] != _PICTURE_IN_CELL]
        elif column in found.unread:
            for row, _ in filled:
                where = f"{sheet}!{column_name(column)}{row + 1}"
                yield Problem(where, _shown(grid[row][column]), found.unread[column])
        elif column in found.strange and any(_visible(grid[row][column]) for row in above):
            for cell in filled or [(first, column)]:
                yield _strange(sheet, grid, cell, found.strange[column], found.every)
        else:
            strays += [*((row, column) for row in (*above, found.keys)), *filled]
    yield from _not_asked(sheet, grid, sorted(strays))


def beside_questions(
    sheet: str,
    grid: Grid,
    found: Lines,
    answers: int,
    asked: Collection[tuple[Word, int]],
) -> Iterator[Problem]:
    """Cells of a sheet about the site that are no question, unit or help, nor an answer.

    Args:
        sheet: its name in this file.
        grid: its cells, from A1.
        found: the rows of its questions.
        answers: number of the column of answers, from 0.
        asked: each question with the number of its row, from 0.
    """
    heads = {
        str(cell): (row, column)
        for row in range(found.head + 1)
        for column, cell in enumerate(grid[row])
        if cell in SITE_HEADINGS
    }
    own = {answers, *(column for _row, column in heads.values())}
    if found.keys is not None:
        own.add(found.keys)
    # A blank in the column of help is where a note would be written beside an answer.
    help_column = heads[SITE_HEADINGS[-1]][1] if SITE_HEADINGS[-1] in heads else None
    no_help = {row for word, row in asked if not texts.has_help(word)}
    rows = {row for _word, row in asked}
    spare = [column for column in range(len(grid[0])) if column not in own]
    strays: list[_Cell] = []
    for row, line in enumerate(grid):
        cells = [(row, column) for column, cell in enumerate(line) if cell != ""]
        if row < found.head:
            strays += [cell for cell in cells if cell not in heads.values()]
        elif row == found.head or row in rows:
            strays += [(row, column) for column in spare]
            if help_column is not None and row in no_help:
                strays.append((row, help_column))
        elif row in found.titles:
            strays += [(row, answers)]
        elif row in found.strange and len(cells) > 1:
            yield _strange(sheet, grid, (row, answers), found.strange[row], found.every)
        else:
            strays += cells
    yield from _not_asked(sheet, grid, strays)


def first_few(strays: Sequence[Problem]) -> tuple[Problem, ...]:
    """All of 200, or the first and one that says how many more there are."""
    if len(strays) <= MOST_KEPT:
        return tuple(strays)
    more = strays[MOST_KEPT - 1 :]
    expected = (
        f"nothing outside the questions of the form, and {len(more)} more cells have something"
    )
    return (*strays[: MOST_KEPT - 1], Problem(more[0].where, "", expected))


def foreign_sheets(book: Book, ours: Collection[str]) -> tuple[Problem, ...]:
    """The sheets that are not of the form and hold anything, with where to put it.

    At most 20 are looked at: no honest workbook has more, and each may be as large as a sheet
    can be.

    Args:
        book: the workbook.
        ours: names of the sheets of the form, as they are in this file.
    """
    foreign = [name for name in book.names if name not in ours]
    found: list[Problem] = []
    for name in foreign[:MOST_LISTED]:
        sheet = book.load(name, LARGEST_AREA)
        if sheet is None:  # a chart or the like, or far larger than any of the form
            found.append(Problem(f"{name}!A1", "", _not_read(name)))
        else:
            found += _rows_of(sheet.name, sheet.grid)
    if more := foreign[MOST_LISTED:]:
        expected = f"no sheet but those of the form; nothing on {len(more)} more of them was read"
        found.append(Problem(f"{more[0]}!A1", "", expected))
    return tuple(found)


def _rows_of(sheet: str, grid: Grid) -> Iterator[Problem]:
    """Each row of a foreign sheet that holds anything: its texts, at the first of them."""
    for number, row in enumerate(grid):
        there = [column for column, cell in enumerate(row) if _visible(cell)]
        if there:
            text = _shown(" | ".join(as_text(row[column]) for column in there))
            where = f"{sheet}!{column_name(there[0])}{number + 1}"
            yield Problem(where, text, _not_read(sheet))


def comments(book: Book) -> Iterator[Problem]:
    """Comments pinned to cells, which no cell of the form shows; not those of our own marks."""
    expected = (
        "none: they are not read; put what they say where it is asked for, or in 'remarks' on "
        f"sheet '{_REMARKS}', and delete them"
    )
    for said in book.comments:
        yield Problem("comments on cells", _shown(said), expected)


def _not_read(name: str) -> str:
    """Why a foreign sheet is no good and where its rows belong."""
    copied = [ours for ours in _SHEETS if folded(name).startswith(folded(ours))]
    target = f"the sheet '{copied[0]}'" if copied else "the sheets of the form"
    return (
        f"no sheet of this name: nothing on it was read; put its rows on {target}, where rows may "
        f"be added at the end, notes in 'remarks' on sheet '{_REMARKS}', and delete this sheet"
    )


def _strange(sheet: str, grid: Grid, cell: _Cell, key: str, known: Mapping[str, object]) -> Problem:
    """Something stands where another form, or a firm's own, has a question."""
    row, column = cell
    near = nearest(key, known)
    hint = f" (did you mean '{near}'?)" if near else ""
    expected = (
        f"nothing here: no question has the key '{key[:_LONGEST_SHOWN]}'{hint}, and what is "
        f"answered to it was not read. {PERHAPS_OWN}"
    )
    where = f"{sheet}!{column_name(column)}{row + 1}"
    return Problem(where, _shown(grid[row][column]), expected)


def _not_asked(sheet: str, grid: Grid, cells: Iterable[_Cell]) -> Iterator[Problem]:
    for row, column in cells:
        cell = grid[row][column]
        if _visible(cell):
            where = f"{sheet}!{column_name(column)}{row + 1}"
            yield Problem(where, _shown(cell), _NOT_QUESTIONS)


def _every_cell(grid: Grid) -> Iterator[_Cell]:
    return ((row, column) for row, line in enumerate(grid) for column in range(len(line)))


def _visible(cell: object) -> bool:
    return cell != "" and tidy(as_text(cell)) != ""


def _shown(cell: object) -> str:
    return tidy(as_text(cell))[:_LONGEST_SHOWN]
