"""Reckoning for the production system, in ratios of whole numbers.

Apart from the direct evaluator's, so that a slip in one of the two does not go unseen.
"""

from __future__ import annotations

import datetime as dt
import itertools
import operator
from collections.abc import Callable, Mapping
from fractions import Fraction

from survey.facts import FactValue
from survey.rulebook.dimensions import exact
from survey.rulebook.rules import (
    Arithmetic,
    Figure,
    LookUp,
    Operation,
    Operator,
    Reckoning,
    Table,
    TableRow,
    Term,
    WorkingDays,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Missing, Word

_SATURDAY = 5
ValueOf = Callable[[Word], FactValue]
_Ratio = tuple[int, int]


def reckoned(clause: Reckoning, value: ValueOf) -> str:
    """Whether a reckoned clause is true, false or open; the state that is asserted.

    Args:
        clause: what is reckoned.
        value: the value of a word of the thing that is judged.
    """
    if any(value(word) is DOES_NOT_APPLY for word in clause.words):
        return "false"
    tables = clause.tables
    choices = [_fitting(table, value) for table in tables]
    # A key that is not known may turn out not to apply, and then the clause is false.
    truths = {False} if any(value(k) is NOT_KNOWN for t in tables for k in t.keys) else set[bool]()
    for rows in itertools.product(*(c or () for c in choices)):
        taken = {t.name: exact(Kind(t.kind), r.steps) for t, r in zip(tables, rows, strict=True)}
        ends = [_ratio(side, value, taken) for side in (clause.left, clause.right)]
        if None in ends:
            return "open"
        (top, bottom), (other_top, other_bottom) = (end for end in ends if end is not None)
        truths.add(_HOLDS[clause.operator](top * other_bottom, other_top * bottom))
    if len(truths) != 1 or None in choices:
        return "open"
    return "true" if truths.pop() else "false"


def _fitting(table: Table, value: ValueOf) -> list[TableRow] | None:
    """The rows of a table that may hold, found row by row; none if a figure lies beyond all."""
    found: list[TableRow] = []
    complete: dict[tuple[str | int, ...], bool] = {}
    for row in table.rows:
        fits, reached = True, True
        picked: list[str | int] = []
        for key, given in zip(row.keys, map(value, table.keys), strict=True):
            if isinstance(key, str):
                picked.append(key)
                fits = fits and given in (key, NOT_KNOWN)
            else:
                reached = isinstance(given, int) and given <= key
        if fits:
            choices = tuple(picked)
            if reached and not complete.get(choices):
                found.append(row)
            complete[choices] = complete.get(choices, False) or reached
    return found if complete and all(complete.values()) else None


_HOLDS: Mapping[Operator, Callable[[int, int], bool]] = {
    Operator.AT_LEAST: operator.ge,
    Operator.MORE_THAN: operator.gt,
    Operator.AT_MOST: operator.le,
    Operator.LESS_THAN: operator.lt,
}


def _ratio(term: Term, value: ValueOf, taken: Mapping[str, Fraction]) -> _Ratio | None:
    """A term as numerator and denominator above zero; none if an answer is missing."""
    match term:
        case Figure(figure):
            return figure.numerator, figure.denominator
        case LookUp(table):
            return taken[table.name].numerator, taken[table.name].denominator
        case Word():
            found = value(term)
            if isinstance(found, Missing):
                return None
            figure = exact(term.kind, int(found))
            return figure.numerator, figure.denominator
        case WorkingDays(first, last):
            return _working_days(value(first), value(last))
        case Arithmetic(operation, left, right):
            one, other = _ratio(left, value, taken), _ratio(right, value, taken)
            if one is None or other is None:
                return None
            return _joined(operation, one, other)


def _joined(operation: Operation, one: _Ratio, other: _Ratio) -> _Ratio:
    (a, b), (c, d) = one, other
    match operation:
        case Operation.PLUS:
            return a * d + c * b, b * d
        case Operation.MINUS:
            return a * d - c * b, b * d
        case Operation.TIMES:
            return a * c, b * d
        case Operation.DIVIDED_BY:
            return (a * d, b * c) if c > 0 else (-a * d, -b * c)


def _working_days(first: FactValue, last: FactValue) -> _Ratio | None:
    """Counted day by day."""
    if isinstance(first, Missing) or isinstance(last, Missing):
        return None
    from survey.engineering.dates import federal_holidays

    early, late = sorted((int(first), int(last)))
    days = (dt.date.fromordinal(day) for day in range(early + 1, late + 1))
    number = sum(d.weekday() < _SATURDAY and d not in federal_holidays(d.year) for d in days)
    return (number if first <= last else -number), 1  # type: ignore[operator]
