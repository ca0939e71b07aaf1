"""What a form is to hold, and where each question stands on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from survey.errors import Problem
from survey.model import Row, Survey
from survey.rewriting import Place
from survey.vocabulary import Missing, Subject, Units, Vocabulary, Word
from survey.vocabulary.walk import FIRST_VISIT, PAGES, Page, blocks_of
from survey.workbook.layout import BLANK_ROWS, HEAD_ROWS, column_name

SITE_HEADING, SITE_KEYS, SITE_FIRST = 1, 2, 3  # rows of a site page
SITE_QUESTION, SITE_ANSWER, SITE_UNIT, SITE_HELP, SITE_KEY = 1, 2, 3, 4, 5
BLOCK, HEADING, UNIT, HELP, KEYS, FIRST = *range(1, HEAD_ROWS + 1), HEAD_ROWS + 1, HEAD_ROWS + 2
# Whoever needs more inserts them; on paper, each is a page or two.
_FEW_ROWS = {
    Subject.WALL: 40, Subject.NEIGHBOUR: 40, Subject.SOIL_LAYER: 20, Subject.PHOTO: 30,
    Subject.RELEASE: 20,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Order:
    """What form to write.

    Args:
        vocabulary: the questions there are.
        units: in which it asks.
        survey: the answers to fill in; blank without.
        short: only what decides on a first visit.
        wanted: the cells to frame: what the last check asks for.
        unread: what stood in a cell and could not be read; it is written as it stood.
        stray: what stood outside the questions.
    """

    vocabulary: Vocabulary
    units: Units = Units.US_CUSTOMARY
    survey: Survey | None = None
    short: bool = False
    wanted: frozenset[Place] = frozenset()
    unread: Mapping[Place, str] = field(default_factory=lambda: MappingProxyType({}))
    stray: tuple[Problem, ...] = ()

    def rows(self, subject: Subject) -> tuple[Row, ...]:
        """The rows to fill in."""
        return () if self.survey is None else self.survey.rows(subject)


@dataclass(frozen=True)
class PagePlan:
    """One sheet with questions: which, in what blocks, and in which rows or columns."""

    page: Page
    blocks: tuple[tuple[str, tuple[Word, ...]], ...]
    rows: int

    @property
    def sheet(self) -> str:
        """Name of the sheet."""
        return self.page.sheet

    @property
    def is_site(self) -> bool:
        """Whether its questions stand below each other, and are answered once."""
        return self.page.subject is Subject.SITE

    @property
    def last(self) -> int:
        """Number of the last row of a list."""
        return FIRST + self.rows - 1

    @cached_property
    def words(self) -> tuple[Word, ...]:
        """The questions in order."""
        return tuple(word for _title, words in self.blocks for word in words)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Row of each question on a site page, its column on a list, by the word's name."""
        if not self.is_site:
            return {word.name: column for column, word in enumerate(self.words, start=2)}
        places: dict[str, int] = {}
        row = SITE_FIRST
        for _title, words in self.blocks:
            places |= {word.name: row + n for n, word in enumerate(words, start=1)}
            row += len(words) + 1
        return places

    def column(self, word: Word) -> str:
        """Letters of the column with the answers to a question."""
        return column_name((SITE_ANSWER if self.is_site else self.places[word.name]) - 1)

    def answers(self, word: Word) -> str:
        """The cells that answer a question, such as ``B7`` or ``C6:C65``."""
        column = self.column(word)
        if self.is_site:
            return f"{column}{self.places[word.name]}"
        return f"{column}{FIRST}:{column}{self.last}"

    def reference(self, word: Word) -> str:
        """The same cells for a formula on any sheet, such as ``Piers!$C$6:$C$65``."""
        column = self.column(word)
        if self.is_site:
            return f"{self.sheet}!${column}${self.places[word.name]}"
        return self._column(column)

    @property
    def labels(self) -> str:
        """The cells with the labels of a list, for a formula on any sheet."""
        return self._column("A")

    def _column(self, letters: str) -> str:
        return f"{self.sheet}!${letters}${FIRST}:${letters}${self.last}"


@dataclass(frozen=True)
class Plan:
    """The sheets with questions, in order."""

    order: Order
    pages: tuple[PagePlan, ...]

    @cached_property
    def _page_of(self) -> Mapping[str, PagePlan]:
        return {word.name: page for page in self.pages for word in page.words}

    def page_of(self, name: str) -> PagePlan | None:
        """The sheet on which a question stands, if the form asks it."""
        return self._page_of.get(name)

    def list_of(self, subject: Subject) -> PagePlan | None:
        """The sheet that lists one sort of thing, if the form has it."""
        return next((page for page in self.pages if page.page.subject is subject), None)


def plan_form(order: Order) -> Plan:
    """Lay out a form: the pages of the walk, each with the questions that are asked."""
    asked = _asked(order) if order.short else None
    pictured = {picture.sheet for picture in order.survey.pictures} if order.survey else set()
    pages = []
    for page in PAGES:
        whole = page.subject is Subject.PHOTO or page.sheet in pictured
        blocks = tuple(
            (title, words)
            for title, every in blocks_of(page, order.vocabulary)
            if (words := tuple(w for w in every if asked is None or whole or w.name in asked))
        )
        rows = max(_FEW_ROWS.get(page.subject, BLANK_ROWS), len(order.rows(page.subject)))
        if blocks:
            pages.append(PagePlan(page, blocks, rows))
    return Plan(order, tuple(pages))


def _asked(order: Order) -> frozenset[str]:
    """The questions of a short form: of a first visit, and whatever has an answer to be kept."""
    names = set(FIRST_VISIT) | {name for _subject, _label, name in (*order.wanted, *order.unread)}
    if order.survey is not None:
        names |= {
            name
            for row in order.survey.every_row()
            for name, answer in row.answers.items()
            if not isinstance(answer.value, Missing)
        }
    return frozenset(n for name in names for n in (name, *_governing(order.vocabulary, name)))


def _governing(vocabulary: Vocabulary, name: str) -> Iterator[str]:
    """The questions on which it depends whether this one applies."""
    word = vocabulary.get(name)
    while word is not None and word.asks_when is not None:
        yield word.asks_when.word
        word = vocabulary[word.asks_when.word]
