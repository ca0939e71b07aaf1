"""Read a filled workbook into raw rows, each with its sheet and cell.

Nothing is judged here: what stands in a cell goes on as it is, and what stands outside the
questions goes on as such. A question that the file has no place for is not known, and its place
says so. Only what would mix answers up - a sheet or a question that is there twice, a sheet whose
questions can't be told - is refused, all of it at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from survey.answers import RawRow, RawSurvey, as_text
from survey.errors import Problem, UnreadableSurveyError
from survey.vocabulary import CLOSED_BY, VOCABULARY, Subject, Units, Vocabulary
from survey.vocabulary.walk import PAGES
from survey.workbook.layout import (
    CHECKS,
    CHOICES,
    FORM_VERSION,
    LISTS,
    MOST_COLUMNS,
    MOST_ROWS_DEEP,
    NOT_READ,
    SHORT_KEY,
    SKETCH,
    START,
    UNITS_KEY,
    VERSION_KEY,
    asked,
    folded,
)
from survey.workbook.pictures import embedded_pictures
from survey.workbook.reading import stray
from survey.workbook.reading.book import Book, Sheet
from survey.workbook.reading.file import Content, content_of, file_bytes, unreadable
from survey.workbook.reading.list_sheets import list_rows
from survey.workbook.reading.ods import ods_book
from survey.workbook.reading.package import ODS, XLSX, measured_parts
from survey.workbook.reading.places import page_by_keys
from survey.workbook.reading.site_sheets import site_row
from survey.workbook.reading.told import WRITE_AGAIN, Told, shown
from survey.workbook.reading.xlsx import xlsx_book

_WITHOUT_UNITS = "1"  # the version of the form that had one sort of units only
_WHOLE = MOST_ROWS_DEEP * MOST_COLUMNS
_NO_ANSWERS = (START, SKETCH, CHOICES, LISTS, CHECKS, NOT_READ)
_HELP = (
    "Copy the answers into a fresh form made by 'pier-survey form', or put back what is missing."
)


def read_workbook(path: Path, vocabulary: Vocabulary = VOCABULARY) -> RawSurvey:
    """Read a filled form.

    Args:
        path: an .xlsx, .xlsm or .ods file; it is only read.
        vocabulary: the questions that the form may have. One that it lacks, for it is short or
            was made before, is blank, and its place says so.

    Returns:
        Every row that has anything in a cell of the form, as it stands; ``name`` is the file's
        name without its ending. ``stray`` tells of all that stands outside the questions, and of
        cells that can't be told; ``notes`` of what the form lacks.

    Raises:
        UnreadableSurveyError: it can't be read, or isn't laid out as the form is; all faults
            at once.
    """
    content = file_bytes(path)
    if content_of(content, path) is not Content.WORKBOOK:
        raise unreadable(path, "this is no .xlsx or .ods workbook")
    return workbook_rows(content, path, vocabulary)


def workbook_rows(content: bytes, path: Path, vocabulary: Vocabulary) -> RawSurvey:
    """Read the bytes of a filled form; as :func:`read_workbook`."""
    parts = measured_parts(content, path)
    book = xlsx_book(parts, path) if XLSX in parts else ods_book(parts[ODS], path)
    told = Told()
    names = _sheet_names(book, vocabulary, told)
    foreign = stray.foreign_sheets(book, names.values())
    short = _start(book, names, told)
    about_site = [p.sheet for p in PAGES if p.subject is Subject.SITE and p.sheet in names]
    site = site_row({name: _whole(book, names[name]) for name in about_site}, vocabulary, told)
    site = _reopened(site, names, told)
    lists: dict[Subject, Sequence[RawRow]] = {}
    for page in PAGES:
        if page.subject is Subject.SITE:
            continue
        if page.sheet in names:
            sheet = _whole(book, names[page.sheet])
            lists[page.subject] = list_rows(sheet, page, vocabulary, told)
        else:
            lists[page.subject] = ()
            told.lacking[page.sheet] += len(asked(vocabulary, page.subject))
    if CHOICES in names:
        sheet = _whole(book, names[CHOICES])
        told.strays += stray.beside_choices(sheet.name, sheet.grid)
    if NOT_READ in names:
        sheet = _whole(book, names[NOT_READ])
        told.problems += stray.left_over(sheet.name, sheet.grid)
    if told.faults:
        raise UnreadableSurveyError(str(path), told.faults, _HELP)
    return RawSurvey(
        name=path.stem,
        site=site,
        lists=lists,
        stray=stray.first_few([*told.problems, *told.strays, *stray.comments(book), *foreign]),
        units=told.units,
        pictures=embedded_pictures(content),
        notes=_notes(told.lacking, names, short=short),
    )


def _whole(book: Book, name: str) -> Sheet:
    return book.load(name, _WHOLE) or Sheet(name, ())


def _sheet_names(book: Book, vocabulary: Vocabulary, told: Told) -> dict[str, str]:
    """The name that each sheet of the form has in this file; by its keys where it was renamed."""
    wanted = {folded(name): name for name in (*_NO_ANSWERS, *(page.sheet for page in PAGES))}
    found: dict[str, str] = {}

    def find(ours: str | None, name: str) -> None:
        if ours in found:
            told.faults.append(f"there are two sheets '{ours}': '{found[ours]}' and '{name}'")
        elif ours is not None:
            found[ours] = name

    for name in book.names:
        find(wanted.get(folded(name)), name)
    missing = [page for page in PAGES if page.sheet not in found]
    lost_start = START not in found
    if missing or lost_start:
        others = [name for name in book.names if folded(name) not in wanted]
        for name in others[: stray.MOST_LISTED]:
            if sheet := book.load(name, stray.LARGEST_AREA):
                ours = page_by_keys(sheet.grid, missing, vocabulary)
                find(ours if ours != START or lost_start else None, name)
    if START not in found:
        told.faults.append(f"there is no sheet '{START}', which says what form this is")
    if not any(page.sheet in found for page in PAGES):
        told.faults.append("there is no sheet with questions")
    return found


def _start(book: Book, names: Mapping[str, str], told: Told) -> bool:
    """See which form this is and in which units it asks; gives whether it is a short one."""
    if START not in names:
        return False
    sheet = _whole(book, names[START])
    told.strays += stray.beside_start(sheet.name, sheet.grid)
    beside = {
        cell: as_text(row[column + 1]).strip()
        for row in sheet.grid
        for column, cell in enumerate(row[:-1])
        if cell in (VERSION_KEY, UNITS_KEY, SHORT_KEY)
    }
    version = beside.get(VERSION_KEY)
    if version is None:
        told.faults.append(
            f"sheet '{sheet.name}': the hidden cell with the form's version is missing"
        )
    elif version not in map(str, range(1, FORM_VERSION + 1)):
        newer = "; it is newer: update the program" if version.isdecimal() else ""
        told.faults.append(
            f"sheet '{sheet.name}': the form is of version '{shown(version)}'; this program reads "
            f"versions 1 to {FORM_VERSION}{newer}"
        )
    elif version != _WITHOUT_UNITS and UNITS_KEY not in beside:
        told.faults.append(
            f"sheet '{sheet.name}': the hidden cell with the form's units is missing"
        )
    written = beside.get(UNITS_KEY, Units.US_CUSTOMARY.value)
    units = next((known for known in Units if folded(known.value) == folded(written)), None)
    if units is not None:
        told.units = units
    else:
        known = " and ".join(f"'{known.value}'" for known in Units)
        told.faults.append(
            f"sheet '{sheet.name}': the form asks in units '{shown(written)}'; this program knows "
            f"{known}"
        )
    return SHORT_KEY in beside


def _reopened(site: RawRow, names: Mapping[str, str], told: Told) -> RawRow:
    """The answers about the site; a list without its sheet can't be complete, whatever is said."""
    cells = dict(site.cells)
    for page in PAGES:
        closing = CLOSED_BY.get(page.subject)
        if closing is None or page.sheet in names:
            continue
        read, where = cells[closing]
        if read is not None:
            expected = f"the sheet '{page.sheet}', which is not in this file; {WRITE_AGAIN}"
            told.problems.append(Problem(where, shown(read), expected))
            cells[closing] = None, where
    return replace(site, cells=cells)


def _notes(lacking: Mapping[str, int], names: Mapping[str, str], *, short: bool) -> tuple[str, ...]:
    """One note on all the questions that the form does not ask."""
    counts = {page.sheet: lacking.get(page.sheet, 0) for page in PAGES}
    count = sum(counts.values())
    if not count:
        return ()
    listed = ", ".join(
        f"{sheet} {number}" if sheet in names else f"{sheet} {number} (no such sheet)"
        for sheet, number in counts.items()
        if number
    )
    form = "This is a short form: it does not ask" if short else "This form does not ask"
    return (
        f"{form} {count} of the questions, and what they ask is not known: {listed}. "
        "'form --from' writes its answers into a form that asks them.",
    )
