"""What a calculation returns: a value or *not known*, with a working that can be printed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from survey.model import Answer, Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN


class Line(NamedTuple):
    """One line of a working, such as ``S = b h^2 / 6 = 20 x 8^2 / 6 = 213.3 in3``.

    Args:
        symbol: the engineer's symbol.
        meaning: what it is, in words.
        formula: the formula in symbols; empty for an input.
        numbers: the same with the numbers put in; empty for an input.
        result: the figure with its unit, as printed.
        source: standard and clause of the formula or figure, with "from memory" or "common
            practice" where that is what it is.
    """

    symbol: str
    meaning: str
    formula: str
    numbers: str
    result: str
    source: str = ""


Lines = tuple[Line, ...]


class Working:
    """A calculation as an engineer would check it.

    Args:
        title: what is worked out.
        source: standard and clause the method rests on.
        validity: the range in which the method holds.
        lines: inputs first, then each step; or what writes them, which is called when they are
            first read, for far more is worked out than is ever printed.
    """

    __slots__ = ("_lines", "source", "title", "validity")

    def __init__(
        self, title: str, source: str, validity: str, lines: Lines | Callable[[], Lines]
    ) -> None:
        self.title: Final = title
        self.source: Final = source
        self.validity: Final = validity
        self._lines = lines

    @property
    def lines(self) -> Lines:
        """Inputs first, then each step."""
        lines = self._lines
        if not isinstance(lines, tuple):
            lines = self._lines = lines()
        return lines

    def _all(self) -> tuple[str, str, str, Lines]:
        return self.title, self.source, self.validity, self.lines

    def __eq__(self, other: object) -> bool:
        return self._all() == other._all() if isinstance(other, Working) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        title, source, validity, lines = self._all()
        return f"Working({title=}, {source=}, {validity=}, {lines=})"


class Result(NamedTuple):
    """What a pure calculation gives.

    Args:
        value: in the unit that the function states, or a state if it can't be given.
        reason: why there is no value; empty if there is one.
        working: the steps, as far as they could be taken.
        bounds: of a figure that is not known, the least and the most that it can be, whatever
            the answers that are missing turn out to be.
    """

    value: Value
    reason: str = ""
    working: Working | None = None
    bounds: tuple[float, float] | None = None

    @property
    def known(self) -> bool:
        """Whether there is a value."""
        return self.value is not NOT_KNOWN and self.value is not DOES_NOT_APPLY


def not_known(reason: str) -> Result:
    """A result that can't be told, and why."""
    return Result(NOT_KNOWN, reason)


def within(least: float, most: float, reason: str, working: Working) -> Result:
    """A figure that can't be told but for the least and the most that it can be."""
    return Result(NOT_KNOWN, reason, working, (least, most))


class Input(NamedTuple):
    """An answer that a figure rests on.

    Args:
        word: name of the word.
        label: label of the row it belongs to.
        answer: the answer with the place it was read from.
    """

    word: str
    label: str
    answer: Answer


class Quantity(NamedTuple):
    """A derived word of one thing on site: a result and what it rests on.

    Args:
        result: the figure, or why there is none.
        behind: answers, and figures worked out before, in the order in which they were used.
    """

    result: Result
    behind: tuple[Input | Quantity, ...] = ()

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The answers that it rests on, each once."""
        found: dict[int, Input] = {}
        seen: set[int] = set()
        left: list[Input | Quantity] = [self]
        while left:
            part = left.pop()
            if isinstance(part, Input):
                found.setdefault(id(part), part)
            elif id(part) not in seen:
                seen.add(id(part))
                left.extend(reversed(part.behind))
        return tuple(found.values())

    @property
    def missing(self) -> tuple[Input, ...]:
        """The answers that are not known among those it rests on."""
        return tuple(given for given in self.inputs if given.answer.value is NOT_KNOWN)


@dataclass(frozen=True)
class Quantities:
    """Every derived word of a survey, by word and by the labels of the things it is said of."""

    by_place: Mapping[tuple[str, tuple[str, ...]], Quantity] = field(default_factory=dict)

    def of(self, word: str, labels: Iterable[str]) -> Quantity:
        """The figure of a derived word, for one thing or pair of things."""
        return self.by_place[word, tuple(labels)]
