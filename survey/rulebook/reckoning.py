"""What a term of a rule comes to: exact figures, all those that are still possible."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from fractions import Fraction

from survey.facts import FactValue
from survey.rulebook.dimensions import (
    Dimension,
    dimension,
    exact,
    from_exact,
    multiplied,
    summed,
)
from survey.rulebook.rules import (
    Arithmetic,
    Figure,
    LookUp,
    Operation,
    Table,
    TableRow,
    Term,
    WorkingDays,
    words_of,
)
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    Kind,
    Missing,
    Word,
    write_quantity,
)

ValueOf = Callable[[Word], FactValue]
Figures = tuple[Fraction, ...] | Missing


def figures(term: Term, value: ValueOf) -> Figures:
    """Every figure that a term may come to.

    Args:
        term: what is reckoned.
        value: the value of a word of the thing that is judged.

    Returns:
        One figure where all answers are known; those of every row that is still possible where
        a table's key is not known; not known where a figure is missing or lies beyond a table's
        last row; does not apply where any of its words doesn't.
    """
    idle = (value(word) is DOES_NOT_APPLY for word in words_of(term))
    if not isinstance(term, (Word, Figure)) and any(idle):
        return DOES_NOT_APPLY
    return _figures(term, value)


def _figures(term: Term, value: ValueOf) -> Figures:
    """The same where every word applies."""
    match term:
        case Figure(figure, _):
            return (figure,)
        case Word():
            found = value(term)
            return found if isinstance(found, Missing) else (exact(term.kind, _whole(found)),)
        case WorkingDays(first, last):
            return _working_days(value(first), value(last))
        case LookUp(table):
            return look_up(table, value)
        case Arithmetic(operation, left, right):
            one, other = _figures(left, value), _figures(right, value)
            if isinstance(one, Missing) or isinstance(other, Missing):
                return NOT_KNOWN
            results = (_reckon(operation, a, b) for a in one for b in other)
            return tuple(dict.fromkeys(results))


def look_up(table: Table, value: ValueOf) -> Figures:
    """The figures of the rows that the answers leave possible, each once."""
    kind = Kind(table.kind)
    values = [value(key) for key in table.keys]
    if DOES_NOT_APPLY in values:
        return DOES_NOT_APPLY
    found = possible_rows(table, values)
    if found is None:
        return NOT_KNOWN
    return tuple(dict.fromkeys(exact(kind, row.steps) for row in found))


def possible_rows(table: Table, values: list[FactValue]) -> list[TableRow] | None:
    """The rows that may hold for the values of a table's keys; none if a figure lies beyond."""
    groups: dict[tuple[str | int, ...], list[TableRow]] = {}
    measured = table.keys[-1].measured
    picked = len(table.keys) - measured
    for row in table.rows:
        pairs = zip(row.keys[:picked], values[:picked], strict=True)
        if all(given is NOT_KNOWN or key == given for key, given in pairs):
            groups.setdefault(row.keys[:picked], []).append(row)
    if not measured:
        return [row for rows in groups.values() for row in rows]
    figure = values[-1]
    found: list[TableRow] = []
    for rows in groups.values():
        if figure is NOT_KNOWN:
            return None  # it may lie beyond the last row
        fitting = [row for row in rows if _whole(row.keys[-1]) >= _whole(figure)]
        if not fitting:
            return None
        found.append(fitting[0])
    return found


def _reckon(operation: Operation, left: Fraction, right: Fraction) -> Fraction:
    match operation:
        case Operation.PLUS:
            return left + right
        case Operation.MINUS:
            return left - right
        case Operation.TIMES:
            return left * right
        case Operation.DIVIDED_BY:
            return left / right


def _working_days(first: FactValue, last: FactValue) -> Figures:
    if isinstance(first, Missing) or isinstance(last, Missing):
        return NOT_KNOWN
    from survey.engineering.dates import working_days_between

    days = (dt.date.fromordinal(_whole(day)) for day in (first, last))
    return (Fraction(working_days_between(*days)),)


def _whole(value: FactValue) -> int:
    assert isinstance(value, int), "only figures and dates are reckoned with"
    return value


def measures(term: Term) -> Dimension:
    """What a checked term measures."""
    match term:
        case Word():
            return dimension(term.kind)
        case WorkingDays():
            return dimension(Kind.DAYS)
        case LookUp(table):
            return dimension(Kind(table.kind))
        case Figure(_, _, kind):
            return dimension(kind)
        case Arithmetic(operation, left, right):
            one, other = measures(left), measures(right)
            if operation in (Operation.PLUS, Operation.MINUS):
                return summed(one, other, minus=operation is Operation.MINUS)
            return multiplied(one, other, divided=operation is Operation.DIVIDED_BY)


def shown(term: Term, figure: Fraction) -> str:
    """A figure that a term came to, in the unit of its first word of that kind."""
    kind = measures(term).kind
    if kind is None:
        return f"{float(figure):g} in inches, pounds and days"
    canonical = from_exact(kind, figure)
    if kind is Kind.DATE:
        day = round(canonical)
        beyond = not dt.date.min.toordinal() <= day <= dt.date.max.toordinal()
        return "a day beyond the calendar" if beyond else dt.date.fromordinal(day).isoformat()
    like = next((word for word in words_of(term) if word.kind is kind), None)
    return write_quantity(canonical, kind, None if like is None else like.unit)
