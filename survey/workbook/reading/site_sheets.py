"""The answers about the site: questions below each other, on several sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from survey.answers import RawRow
from survey.vocabulary import Subject, Vocabulary, Word
from survey.vocabulary.walk import PAGES, page_of
from survey.workbook.layout import ANSWER_KEY, asked, column_name
from survey.workbook.reading import stray
from survey.workbook.reading.book import Sheet
from survey.workbook.reading.merged import unmerged
from survey.workbook.reading.places import Lines, by_prompt, one_of, site_lines
from survey.workbook.reading.told import Cells, Told, is_blank


@dataclass(frozen=True, slots=True, eq=False)
class _Page:
    """A sheet about the site, with the rows of its questions and the column of its answers."""

    sheet: Sheet
    lines: Lines
    answers: int


_Place = tuple[_Page, int]  # and the row


def site_row(sheets: Mapping[str, Sheet], vocabulary: Vocabulary, told: Told) -> RawRow:
    """The one row of the site.

    Args:
        sheets: those about the site that the file has, by their names on the form. A question
            may stand on any of them.
        vocabulary: the questions.
        told: takes what is wrong.
    """
    words = asked(vocabulary, Subject.SITE)
    pages = [page for sheet in sheets.values() if (page := _page(sheet, vocabulary, told))]
    places = _places(pages, words)
    cells: Cells = {}
    for page in pages:
        cells |= _answers(page, places, words, told)
    for word in words.values():
        if word.name not in cells:
            name = page_of(word).sheet
            told.lacking[name] += 1
            sheet = sheets[name].name if name in sheets else name
            cells[word.name] = None, f"{sheet}!(no '{word.name}')"
    where = pages[0].sheet.name if pages else next(p.sheet for p in PAGES)
    return RawRow(where, Subject.SITE.value, cells, where)


def _page(sheet: Sheet, vocabulary: Vocabulary, told: Told) -> _Page | None:
    lines = site_lines(sheet.grid, vocabulary)
    if lines is None:
        told.faults.append(f"sheet '{sheet.name}': its hidden keys and its headings are missing")
        return None
    below = sheet.grid[lines.head + 1 :]
    what = f"sheet '{sheet.name}': the column of answers (key '{ANSWER_KEY}') is"
    if not lines.answers:
        told.faults.append(f"{what} missing")
        return None
    column = one_of(lines.answers, lambda at: not all(is_blank(row[at]) for row in below))
    if column is None:
        told.faults.append(f"{what} there twice")
        return None
    return _Page(sheet, lines, column)


def _places(pages: Sequence[_Page], words: Mapping[str, Word]) -> Mapping[str, Sequence[_Place]]:
    """Where each question stands, by its key, or else by its own words."""
    places: dict[str, list[_Place]] = {}
    for page in pages:
        for key, rows in page.lines.every.items():
            places.setdefault(key, []).extend((page, row) for row in rows)
    lacking = [word for key, word in words.items() if key not in places]
    for page in pages if lacking else ():
        for key, rows in by_prompt(page.sheet.grid, page.lines, lacking).items():
            places.setdefault(key, []).extend((page, row) for row in rows)
    return places


def _answers(
    page: _Page, places: Mapping[str, Sequence[_Place]], words: Mapping[str, Word], told: Told
) -> Cells:
    """The answers on one sheet."""
    sheet = page.sheet
    here = [(words[key], row) for key, each in places.items() for at, row in each if at is page]
    told.strays += stray.beside_questions(
        sheet.name, sheet.grid, page.lines, page.answers, here, older=told.older
    )
    clear = unmerged(sheet, sorted(row for _word, row in here), {page.answers: True}, several=False)
    told.problems += clear.problems
    column = f"{sheet.name}!{column_name(page.answers)}"
    cells: Cells = {}
    for word, row in here:
        one = one_of(places[word.key], _is_answered)
        if one is None:
            name = f"the question '{word.name}' (key '{word.key}')"
            told.faults.append(f"sheet '{sheet.name}': {name} is there twice")
        elif one == (page, row):
            where = f"{column}{row + 1}"
            cells[word.name] = told.answer(clear.grid[row][page.answers], where), where
    return cells


def _is_answered(place: _Place) -> bool:
    page, row = place
    return not is_blank(page.sheet.grid[row][page.answers])
