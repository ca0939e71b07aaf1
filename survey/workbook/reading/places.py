"""Where each question stands on a sheet: by its hidden key, and where that is gone by its heading.

So rows and columns may be moved, inserted and renamed, and a form of an earlier version, which
lacks some questions, reads as well.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from survey.answers import as_text
from survey.vocabulary import Subject, Vocabulary, Word
from survey.vocabulary.walk import OWN_QUESTIONS, PAGES, Page, questions
from survey.workbook.layout import (
    ANSWER_KEY,
    BLOCK_KEY,
    LABEL_KEY,
    PICTURE_KEY,
    QUESTION_KEY,
    SITE_HEADINGS,
    START,
    VERSION_KEY,
    asked,
    folded,
)
from survey.workbook.reading.book import Grid

_T = TypeVar("_T")
_FEWEST_KEYS = 2  # that make a row one of keys, or of headings
_GUIDE_ROWS = 3  # at most so many rows of units and help stand below the headings
BLOCK_TITLES = {block.title for page in PAGES for block in page.blocks} | {OWN_QUESTIONS}


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a list.

    Args:
        head: number of the last row above the answers, from 0.
        headings: number of the row of headings, if there is one.
        every: the columns of each key; more than one are still to be told apart.
        strange: the key of each column whose key no question has.
        pictures: columns for pictures.
        misnamed: the heading of each column that has the heading of another question.
    """

    head: int
    headings: int | None
    every: Mapping[str, Sequence[int]]
    strange: Mapping[int, str] = field(default_factory=dict)
    pictures: Collection[int] = ()
    misnamed: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Lines:
    """The rows of a sheet about the site, on which the questions stand below each other.

    Args:
        head: number of the last row above the questions, from 0.
        keys: number of the column of keys, if there is one.
        answers: numbers of the columns that may be that of the answers.
        every: the rows of each key.
        strange: the key of each row whose key no question has.
        titles: rows that are titles.
    """

    head: int
    keys: int | None
    answers: Sequence[int]
    every: Mapping[str, Sequence[int]]
    strange: Mapping[int, str] = field(default_factory=dict)
    titles: Collection[int] = ()


def one_of(places: Sequence[_T], filled: Callable[[_T], bool]) -> _T | None:
    """The one of several places of a question that has anything in it; none if several have."""
    if len(places) == 1:
        return places[0]
    having = [place for place in places if filled(place)]
    return None if len(having) > 1 else [*having, *places][0]


def list_columns(grid: Grid, subject: Subject, vocabulary: Vocabulary) -> Columns | None:
    """The columns of a list; none if neither keys nor headings are there."""
    keys, by_heading = _list_keys(vocabulary, subject)
    head = _fullest(grid, keys)
    if head is None:
        return _by_headings(grid, keys, by_heading)
    every: dict[str, list[int]] = {}
    strange: dict[int, str] = {}
    pictures = []
    for column, cell in enumerate(grid[head]):
        key = as_text(cell).strip()
        if key in keys:
            every.setdefault(key, []).append(column)
        elif key == PICTURE_KEY:
            pictures.append(column)
        elif key:
            strange[column] = key
    headings = _fullest(grid[:head], by_heading, fewest=1)
    if headings is None:
        return Columns(head, headings, every, strange, pictures)
    key_of = {column: key for key, columns in every.items() for column in columns}
    misnamed = {}
    for column, cell in enumerate(grid[headings]):
        found = by_heading.get(cell)
        if found is None:
            continue
        if column in key_of:
            if key_of[column] != found:
                misnamed[column] = as_text(cell)
        elif found not in key_of.values():
            every.setdefault(found, []).append(column)
            strange.pop(column, None)
    return Columns(head, headings, every, strange, pictures, misnamed)


def _by_headings(grid: Grid, keys: Mapping[str, str], by_heading: _Headings) -> Columns | None:
    headings = _fullest(grid, by_heading)
    if headings is None:
        return None
    every: dict[str, list[int]] = {}
    pictures = []
    for column, cell in enumerate(grid[headings]):
        if found := by_heading.get(cell):
            every.setdefault(found, []).append(column)
        elif isinstance(cell, str) and folded(cell) == PICTURE_KEY:
            pictures.append(column)
    head = headings
    for number in range(headings + 1, min(headings + 1 + _GUIDE_ROWS, len(grid))):
        asked_here = [
            folded(as_text(grid[number][columns[0]])).startswith(folded(keys[key]))
            for key, columns in every.items()
            if key != LABEL_KEY and grid[number][columns[0]] != ""
        ]
        if asked_here and 2 * sum(asked_here) > len(asked_here):
            head = number  # the row of help, which repeats the questions
    return Columns(head, headings, every, pictures=pictures)


class _Headings:
    """The key of each heading of a list, however it is spaced and whatever its capitals."""

    def __init__(self, keys: Mapping[str, str]) -> None:
        self._by_text = keys
        self._by_folded = {folded(heading): key for heading, key in keys.items()}

    def get(self, cell: object) -> str | None:
        """The key of the heading in a cell, if it is one."""
        if not cell or not isinstance(cell, str):
            return None
        return self._by_text.get(cell) or self._by_folded.get(folded(cell))

    def __contains__(self, cell: object) -> bool:
        return self.get(cell) is not None


@functools.cache
def _list_keys(vocabulary: Vocabulary, subject: Subject) -> tuple[Mapping[str, str], _Headings]:
    """The question behind each key of a list, and the key of each heading."""
    words = asked(vocabulary, subject)
    prompts = {LABEL_KEY: "", **{key: word.prompt for key, word in words.items()}}
    names = {subject.value: LABEL_KEY, **{word.name: key for key, word in words.items()}}
    return prompts, _Headings({name[:1].upper() + name[1:]: key for name, key in names.items()})


def _fullest(
    grid: Iterable[Sequence[object]],
    wanted: Mapping[str, object] | _Headings,
    fewest: int = _FEWEST_KEYS,
) -> int | None:
    """Number of the row that holds most of some texts, if it holds enough of them."""
    most, found = fewest - 1, None
    for number, row in enumerate(grid):
        if isinstance(wanted, Mapping) and wanted.keys().isdisjoint(row):
            continue
        there = sum(cell in wanted for cell in row if cell and isinstance(cell, str))
        if there > most:
            most, found = there, number
    return found


def site_lines(grid: Grid, vocabulary: Vocabulary) -> Lines | None:
    """The rows of a sheet about the site, by their keys; none if there are none."""
    keys = asked(vocabulary, Subject.SITE)
    marks = next(
        (number for number, row in enumerate(grid) if QUESTION_KEY in row or ANSWER_KEY in row),
        None,
    )
    line = () if marks is None else grid[marks]
    column = (
        line.index(QUESTION_KEY)
        if QUESTION_KEY in line
        else _fullest(zip(*grid, strict=True), keys, fewest=1)
    )
    every: dict[str, list[int]] = {}
    strange: dict[int, str] = {}
    titles = []
    if column is None:
        titles = [number for number, row in enumerate(grid) if not BLOCK_TITLES.isdisjoint(row)]
    else:
        for number, row in enumerate(grid):
            key = as_text(row[column]).strip()
            if key in keys:
                every.setdefault(key, []).append(number)
            elif key == BLOCK_KEY:
                titles.append(number)
            elif key and key != QUESTION_KEY:
                strange[number] = key
    answers = [number for number, cell in enumerate(line) if cell == ANSWER_KEY]
    answers = answers or _headed(grid, folded(SITE_HEADINGS[1]))
    if marks is None:
        if not every and not answers:
            return None
        marks = min((row for rows in every.values() for row in rows), default=1) - 1
    return Lines(marks, column, answers, every, strange, titles)


def _headed(grid: Grid, heading: str) -> list[int]:
    """The columns of the first row in which a heading stands."""
    for row in grid:
        columns = [
            number
            for number, cell in enumerate(row)
            if isinstance(cell, str) and folded(cell) == heading
        ]
        if columns:
            return columns
    return []


def by_prompt(grid: Grid, lines: Lines, words: Iterable[Word]) -> Mapping[str, Sequence[int]]:
    """The rows in which the questions themselves stand, for those that have no key."""
    wanted: dict[str, str] = {}
    twice = set()
    for word in words:
        prompt = folded(word.prompt)
        twice |= {prompt} & wanted.keys()
        wanted[prompt] = word.key
    with_key = {row for rows in lines.every.values() for row in rows}
    found: dict[str, list[int]] = {}
    for number, row in enumerate(grid):
        if number in with_key or number <= lines.head:
            continue
        for column, cell in enumerate(row):
            if column in lines.answers or not isinstance(cell, str):
                continue
            prompt = folded(cell)
            if prompt in wanted and prompt not in twice:
                found.setdefault(wanted[prompt], []).append(number)
                break
    return found


def page_by_keys(grid: Grid, pages: Iterable[Page], vocabulary: Vocabulary) -> str | None:
    """Name of the sheet of the form, Start or one of some pages, whose hidden keys a sheet has."""
    there = {cell for row in grid for cell in row if isinstance(cell, str)}
    if VERSION_KEY in there:
        return START
    most, best = 0, None
    for page in pages:
        sign = QUESTION_KEY if page.subject is Subject.SITE else LABEL_KEY
        found = sum(word.key in there for word in questions(page, vocabulary))
        if sign in there and found > most:
            most, best = found, page.sheet
    return best
