"""Read a filled workbook into raw rows, each with its sheet and cell.

Nothing is judged here: what stands in a cell goes on as it is, and what stands outside the
questions goes on as such. Only what would leave answers out or mix them up - a sheet, a question
or a key that is missing or there twice - is refused, all of it at once.
"""

from __future__ import annotations

import functools
import io
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from python_calamine import CalamineWorkbook

from survey.answers import MOST_ROWS, PERHAPS_OWN, RawRow, RawSurvey, as_text
from survey.errors import Problem, UnreadableSurveyError
from survey.vocabulary import VOCABULARY, Subject, Vocabulary, Word, nearest
from survey.workbook import _stray as stray
from survey.workbook._file import Content, content_of, file_bytes, unreadable
from survey.workbook._layout import (
    ANSWER_KEY,
    CHOICES,
    FORM_VERSION,
    LABEL_KEY,
    LISTS,
    LONGEST_CELL,
    QUESTION_KEY,
    SHEETS,
    START,
    VERSION_KEY,
    asked,
    column_name,
    folded,
    own,
)
from survey.workbook._package import measured_package
from survey.workbook._stray import Grid

_SITE_COLUMNS = {QUESTION_KEY: "the column of keys", ANSWER_KEY: "the column of answers"}
_HELP = (
    "Copy the answers into a fresh form made by 'pier-survey form', or put back what is missing."
)
_STRANGE = "no question has the key"
_WRITE_AGAIN = "write the form again with 'form --from'"


@dataclass(frozen=True, slots=True)
class _Page:
    """A sheet of this file: its name, its cells from A1, and whose questions it has."""

    vocabulary: Vocabulary
    subject: Subject
    sheet: str
    grid: Grid

    @property
    def words(self) -> Mapping[str, Word]:
        """The questions that belong on it, by key."""
        return asked(self.vocabulary, self.subject)

    @property
    def own(self) -> Mapping[str, Word]:
        """Those of a firm's own rules, by key."""
        return own(self.vocabulary, self.subject)

    @property
    def expected(self) -> Mapping[str, str]:
        """What each key stands for."""
        return _expected(self.vocabulary, self.subject)

    def lacking(self, places: Collection[str]) -> list[str]:
        """The own questions that it has no place for: they were added after it was written."""
        return [word.name for key, word in self.own.items() if key not in places]


def read_workbook(path: Path, vocabulary: Vocabulary = VOCABULARY) -> RawSurvey:
    """Read a filled form.

    Args:
        path: an .xlsx or .xlsm file; it is only read.
        vocabulary: the questions that the form may have. One of a firm's own that it lacks, for
            it was made before, is blank, and its place says so; a shipped one must be there.

    Returns:
        Every row that has anything in a cell of the form, as it stands; ``name`` is the file's
        name without its ending. ``stray`` tells of all that stands outside the questions.

    Raises:
        UnreadableSurveyError: it can't be read, or isn't laid out as the form is; all faults
            at once.
    """
    content = file_bytes(path)
    if content_of(content, path) is not Content.WORKBOOK:
        raise unreadable(path, "this is no .xlsx workbook")
    return workbook_rows(content, path, vocabulary)


def workbook_rows(content: bytes, path: Path, vocabulary: Vocabulary) -> RawSurvey:
    """Read the bytes of a filled form; as :func:`read_workbook`."""
    grids, foreign = _grids(measured_package(content, path), path)
    faults: list[str] = []
    strays: list[Problem] = []
    names = _sheet_names(grids, faults)
    if START in names:
        sheet, grid = names[START], grids[names[START]]
        _check_version(sheet, grid, faults)
        strays += stray.beside_start(sheet, grid)
    rows: dict[Subject, list[RawRow]] = {}
    for subject, wanted in SHEETS.items():
        if wanted in names:
            read = _site_row if subject is Subject.SITE else _list_rows
            page = _Page(vocabulary, subject, names[wanted], grids[names[wanted]])
            rows[subject] = read(page, faults, strays)
    for name, grid in grids.items():
        if folded(name) == folded(CHOICES):
            strays += stray.beside_choices(name, grid)
    if faults:
        strange = any(_STRANGE in fault for fault in faults)
        help_text = f"{_HELP} {PERHAPS_OWN}" if strange else _HELP
        raise UnreadableSurveyError(str(path), faults, help_text)
    (site,) = rows.pop(Subject.SITE)
    told = (*foreign, *stray.comments(content), *stray.first_few(strays))
    return RawSurvey(path.stem, site, rows, told)


def _grids(package: bytes, path: Path) -> tuple[Mapping[str, Grid], tuple[Problem, ...]]:
    """The cells of each sheet of the form, from A1, and what is on sheets that are not of it."""
    ours = {folded(name) for name in (START, CHOICES, *SHEETS.values())}
    try:
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(package))
        grids: Mapping[str, Grid] = {
            name: workbook.get_sheet_by_name(name).to_python(skip_empty_area=False)
            if folded(name) in ours
            else ()
            for name in workbook.sheet_names
        }
        return grids, stray.foreign_sheets(workbook, {*ours, folded(LISTS)})
    except BaseException as fault:
        # A panic of the reader is no Exception, but it is the file that is at fault.
        if isinstance(fault, Exception) or type(fault).__name__ == "PanicException":
            raise unreadable(path, f"the workbook is damaged ({_one_line(fault)})") from None
        raise


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())[:200]


def _sheet_names(grids: Iterable[str], faults: list[str]) -> dict[str, str]:
    """The name that each sheet of the form has in this file."""
    found: dict[str, str] = {}
    strange = []
    wanted = {folded(name): name for name in (START, *SHEETS.values())}
    for name in grids:
        ours = wanted.get(folded(name))
        if ours is None:
            strange.append(name)
        elif ours in found:
            faults.append(f"there are two sheets '{ours}': '{found[ours]}' and '{name}'")
        else:
            found[ours] = name
    for name in wanted.values():
        if name not in found:
            near = nearest(name, strange)
            hint = f"; is it the one named '{near}'? Rename it to '{name}'" if near else ""
            faults.append(f"there is no sheet '{name}'{hint}")
    return found


def _check_version(sheet: str, grid: Grid, faults: list[str]) -> None:
    for row in grid:
        for column, cell in enumerate(row[:-1]):
            if cell == VERSION_KEY:
                version = as_text(row[column + 1])
                if version != str(FORM_VERSION):
                    faults.append(
                        f"sheet '{sheet}': the form is of version '{version}'; this program reads "
                        f"version {FORM_VERSION}"
                    )
                return
    faults.append(f"sheet '{sheet}': the hidden cell with the form's version is missing")


def _site_row(page: _Page, faults: list[str], strays: list[Problem]) -> list[RawRow]:
    """The one row of the site, whose questions stand below each other."""
    sheet, grid = page.sheet, page.grid
    head = _key_row(grid, _SITE_COLUMNS)
    if head is None:
        faults.append(f"sheet '{sheet}': its hidden row of keys is missing")
        return []
    marks = _places(sheet, grid[head], _SITE_COLUMNS, faults)
    if len(marks) < len(_SITE_COLUMNS):
        return []
    column = marks[ANSWER_KEY]
    keys = [row[marks[QUESTION_KEY]] if number > head else "" for number, row in enumerate(grid)]
    places = _places(sheet, keys, page.expected, faults, page.own)
    there = [(word, places[key]) for key, word in page.words.items() if key in places]
    strays += stray.beside_questions(sheet, grid, head, marks.values(), there)
    cells = {word.name: _cell(sheet, grid, row, column, faults) for word, row in there}
    for name in page.lacking(places):
        cells[name] = None, f"{sheet}!(no row for '{name}'; {_WRITE_AGAIN})"
    return [RawRow(sheet, "site", cells, sheet)]


def _list_rows(page: _Page, faults: list[str], strays: list[Problem]) -> list[RawRow]:
    """The rows of a list, below its row of keys; rows with nothing in them are left out."""
    sheet, grid, words = page.sheet, page.grid, page.words
    head = _key_row(grid, page.expected)
    if head is None:
        faults.append(f"sheet '{sheet}': its hidden row of keys is missing")
        return []
    places = _places(sheet, grid[head], page.expected, faults, page.own)
    strays += stray.beside_list(sheet, grid, head, set(places.values()))
    filled = [
        number
        for number, row in enumerate(grid)
        if number > head and not all(_blank(row[column]) for column in places.values())
    ]
    if len(filled) > MOST_ROWS:
        faults.append(f"sheet '{sheet}': {len(filled)} rows are filled; a sheet holds {MOST_ROWS}")
        return []
    rows = []
    for number in filled:
        read = {key: _cell(sheet, grid, number, at, faults) for key, at in places.items()}
        label, label_where = read.get(LABEL_KEY, (None, ""))
        cells = {words[key].name: cell for key, cell in read.items() if key != LABEL_KEY}
        where = f"{sheet}!row {number + 1}"
        for name in page.lacking(places):
            cells[name] = None, f"{where} (no column for '{name}'; {_WRITE_AGAIN})"
        rows.append(RawRow(where, as_text(label), cells, label_where))
    return rows


@functools.cache
def _expected(vocabulary: Vocabulary, subject: Subject) -> Mapping[str, str]:
    """What each key of a sheet stands for."""
    words = asked(vocabulary, subject)
    keys = {key: f"the question '{word.name}'" for key, word in words.items()}
    return keys if subject is Subject.SITE else {LABEL_KEY: "the column of labels", **keys}


def _key_row(grid: Grid, keys: Collection[str]) -> int | None:
    """Number of the row that holds most of the keys, at least two of them."""
    found = [sum(cell in keys for cell in row if isinstance(cell, str)) for row in grid]
    most = max(found, default=0)
    return found.index(most) if most > 1 else None


def _places(
    sheet: str,
    line: Sequence[object],
    expected: Mapping[str, str],
    faults: list[str],
    may_lack: Collection[str] = (),
) -> dict[str, int]:
    """Where each expected key stands in a row or column of keys; tells of all that is wrong."""
    places: dict[str, int] = {}
    for place, cell in enumerate(line):
        key = as_text(cell).strip()
        if key in places:
            faults.append(f"sheet '{sheet}': {expected[key]} (key '{key}') is there twice")
        elif key in expected:
            places[key] = place
        elif key:
            near = nearest(key, expected)
            hint = f"; did you mean '{near}'?" if near else ""
            faults.append(f"sheet '{sheet}': {_STRANGE} '{key[:60]}'{hint}")
    faults += [
        f"sheet '{sheet}': {what} (key '{key}') is missing"
        for key, what in expected.items()
        if key not in places and key not in may_lack
    ]
    return places


def _blank(cell: object) -> bool:
    return cell is None or (isinstance(cell, str) and not cell.strip())


def _cell(sheet: str, grid: Grid, row: int, column: int, faults: list[str]) -> tuple[object, str]:
    """What stands in a cell, nothing if it is blank, and its address."""
    read, where = grid[row][column], f"{sheet}!{column_name(column)}{row + 1}"
    if isinstance(read, str) and len(read) > LONGEST_CELL:
        faults.append(f"{where}: the text is longer than {LONGEST_CELL:,} characters")
    return (None if _blank(read) else read), where
