"""What a calculation returns: a value or *not known*, with a working that can be printed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from survey.model import Answer, Value
from survey.vocabulary import NOT_KNOWN, Missing


@dataclass(frozen=True, slots=True)
class Line:
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


@dataclass(frozen=True, slots=True)
class Working:
    """A calculation as an engineer would check it.

    Args:
        title: what is worked out.
        source: standard and clause the method rests on.
        validity: the range in which the method holds.
        lines: inputs first, then each step.
    """

    title: str
    source: str
    validity: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """What a pure calculation gives.

    Args:
        value: in the unit that the function states, or a state if it can't be given.
        reason: why there is no value; empty if there is one.
        working: the steps, as far as they could be taken.
    """

    value: Value
    reason: str = ""
    working: Working | None = None

    @property
    def known(self) -> bool:
        """Whether there is a value."""
        return not isinstance(self.value, Missing)


def not_known(reason: str) -> Result:
    """A result that can't be told, and why."""
    return Result(NOT_KNOWN, reason)


@dataclass(frozen=True, slots=True)
class Input:
    """An answer that a figure rests on.

    Args:
        word: name of the word.
        label: label of the row it belongs to.
        answer: the answer with the place it was read from.
    """

    word: str
    label: str
    answer: Answer


@dataclass(frozen=True, slots=True)
class Quantity:
    """A derived word of one thing on site: a result and the answers behind it."""

    result: Result
    inputs: tuple[Input, ...] = ()

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
