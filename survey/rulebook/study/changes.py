"""Every small change of a condition, one at a time: what its cases are tried against."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from survey.rulebook import reckoning
from survey.rulebook.dimensions import exact
from survey.rulebook.rules import (
    Arithmetic,
    Clause,
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    LookUp,
    Negation,
    Operation,
    Operator,
    Reckoning,
    Table,
    TableRow,
    Term,
    WorkingDays,
)
from survey.vocabulary import Kind, Word, from_steps, steps, write_quantity

# The operator beside each one, which differs from it at the figure alone, and the one turned round.
_OTHERS: Mapping[Operator, tuple[Operator, ...]] = {
    Operator.IS: (),
    Operator.AT_LEAST: (Operator.MORE_THAN, Operator.LESS_THAN),
    Operator.MORE_THAN: (Operator.AT_LEAST, Operator.AT_MOST),
    Operator.AT_MOST: (Operator.LESS_THAN, Operator.MORE_THAN),
    Operator.LESS_THAN: (Operator.AT_MOST, Operator.AT_LEAST),
}
_LOADS = (Kind.FORCE, Kind.LINE_LOAD, Kind.PRESSURE)
_FOOT = 12.0


@dataclass(frozen=True, slots=True)
class Changed:
    """A condition that was changed in one place.

    Args:
        condition: the whole of it.
        old: what stood in that place.
        new: what stands there instead; none if it is left out.
        within: the count in whose condition that place is; none if it is in no count.
    """

    condition: Condition
    old: Condition
    new: Condition | None
    within: Condition | None = None


def little(kind: Kind, figure: int) -> int:
    """The smallest difference from a figure that is made on site, both in whole steps.

    An inch, and an eighth of one below a foot; of loads and pressures one in the second figure; of
    slopes 0.01; of all others one: a percent, a degree, a day, a thing. At nought, where two things
    just touch, lengths differ by an inch.
    """
    if kind is Kind.DATE:
        return 1
    size = abs(from_steps(kind, figure))
    if kind is Kind.LENGTH:
        return steps(kind, 1 / 8 if 0 < size < _FOOT else 1)
    if kind in _LOADS:
        return steps(kind, 10 ** max(0, len(str(int(size))) - 2))
    return steps(kind, 0.01 if kind is Kind.SLOPE else 1)


def changes(condition: Condition) -> Iterator[Changed]:
    """A condition with each small change.

    Figures, bounds and numbers are moved up and down by a :func:`little`, factors of a product by
    a tenth. Operators are exchanged for their neighbours and turned round, choices exchanged for
    every other. Clauses and brackets are negated and left out, 'and' and 'or' exchanged. What a
    count looks for is changed in the same ways.
    """
    match condition:
        case Every(parts) | Either(parts):
            yield Changed(Negation(condition), condition, Negation(condition))
            yield from _changes_of_several(condition, parts)
        case Negation(Comparison() | Reckoning() | Count() as clause):
            yield Changed(clause, condition, clause)
            for other in _clause_changes(clause):
                yield Changed(Negation(other), condition, Negation(other))
            for changed in _looked_for(clause, condition):
                yield replace(changed, condition=Negation(changed.condition))
        case Negation(part):
            yield Changed(part, condition, part)
            for changed in changes(part):
                if changed.condition != condition:  # else it is as if the 'not' were removed
                    yield replace(changed, condition=Negation(changed.condition))
        case Comparison() | Reckoning() | Count() as clause:
            yield Changed(Negation(clause), clause, Negation(clause))
            for other in _clause_changes(clause):
                yield Changed(other, clause, other)
            yield from _looked_for(clause, clause)


def _looked_for(clause: Clause, within: Condition) -> Iterator[Changed]:
    """Changes of what a count looks for; of 'every X meets C' the condition that all meet."""
    if not isinstance(clause, Count) or clause.where is None:
        return
    if isinstance(within, Negation) and isinstance(clause.where, Negation):
        met = clause.where.part
        yield Changed(replace(clause, where=met), within, Negation(replace(clause, where=met)))
        for changed in changes(met):
            count = replace(clause, where=Negation(changed.condition))
            yield replace(changed, condition=count, within=within)
    else:
        for changed in changes(clause.where):
            count = replace(clause, where=changed.condition)
            yield replace(changed, condition=count, within=within)


def _changes_of_several(
    condition: Every | Either, parts: tuple[Condition, ...]
) -> Iterator[Changed]:
    this, turned = (Every, Either) if isinstance(condition, Every) else (Either, Every)
    yield Changed(turned(parts), condition, turned(parts))
    for i, part in enumerate(parts):
        before, after = parts[:i], parts[i + 1 :]
        rest = before + after
        yield Changed(this(rest) if len(rest) > 1 else rest[0], part, None)
        for changed in changes(part):
            if changed.condition not in rest:  # else it is as if it were left out
                yield replace(changed, condition=this((*before, changed.condition, *after)))


def _clause_changes(clause: Clause) -> Iterator[Clause]:
    match clause:
        case Comparison():
            yield from _comparison_changes(clause)
        case Reckoning(left, operator, right):
            for turned in _OTHERS[operator]:
                yield replace(clause, operator=turned)
            for term in _term_changes(left):
                yield replace(clause, left=term)
            for term in _term_changes(right):
                yield replace(clause, right=term)
        case Count():
            yield from _count_changes(clause)


def _comparison_changes(clause: Comparison) -> Iterator[Comparison]:
    for operator in _OTHERS[clause.operator]:
        yield replace(clause, operator=operator)
    match clause.operand:
        case str() as choice:
            for other in clause.word.choices:
                if other != choice:
                    yield replace(clause, operand=other, shown=other)
        case int() as figure:
            small = little(clause.word.kind, figure)
            for moved in (figure + small, figure - small):
                yield replace(clause, operand=moved, shown=_shown(clause.word, moved))


def _shown(word: Word, figure: int) -> str:
    if word.kind is Kind.DATE:
        return dt.date.fromordinal(figure).isoformat()
    return write_quantity(from_steps(word.kind, figure), word.kind, word.unit)


def _count_changes(count: Count) -> Iterator[Count]:
    # 'more than 1' is 'at least 2' and 'less than 1' its negation: no need to turn the operator.
    for number in (count.number + 1, count.number - 1):
        yield replace(count, number=number)
    if count.where is not None:
        yield replace(count, where=None)


_TURNED = {Operation.PLUS: Operation.MINUS, Operation.MINUS: Operation.PLUS}


def _term_changes(term: Term, *, factor: bool = False) -> Iterator[Term]:
    match term:
        case Figure(value, _, kind):
            tenth = abs(value) / 10 if factor else 0
            # What is added to a length is an inch or more, however little it is.
            least = max(little(kind, round(value / exact(kind, 1))), little(kind, 0))
            small = tenth or exact(kind, least)
            for moved in (value + small, value - small):
                yield replace(term, value=moved, shown=reckoning.shown(term, moved))
        case LookUp(table):
            yield from map(LookUp, _table_changes(table, factor=factor))
        case Arithmetic(operation, left, right):
            product = operation in (Operation.TIMES, Operation.DIVIDED_BY)
            for other in _term_changes(left, factor=product):
                yield replace(term, left=other)
            for other in _term_changes(right, factor=product):
                yield replace(term, right=other)
            if not product:
                yield replace(term, operation=_TURNED[operation])
                if not isinstance(right, Figure):
                    yield left
        case WorkingDays(first, last):
            yield Arithmetic(Operation.MINUS, last, first)


def _table_changes(table: Table, *, factor: bool) -> Iterator[Table]:
    """A table with one figure or one bound moved, under a name that says so."""
    kind = Kind(table.kind)
    for i, row in enumerate(table.rows):
        small = round(abs(row.steps) / 10) if factor else 0
        small = small or little(kind, row.steps)
        for moved in (row.steps + small, row.steps - small):
            written = write_quantity(from_steps(kind, moved), kind)
            yield _with_row(table, i, replace(row, steps=moved, shown=written))
        bound = row.keys[-1]
        if isinstance(bound, int):
            small = little(table.keys[-1].kind, bound)
            for moved in (bound + small, bound - small):
                yield _with_row(table, i, replace(row, keys=(*row.keys[:-1], moved)))


def _with_row(table: Table, i: int, row: TableRow) -> Table:
    changed = replace(table, rows=(*table.rows[:i], row, *table.rows[i + 1 :]))
    return replace(changed, name=f"{table.name} where {changed.answers(row)} gives {row.shown}")
