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
from survey.vocabulary import Subject, Units, Vocabulary, Word, tidy
from survey.vocabulary.walk import OWN_QUESTIONS, PAGES, Page, questions
from survey.workbook import texts
from survey.workbook.layout import (
    ANSWER_KEY,
    BLOCK_KEY,
    HEAD_ROWS,
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
_LONGEST_SHOWN = 80
_FEWEST_KEYS = 2  # that make a row one of keys, or of headings
_GUIDE_ROWS = 3  # at most so many rows of units and help stand below the headings
BLOCK_TITLES = {block.title for page in PAGES for block in page.blocks} | {OWN_QUESTIONS}


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a list.

    Args:
        top: number of the row of headings, from 0; about where it was, if it is gone.
        keys: number of the row of keys; of the headings, if there are no keys.
        rows: numbers of the rows that may hold answers: all below the headings but those of
            units, help and keys, for a row may be sorted or inserted above the hidden keys.
        every: the columns of each key; more than one are still to be told apart.
        strange: the key of each column whose key no question has.
        pictures: columns for pictures.
        unread: of each column that is not what its key says, what should stand there.
    """

    top: int
    keys: int
    rows: Sequence[int]
    every: Mapping[str, Sequence[int]]
    strange: Mapping[int, str] = field(default_factory=dict)
    pictures: Collection[int] = ()
    unread: Mapping[int, str] = field(default_factory=dict)


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


def list_columns(
    grid: Grid, subject: Subject, vocabulary: Vocabulary, units: Units
) -> Columns | None:
    """The columns of a list; none if neither keys nor headings are there."""
    guides, by_heading = _list_keys(vocabulary, subject)
    head = _fullest(grid, guides)
    if head is None:
        return _by_headings(grid, guides, by_heading, units)
    every: dict[str, list[int]] = {}
    strange: dict[int, str] = {}
    pictures = []
    for column, cell in enumerate(grid[head]):
        key = as_text(cell).strip()
        if key in guides:
            every.setdefault(key, []).append(column)
        elif key == PICTURE_KEY:
            pictures.append(column)
        elif key:
            strange[column] = key
    headings = _fullest(grid[:head], by_heading, fewest=1)
    unread: dict[int, str] = {}
    if headings is not None:
        unread = _misnamed(grid[headings], every, by_heading)
        for column, cell in enumerate(grid[headings]):
            found = by_heading.get(cell)
            if found is not None and found not in every and column not in unread:
                every[found] = [column]
                strange.pop(column, None)
    above = range(0 if headings is None else headings + 1, head)
    told = [row for row in above if _is_guide(grid[row], every, guides)]
    if headings is None and not told:
        top, between = max(0, head - HEAD_ROWS), []
    else:
        top = max(0, told[0] - 1) if headings is None else headings
        between = [row for row in range(top + 1, head) if row not in told]
    unread |= _in_other_units(grid, told, every, guides, units)
    rows = [*between, *range(head + 1, len(grid))]
    return Columns(top, head, rows, _without(every, unread), strange, pictures, unread)


def _by_headings(
    grid: Grid, guides: Mapping[str, _Guide], by_heading: _Headings, units: Units
) -> Columns | None:
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
    below = range(headings + 1, min(headings + 1 + _GUIDE_ROWS, len(grid)))
    told = [row for row in below if _is_guide(grid[row], every, guides)]
    unread = _in_other_units(grid, told, every, guides, units)
    rows = [row for row in range(headings + 1, len(grid)) if row not in told]
    every = _without(every, unread)
    return Columns(headings, headings, rows, every, pictures=pictures, unread=unread)


def _misnamed(
    headings: Sequence[object], every: Mapping[str, Sequence[int]], by_heading: _Headings
) -> dict[int, str]:
    """Columns under the heading of another question, or one of several under none of its own."""
    unread = {}
    for key, columns in every.items():
        for column in columns:
            found = by_heading.get(headings[column])
            if found == key or (found is None and len(columns) == 1):
                continue
            name, shown = key.replace("_", " "), tidy(as_text(headings[column]))[:_LONGEST_SHOWN]
            unread[column] = (
                f"nothing under the heading '{shown}': the hidden key of this column says '{name}',"
                " so what it answers can't be told, and nothing in it was read. Put the heading "
                "back, or the key, or the answers where they are asked for"
            )
    return unread


def _in_other_units(
    grid: Grid,
    told: Iterable[int],
    every: Mapping[str, Sequence[int]],
    guides: Mapping[str, _Guide],
    units: Units,
) -> dict[int, str]:
    """Columns above which the unit of the other sort of form stands."""
    return {
        column: in_other_units(guides[key].units, units)
        for row in told
        for key, columns in every.items()
        for column in columns
        if says_other_units((grid[row][column],), guides[key].units, units)
    }


def _without(every: Mapping[str, list[int]], unread: Collection[int]) -> dict[str, list[int]]:
    """The columns of each key but for some."""
    if not unread:
        return dict(every)
    kept = {key: [at for at in columns if at not in unread] for key, columns in every.items()}
    return {key: columns for key, columns in kept.items() if columns}


def says_other_units(
    cells: Iterable[object], texts_of_unit: Mapping[Units, str], units: Units
) -> bool:
    """Whether a cell says that a question is asked in units that the form does not ask in."""
    own = texts_of_unit[units]
    others = [text for text in texts_of_unit.values() if text != own]
    return bool(others) and any(isinstance(cell, str) and cell.strip() in others for cell in cells)


def in_other_units(texts_of_unit: Mapping[Units, str], units: Units) -> str:
    """What to tell of an answer for which the form says another unit than it asks in."""
    own = texts_of_unit[units]
    other = next(text for text in texts_of_unit.values() if text != own)
    return (
        f"'{own}' as the unit: this form asks in {units.value} units, but here it says '{other}', "
        "so the answer was not read. Put it into a fresh form made by 'pier-survey form'"
    )


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


@dataclass(frozen=True, slots=True)
class _Guide:
    """What stands below the heading of a column: its unit in a form of either sort, and help."""

    units: Mapping[Units, str]
    help: str  # how it begins

    def says(self, cell: object) -> bool:
        """Whether that is what a cell says."""
        if not isinstance(cell, str):
            return False
        if cell in self.units.values() or cell.startswith(self.help):
            return True
        text = folded(cell)
        return text.startswith(folded(self.help)) or text in map(folded, self.units.values())


def _is_guide(
    row: Sequence[object], every: Mapping[str, Sequence[int]], guides: Mapping[str, _Guide]
) -> bool:
    """Whether a row is one of units or of help, by most of what stands in it."""
    filled = {key: cell for key, at in every.items() if (cell := row[at[0]]) not in ("", None)}
    return 2 * sum(guides[key].says(cell) for key, cell in filled.items()) > len(filled)


@functools.cache
def unit_texts(word: Word) -> Mapping[Units, str]:
    """What the form says of a question's unit, by the units that it asks in."""
    return {units: texts.unit_text(word, units) for units in Units}


@functools.cache
def _list_keys(vocabulary: Vocabulary, subject: Subject) -> tuple[Mapping[str, _Guide], _Headings]:
    """What is below the heading of each key of a list, and the key of each heading."""
    words = asked(vocabulary, subject)
    label = _Guide(dict.fromkeys(Units, "label"), texts.label_help(subject))
    guides = {key: _Guide(unit_texts(word), word.prompt) for key, word in words.items()}
    names = {subject.value: LABEL_KEY, **{word.name: key for key, word in words.items()}}
    headings = _Headings({name[:1].upper() + name[1:]: key for name, key in names.items()})
    return {LABEL_KEY: label, **guides}, headings


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
