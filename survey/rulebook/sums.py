"""Sums and tables in a clause: what is reckoned or looked up, checked against its units."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from survey.rulebook.dimensions import (
    Dimension,
    DimensionError,
    dimension,
    exact,
    multiplied,
    reckonable,
    summed,
)
from survey.rulebook.fields import each
from survey.rulebook.messages import Mistake, MistakeError
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import (
    Arithmetic,
    Figure,
    LookUp,
    Operation,
    Term,
    WorkingDays,
    tables_of,
)
from survey.rulebook.scope import Scope
from survey.rulebook.syntax import Node, Phrase, nodes, phrase, unquoted, whole, wrong
from survey.rulebook.values import any_day, any_quantity, read_any_figure
from survey.vocabulary import Kind, Word, nearest

_OPERATIONS = {
    "plus": Operation.PLUS, "minus": Operation.MINUS, "times": Operation.TIMES,
    "divided": Operation.DIVIDED_BY,
}  # fmt: skip
_MOST_OPERATIONS = 12
_MOST_TABLES, _MOST_ROWS = 2, 400
_DIGITS = re.compile(r"\d+(?:\.\d+)?", re.ASCII)
_NUMBER = re.compile(r"\d{1,9}(?:\.\d{1,9})?", re.ASCII)
_DATES_IN_SUMS = "Days can be added to a date, and a date be taken from another."


def term(node: Node, field: Field, scope: Scope) -> tuple[Term, Dimension]:
    """A side of a clause, with what it measures."""
    if node.data == "value":
        return _leaf(phrase(field, node), scope)
    if node.data == "working_days":
        first, last = (_date(phrase(field, part), scope) for part in nodes(node))
        return WorkingDays(first, last), dimension(Kind.DAYS)
    left, right = nodes(node)
    operation = _OPERATIONS[node.data]
    one, first_dimension = term(left, field, scope)
    other, second_dimension = term(right, field, scope)
    try:
        if operation in (Operation.PLUS, Operation.MINUS):
            minus = operation is Operation.MINUS
            result = summed(first_dimension, second_dimension, minus=minus)
        else:
            divided = operation is Operation.DIVIDED_BY
            if divided:
                _refuse_divisor(other, whole(field, right))
            result = multiplied(first_dimension, second_dimension, divided=divided)
    except DimensionError as fault:
        dated = Kind.DATE in (first_dimension.kind, second_dimension.kind)
        help = _DATES_IN_SUMS if dated else "Only like can be added to like or taken from it."
        raise wrong(whole(field, node), str(fault), help) from None
    return Arithmetic(operation, one, other), result


def _leaf(value: Phrase, scope: Scope) -> tuple[Term, Dimension]:
    name = unquoted(value.text)
    if name in scope.words() or name in scope.vocabulary:
        word = scope.word(Phrase(name, value.span))
        if not reckonable(word.kind):
            what = f"'{name}' is {word.kind.one} and can't be reckoned with"
            raise wrong(value, what, "Figures and dates can.")
        return word, dimension(word.kind)
    if name in scope.tables:
        table = scope.tables[name]
        strange = [key for key in table.keys if key not in scope.words().values()]
        if strange:
            said, here = strange[0].subject.value, each(scope.subject.value)
            what = f"'{name}' goes by the {strange[0]} of a {said}; this rule is for {here}"
            raise wrong(value, what, f"Write the rule for {each(said)}.")
        return LookUp(table), dimension(Kind(table.kind))
    if name in scope.limits:
        kind, count = Kind(scope.limits[name].kind), scope.limits[name].steps
        return Figure(exact(kind, count), name, kind), dimension(kind)
    if _NUMBER.fullmatch(name):
        return Figure(Fraction(name), name, Kind.COUNT), dimension(Kind.COUNT)
    if _DIGITS.fullmatch(name):
        what = f"'{name}' is too long a number"
        raise wrong(value, what, "Write at most 9 figures before the point, and 9 after it.")
    if (day := any_day(name)) is not None:
        return Figure(exact(Kind.DATE, day), name, Kind.DATE), dimension(Kind.DATE)
    scope.refuse_mistaken(value)
    if any_quantity(name) is None and not name[:1].isdecimal():
        what = f"'{name}' is no figure, no limit, no table and no word that the form knows"
        raise wrong(value, what, near=nearest(name, scope.names()))
    kind, count = read_any_figure(value)
    return Figure(exact(kind, count), name, kind), dimension(kind)


def _date(name: Phrase, scope: Scope) -> Word:
    word = scope.word(name)
    if word.kind is not Kind.DATE:
        what = f"'{word.name}' is {word.kind.one}; working days lie between two dates"
        raise wrong(name, what, "Name two dates of the form, such as survey date and crew date.")
    return word


def _refuse_divisor(term: Term, place: Phrase) -> None:
    if not isinstance(term, Figure):
        what = "only a figure can stand after 'divided by'"
        help = "Multiply the other side instead: 'A is less than 2 times B'."
        raise wrong(place, what, help)
    if term.value == 0:
        raise wrong(place, "nothing can be divided by zero", "Write another figure.")


def operations(term: Term) -> int:
    """How often a term adds, takes away, multiplies or divides."""
    if isinstance(term, Arithmetic):
        return 1 + operations(term.left) + operations(term.right)
    return 0


def refuse_long_sums(field: Field, *sides: Node) -> None:
    """Refuse a clause with too many operations, before it is gone into."""
    parts = (part for side in sides for part in side.iter_subtrees())
    if sum(part.data in _OPERATIONS for part in parts) > _MOST_OPERATIONS:
        what = f"more than {_MOST_OPERATIONS} times plus, minus, times or divided in one clause"
        raise MistakeError(Mistake(field.whole, what, "Split it into several clauses."))


def refuse_many_rows(place: Phrase, *terms: Term) -> None:
    """Where a table's keys are not known, each of its rows may hold, with each of another's."""
    tables = [table for term in terms for table in tables_of(term)]
    if twice := [table.name for table in tables if tables.count(table) > 1]:
        what = f"the table '{twice[0]}' stands twice in one clause"
        raise wrong(place, what, "Split it into several clauses.")
    rows = [len(table.rows) for table in tables]
    if len(rows) > _MOST_TABLES:
        what = f"{len(rows)} tables in one clause; at most {_MOST_TABLES} can be judged quickly"
        raise wrong(place, what, "Split it into several clauses.")
    if math.prod(rows) > _MOST_ROWS:
        what = f"tables of {' and '.join(map(str, rows))} rows in one clause: too many to judge"
        raise wrong(place, what, "Split it into several clauses.")
