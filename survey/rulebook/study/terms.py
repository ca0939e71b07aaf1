"""Answers, sums and tables as figures of the z3 solver; see ``survey.rulebook.study.formulas``."""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import z3

from survey.rulebook.dimensions import exact
from survey.rulebook.rules import Arithmetic, Figure, LookUp, Operation, Table, Term, WorkingDays
from survey.vocabulary import Kind, Word

Formula = Any  # z3 has no types: a true/false formula, or a figure
TRUE = z3.BoolVal(True)
_RECKONED: Mapping[Operation, Callable[[Formula, Formula], Formula]] = {
    Operation.PLUS: operator.add, Operation.MINUS: operator.sub,
    Operation.TIMES: operator.mul, Operation.DIVIDED_BY: operator.truediv,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to a word, or a term made of answers.

    Args:
        value: whole steps, a day's number or the place in the word's choices; of a term, the
            exact figure.
        applies: whether it applies.
        told: whether it is known, if it applies.
    """

    value: Formula
    applies: Formula = TRUE
    told: Formula = TRUE


def joined(value: Formula, *sides: Answer) -> Answer:
    """A figure made of others: it applies where all of them do, and is known where all are."""
    applies = z3.And([side.applies for side in sides])
    return Answer(value, applies, z3.And([side.told for side in sides]))


def figure(term: Term, answer: Callable[[Word], Answer], alike: Formula) -> Answer:
    """The exact figure of a term, in inches, pounds, days and parts of one.

    Args:
        term: what is reckoned.
        answer: the answer to a word of the thing that is judged.
        alike: that all rows which are still possible give the same, for a key not known.
    """
    match term:
        case Word():
            found = answer(term)
            value = z3.ToReal(found.value) * z3.RealVal(exact(term.kind, 1))
            return Answer(value, found.applies, found.told)
        case Figure(value):
            return Answer(z3.RealVal(value))
        case WorkingDays(first, last):
            days = answer(first), answer(last)
            # Which days are no working days is left out: any number of them may lie between.
            between = z3.Int(f"working days between {days[0].value} and {days[1].value}")
            return joined(z3.ToReal(between), *days)
        case Arithmetic(operation, left, right):
            sides = figure(left, answer, alike), figure(right, answer, alike)
            return joined(_RECKONED[operation](sides[0].value, sides[1].value), *sides)
        case LookUp(table):
            return _look_up(table, [answer(word) for word in table.keys], alike)


def _look_up(table: Table, keys: list[Answer], alike: Formula) -> Answer:
    value, listed = z3.RealVal(0), z3.BoolVal(False)
    for row in reversed(table.rows):  # the first row that fits counts
        fits = z3.And([
            key.value == word.choices.index(wanted) if isinstance(wanted, str)
            else key.value <= wanted
            for word, key, wanted in zip(table.keys, keys, row.keys, strict=True)
        ])  # fmt: skip
        value = z3.If(fits, z3.RealVal(exact(Kind(table.kind), row.steps)), value)
        listed = z3.Or(fits, listed)
    known = joined(value, *keys)
    return Answer(value, known.applies, z3.And(listed, z3.Or(known.told, alike)))


def looks_up(*terms: Term) -> bool:
    """Whether a table stands in the terms."""
    return any(
        isinstance(term, LookUp)
        or (isinstance(term, Arithmetic) and looks_up(term.left, term.right))
        for term in terms
    )
