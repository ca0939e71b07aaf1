"""What a firm's own rule book must keep of the shipped one.

A lost file of rules must not go unseen, and a figure of law may be made stricter but never looser.
Which way is stricter is read off the shipped rules that use the limit.
"""

from __future__ import annotations

from collections.abc import Iterator

from survey.rulebook.rules import (
    Comparison,
    Condition,
    Either,
    Every,
    Limit,
    Negation,
    Operator,
    RuleBook,
)

_WHEN_HIGHER = (Operator.AT_LEAST, Operator.MORE_THAN)
_WHEN_LOWER = (Operator.AT_MOST, Operator.LESS_THAN)


def what_is_lost(own: RuleBook, shipped: RuleBook) -> tuple[str, ...]:
    """Rules of the shipped book that an own book lacks, and legal limits that it loosens."""
    codes = {rule.code for rule in own}
    missing = [rule for rule in shipped if rule.code not in codes]
    lines = [f"{rule.code} ({rule.name}) of the shipped book is missing" for rule in missing]
    for limit in shipped.limits.values():
        if limit.legal:
            lines.extend(_loosened(limit, own, stricter_ways(limit, shipped)))
    return tuple(lines)


def _loosened(limit: Limit, own: RuleBook, ways: frozenset[str]) -> Iterator[str]:
    ours = own.limits.get(limit.name)
    law = f"the law says {limit.shown} ({limit.source})"
    if ours is None:
        yield f"the legal limit '{limit.name}' is missing; {law}"
    elif not ours.legal or ours.kind != limit.kind:
        yield f"{ours.place}: '{limit.name}' must stay a legal limit of {limit.kind}; {law}"
    elif (ours.steps > limit.steps and "lower" in ways) or (
        ours.steps < limit.steps and "higher" in ways
    ):
        yield f"{ours.place}: '{limit.name}' of {ours.shown} is looser; {law}"


def stricter_ways(limit: Limit, book: RuleBook) -> frozenset[str]:
    """Whether a lower or a higher limit makes a book stricter, by the clauses that use it.

    A limit that stands on both sides may not be moved at all; both ways are given.
    """
    ways: set[str] = set()
    for rule in book:
        for clause, turned in _clauses(rule.condition, turned=False):
            if clause.shown == limit.name:
                fires_when_higher = clause.operator in _WHEN_HIGHER
                ways.add("lower" if fires_when_higher is not turned else "higher")
    return frozenset(ways)


def _clauses(condition: Condition, *, turned: bool) -> Iterator[tuple[Comparison, bool]]:
    """Every clause with an order, and whether it stands under an odd number of negations."""
    match condition:
        case Comparison():
            if condition.operator in (*_WHEN_HIGHER, *_WHEN_LOWER):
                yield condition, turned
        case Negation(part):
            yield from _clauses(part, turned=not turned)
        case Every(parts) | Either(parts):
            for part in parts:
                yield from _clauses(part, turned=turned)
