"""From answers to the figure of a derived word, keeping every answer that it rests on."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

from survey.engineering.working import (
    Input,
    Line,
    Lines,
    Quantity,
    Result,
    Working,
    not_known,
    within,
)
from survey.model import Row, Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Missing

Part = Input | Quantity

# What a step gives that settles where something stands, rather than a figure.
PLACED = Result("placed")


class Asked(dict[str, Input]):
    """The answers of one row as inputs by word, each made when it is first asked for."""

    def __init__(self, row: Row) -> None:
        super().__init__()
        self.label = row.label
        self._answers = row.answers

    def __missing__(self, word: str) -> Input:
        made = self[word] = Input(word, self.label, self._answers[word])
        return made

    def some(self, *words: str) -> tuple[Input, ...]:
        """Several answers, in this order."""
        return tuple(map(self.__getitem__, words))

    def value(self, word: str) -> Value:
        """The answer itself."""
        return self._answers[word].value

    def number(self, word: str) -> float:
        """A measured answer that is known to be a value."""
        value = self.value(word)
        assert isinstance(value, (int, float)), f"'{word}' of {self.label} is {value}"
        return value


def worked(
    calculation: Callable[..., Result], *parts: Part, after: tuple[Quantity, ...] = ()
) -> Quantity:
    """Apply a calculation to answers and to figures worked out before.

    Args:
        calculation: takes the values of the parts, in their order; called only when all of
            them are values.
        parts: answers and earlier figures.
        after: earlier figures whose steps are printed ahead of the working, because they are
            no derived word with a page of their own.

    Returns:
        The result with every answer behind it; not known while one of the parts is.
    """
    values: list[Value] = []
    for part in parts:  # a plain loop: this is done thousands of times
        value = part.answer.value if isinstance(part, Input) else part.result.value
        if value is NOT_KNOWN or value is DOES_NOT_APPLY:
            return waits_for(*parts)
        values.append(value)
    result = calculation(*values)
    return Quantity(_with_steps(result, after) if after else result, parts)


def waits_for(*parts: Part) -> Quantity:
    """A figure that can't be told while one of these answers is not known."""
    return Quantity(not_known("; ".join(dict.fromkeys(_lacking(parts)))), parts)


def _lacking(parts: Sequence[Part]) -> Iterator[str]:
    for part in parts:
        if isinstance(part, Input):
            if isinstance(part.answer.value, Missing):
                yield f"'{part.word}' of {part.label}: {part.answer.value}"
        elif isinstance(part.result.value, Missing):
            yield part.result.reason


def worked_within(
    calculation: Callable[..., Result], *parts: Part, after: tuple[Quantity, ...] = ()
) -> Quantity:
    """As :func:`worked`, but figures that are known to lie within bounds give bounds.

    Args:
        calculation: rises or falls with each of those figures throughout, so that its least
            and its greatest value lie at their ends.
        parts: answers and earlier figures.
        after: earlier figures whose steps are printed ahead of the working.
    """
    if not any(part.result.bounds for part in parts if isinstance(part, Quantity)):
        return worked(calculation, *parts, after=after)
    choices: list[tuple[Value, ...]] = []
    reasons, others = [], []
    for part in parts:
        if isinstance(part, Quantity) and part.result.bounds:
            choices.append(part.result.bounds)
            reasons.append(part.result.reason)
        else:
            value = part.answer.value if isinstance(part, Input) else part.result.value
            choices.append((value,))
            others.append(part)
    lacking = tuple(_lacking(others))
    if lacking:
        return Quantity(not_known("; ".join(dict.fromkeys(lacking))), parts)
    found = [calculation(*values) for values in itertools.product(*choices)]
    result = _between(found, "; ".join(dict.fromkeys(reasons)))
    return Quantity(_with_steps(result, after), parts)


def _between(found: Sequence[Result], reason: str) -> Result:
    """Bounds from the values at the ends; not known if there is none at one of them."""
    for one in found:
        if not isinstance(one.value, (int, float)):
            return not_known(one.reason or reason)
    low, high = (pick(found, key=_figure) for pick in (min, max))
    least, most = _figure(low), _figure(high)
    if least == most:
        return high
    if low.working is None or high.working is None:
        return not_known(reason)
    own, other = high.working, low.working

    def lines() -> Lines:
        both = Line(
            "", "least and greatest", "for the least and the greatest of what is not known", "",
            f"{other.lines[-1].result} to {own.lines[-1].result}",
        )  # fmt: skip
        return (*own.lines, both)

    return within(least, most, reason, Working(own.title, own.source, own.validity, lines))


def _figure(result: Result) -> float:
    assert isinstance(result.value, (int, float))
    return result.value


def _with_steps(result: Result, after: tuple[Quantity, ...]) -> Result:
    own = result.working
    workings = [step.result.working for step in after if step.result.working is not None]
    if own is None or not workings:
        return result
    working = Working(
        own.title, own.source, own.validity,
        lambda: tuple(line for each in (*workings, own) for line in each.lines),
    )  # fmt: skip
    return Result(result.value, result.reason, working, result.bounds)


def resting_on(result: Result, *parts: Part) -> Quantity:
    """A result with the answers behind it; of a known one, only those that are values.

    For results that may be settled although some answers are not known.
    """
    if result.value is NOT_KNOWN:
        return Quantity(result, parts)
    known: list[Part] = []
    for part in parts:
        if isinstance(part, Quantity) and part.result.known:
            known.append(part)
        else:
            inputs = (part,) if isinstance(part, Input) else part.inputs
            known += [given for given in inputs if not isinstance(given.answer.value, Missing)]
    return Quantity(result, tuple(known))
