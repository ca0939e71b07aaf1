"""The answers about the site: questions below each other, on several sheets."""

from __future__ import annotations

import functools
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from survey.answers import RawRow
from survey.errors import Problem
from survey.vocabulary import Subject, Units, Vocabulary, Word
from survey.vocabulary.walk import PAGES, page_of
from survey.workbook.layout import ANSWER_KEY, asked, column_name, folded
from survey.workbook.reading import stray
from survey.workbook.reading.book import Sheet
from survey.workbook.reading.merged import unmerged
from survey.workbook.reading.places import (
    Lines,
    by_prompt,
    in_other_units,
    one_of,
    says_other_units,
    site_lines,
    unit_texts,
)
from survey.workbook.reading.told import Cells, Told, is_blank, shown


@dataclass(frozen=True, slots=True, eq=False)
class _Page:
    """A sheet about the site, with the rows of its questions and the column of its answers."""

    sheet: Sheet
    lines: Lines
    answers: int
    units: Units

    def beside(self, row: int) -> Sequence[object]:
        """What stands in a row beside its answer."""
        line = self.sheet.grid[row]
        return (*line[: self.answers], *line[self.answers + 1 :])


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
    unread = _misplaced(pages, places, words)
    cells: Cells = {}
    for page in pages:
        cells |= _answers(page, places, unread, words, told)
    for word in words.values():
        if word.name in cells:
            continue
        if word.key in places:  # but it is not what is asked there
            page, row = places[word.key][0]
            cells[word.name] = None, f"{page.sheet.name}!{column_name(page.answers)}{row + 1}"
        else:
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
    return _Page(sheet, lines, column, told.units)


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


def _misplaced(
    pages: Sequence[_Page], places: Mapping[str, Sequence[_Place]], words: Mapping[str, Word]
) -> Mapping[_Place, str]:
    """Rows that do not ask what their key says, or ask it in other units, with what to tell."""
    rows = _Shown(pages, words)
    unread: dict[_Place, str] = {}
    for key, each in places.items():
        word, units = words[key], unit_texts(words[key])
        for place in each:
            page, row = place
            asks = rows.asks(place, word)
            if asks is not None:
                if len(each) > 1 or asks or rows.elsewhere(word):
                    unread[place] = _asks_another(word, asks)
            elif says_other_units(page.beside(row), units, page.units):
                unread[place] = in_other_units(units, page.units)
    return unread


class _Shown:
    """Which question a person sees in each row, whatever its key says."""

    def __init__(self, pages: Sequence[_Page], words: Mapping[str, Word]) -> None:
        self._pages = pages
        self._words = words

    def asks(self, place: _Place, word: Word) -> str | None:
        """Nothing if a row asks a question, else the one it does; "" if that is none."""
        page, row = place
        beside = page.beside(row)
        if word.prompt in beside:
            return None
        texts = {folded(cell) for cell in beside if isinstance(cell, str)}
        if folded(word.prompt) in texts:
            return None
        return next((name for text, name in self._names.items() if text in texts), "")

    def elsewhere(self, word: Word) -> bool:
        """Whether any row at all asks a question."""
        return folded(word.prompt) in self._everywhere

    @functools.cached_property
    def _names(self) -> Mapping[str, str]:
        return {folded(word.prompt): word.name for word in self._words.values()}

    @functools.cached_property
    def _everywhere(self) -> Collection[str]:
        return {
            folded(cell)
            for page in self._pages
            for row in range(len(page.sheet.grid))
            for cell in page.beside(row)
            if isinstance(cell, str)
        }


def _asks_another(word: Word, asks: str) -> str:
    seen = f"asks '{asks}'" if asks else "is no question of the form"
    return (
        f"no answer here: by its hidden key this row asks '{word.name}', but what it shows {seen}, "
        "so the answer was not read. Put the row back as it was, or the answers into a fresh form "
        "made by 'pier-survey form'"
    )


def _answers(
    page: _Page,
    places: Mapping[str, Sequence[_Place]],
    unread: Mapping[_Place, str],
    words: Mapping[str, Word],
    told: Told,
) -> Cells:
    """The answers on one sheet."""
    sheet = page.sheet
    here = [(words[key], row) for key, each in places.items() for at, row in each if at is page]
    told.strays += stray.beside_questions(sheet.name, sheet.grid, page.lines, page.answers, here)
    clear = unmerged(sheet, sorted(row for _word, row in here), {page.answers: True}, several=False)
    told.problems += clear.problems
    column = f"{sheet.name}!{column_name(page.answers)}"
    cells: Cells = {}
    for word, row in here:
        where = f"{column}{row + 1}"
        if (page, row) in unread:
            if _is_answered((page, row)):
                read = shown(sheet.grid[row][page.answers])
                told.problems.append(Problem(where, read, unread[page, row]))
            continue
        several = [place for place in places[word.key] if place not in unread]
        one = one_of(several, _is_answered)
        if one is None:
            name = f"the question '{word.name}' (key '{word.key}')"
            told.faults.append(f"sheet '{sheet.name}': {name} is there twice")
        elif one == (page, row):
            cells[word.name] = told.answer(clear.grid[row][page.answers], where), where
    return cells


def _is_answered(place: _Place) -> bool:
    page, row = place
    return not is_blank(page.sheet.grid[row][page.answers])
