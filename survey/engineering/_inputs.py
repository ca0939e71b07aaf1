"""From answers to the figure of a derived word, keeping every answer that it rests on."""

from __future__ import annotations

from collections.abc import Callable

from survey.engineering.working import Input, Quantity, Result, Working, not_known
from survey.model import Row, Value
from survey.vocabulary import NOT_KNOWN, Missing

Part = Input | Quantity

# What a step gives that settles where something stands, rather than a figure.
PLACED = Result("placed")


class Asked:
    """The answers of one row as inputs, each made once."""

    __slots__ = ("_made", "row")

    def __init__(self, row: Row) -> None:
        self.row = row
        self._made: dict[str, Input] = {}

    @property
    def label(self) -> str:
        """The row's label."""
        return self.row.label

    def __getitem__(self, word: str) -> Input:
        made = self._made.get(word)
        if made is None:
            made = self._made[word] = Input(word, self.row.label, self.row.answers[word])
        return made

    def some(self, *words: str) -> tuple[Input, ...]:
        """Several answers, in this order."""
        return tuple(self[word] for word in words)

    def value(self, word: str) -> Value:
        """The answer itself."""
        return self.row.answers[word].value

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
    inputs: list[Input] = []
    lacking: list[str] = []
    for part in parts:
        if isinstance(part, Input):
            value = part.answer.value
            inputs.append(part)
            if isinstance(value, Missing):
                lacking.append(f"'{part.word}' of {part.label}: {value}")
        else:
            value = part.result.value
            inputs += part.inputs
            if isinstance(value, Missing):
                lacking.append(part.result.reason)
        values.append(value)
    behind = tuple({id(given): given for given in inputs}.values())  # each one once
    if lacking:
        return Quantity(not_known("; ".join(dict.fromkeys(lacking))), behind)
    result = calculation(*values)
    return Quantity(_with_steps(result, after) if after else result, behind)


def _with_steps(result: Result, after: tuple[Quantity, ...]) -> Result:
    earlier = tuple(
        line for step in after if step.result.working for line in step.result.working.lines
    )
    own = result.working
    if own is None or not earlier:
        return result
    working = Working(own.title, own.source, own.validity, earlier + own.lines)
    return Result(result.value, result.reason, working)


def resting_on(result: Result, *inputs: Input) -> Quantity:
    """A result with the answers behind it; of a known one, only those that are values.

    For results that may be settled although some answers are not known.
    """
    if result.value is NOT_KNOWN:
        return Quantity(result, inputs)
    known = tuple(given for given in inputs if not isinstance(given.answer.value, Missing))
    return Quantity(result, known)
