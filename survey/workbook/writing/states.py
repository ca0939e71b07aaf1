"""When a cell is open, and when it is ruled out: as formulas for any spreadsheet program.

Products of conditions, not AND and OR: these work alike on one cell and, within SUMPRODUCT, on
the cells of a column. A blank is open, and so is "not known". While the answer on which a
question depends is open itself, the question is neither open nor out of the way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Vocabulary, Word

Reference = Callable[[Word], str]  # the cells that answer a question


def text(said: str) -> str:
    """A text within a formula."""
    return '"' + said.replace('"', '""') + '"'


def is_open(word: Word, cells: str) -> str:
    """Whether there is no answer: 1 or 0. Of choices, what is none of them is no answer."""
    if word.choices:
        states = () if word.asks_when is None else (str(DOES_NOT_APPLY),)
        return f"(1-{_is_one_of(cells, (*word.choices, *states))})"
    return f"((TRIM({cells})={text('')})+({cells}={text(str(NOT_KNOWN))})>0)"


def applies(vocabulary: Vocabulary, word: Word, reference: Reference) -> str:
    """Factors that are 1 while earlier answers make the question apply; empty if it always does."""
    return "".join(
        f"*{_is_one_of(reference(other), choices)}" for other, choices in _chain(vocabulary, word)
    )


def ruled_out(vocabulary: Vocabulary, word: Word, reference: Reference) -> str:
    """Whether an earlier answer rules the question out; empty if none can."""
    # By the choices that rule it out, and not by all but the others: what stands in the cell may
    # be a slip of the pen.
    return "+".join(
        _is_one_of(reference(other), tuple(c for c in other.choices if c not in choices))
        for other, choices in _chain(vocabulary, word)
    )


def _is_one_of(cells: str, choices: tuple[str, ...]) -> str:
    # The 0 makes a number of it, even of one choice: where truth values stand above every number,
    # FALSE > 0 would be true. A cell equals one choice at most.
    return f"(0+{'+'.join(f'({cells}={text(choice)})' for choice in choices)})"


def _chain(vocabulary: Vocabulary, word: Word) -> Iterator[tuple[Word, tuple[str, ...]]]:
    """The questions on which this one depends, nearest first, and the answers that it needs."""
    while word.asks_when is not None:
        other = vocabulary[word.asks_when.word]
        yield other, word.asks_when.choices
        word = other
