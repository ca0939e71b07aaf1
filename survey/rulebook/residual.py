"""What is left of a rule that can't be told, once what is known is folded away.

The condition is folded by the direct evaluator in strong Kleene logic: what holds goes from an
"and", what does not goes from an "or", and of a count what surely counts is taken off the number.
What is left is a small tree of clauses, each with the thing that it is said of. Whatever the open
answers turn out to be, the rule is met where the tree holds, and not met where it does not.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from survey.facts import FactValue, Thing
from survey.rulebook import reckoning
from survey.rulebook.direct import DirectEvaluator, compare
from survey.rulebook.judgement import FALSE, TRUE, UNKNOWN, Truth
from survey.rulebook.rules import (
    Arithmetic,
    Clause,
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Negation,
    Operator,
    Reckoning,
    Rule,
    Term,
    WorkingDays,
    clauses,
    tables_of,
)
from survey.vocabulary import Missing, Origin, Subject, Word

_OPPOSITE = {TRUE: FALSE, FALSE: TRUE, UNKNOWN: UNKNOWN}
# Where a straight line is looked for: one that bends shows it at one of them.
_SAMPLES = (0, 1, 2, 5, 11)


@dataclass(frozen=True, slots=True, eq=False)
class Left:
    """A clause that can't be told of a thing."""

    clause: Clause
    thing: Thing


@dataclass(frozen=True, slots=True, eq=False)
class Another:
    """There is one more thing than is listed: what the thing stands for."""

    thing: Thing


@dataclass(frozen=True, slots=True, eq=False)
class AtWall:
    """A pier that names no wall stands at this one."""

    pier: Thing
    wall: Thing


@dataclass(frozen=True, slots=True, eq=False)
class NotSo:
    """Its part does not hold."""

    part: Rest


@dataclass(frozen=True, slots=True, eq=False)
class AllOf:
    """All of its parts."""

    parts: tuple[Rest, ...]


@dataclass(frozen=True, slots=True, eq=False)
class AnyOf:
    """At least one of its parts."""

    parts: tuple[Rest, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Tally:
    """A count: how many of the things that may count do, beside those that surely do.

    Args:
        operator: how the number is compared.
        number: what is left of it once those that surely count are taken off.
        near: the things that may count, each with what must hold for that.
        of: what is counted.
    """

    operator: Operator
    number: int
    near: tuple[tuple[Thing, Rest], ...]
    of: Subject


Rest = Left | Another | AtWall | NotSo | AllOf | AnyOf | Tally


def rest_of(rule: Rule, thing: Thing, evaluator: DirectEvaluator) -> Rest | Truth:
    """What is left of a rule's condition at a thing; whether it is met, if nothing is left.

    Of a thing that stands for what a list left out, nothing but the site is folded away: what it
    is paired with is one of many, and the rule asks for all of them at once.
    """
    if thing.listed:
        return fold(rule.condition, thing, evaluator)
    rest = _joined(AllOf, [Another(thing), _as_written(rule.condition, thing, evaluator)])
    return UNKNOWN if isinstance(rest, Truth) else rest


def fold(condition: Condition, thing: Thing, evaluator: DirectEvaluator) -> Rest | Truth:
    """What is left of a condition of a thing that can't be told; its truth, if it can."""
    match condition:
        case Comparison() | Reckoning():
            truth = evaluator.holds(condition, thing)
            return Left(condition, thing) if truth is UNKNOWN else truth
        case Negation(part):
            return _not(fold(part, thing, evaluator))
        case Every(parts):
            return _joined(AllOf, (fold(part, thing, evaluator) for part in parts))
        case Either(parts):
            return _joined(AnyOf, (fold(part, thing, evaluator) for part in parts))
        case Count():
            return _tally(condition, thing, evaluator)


def _as_written(condition: Condition, thing: Thing, evaluator: DirectEvaluator) -> Rest | Truth:
    """A condition as it stands in the rule, but for what is known of the site."""
    match condition:
        case Negation(part):
            return _not(_as_written(part, thing, evaluator))
        case Every(parts):
            return _joined(AllOf, (_as_written(part, thing, evaluator) for part in parts))
        case Either(parts):
            return _joined(AnyOf, (_as_written(part, thing, evaluator) for part in parts))
        case Count():
            return Left(condition, thing)
        case Comparison() | Reckoning():
            if all(word.subject is Subject.SITE for word in condition.words):
                return fold(condition, thing, evaluator)
            return Left(condition, thing)


def _not(rest: Rest | Truth) -> Rest | Truth:
    if isinstance(rest, Truth):
        return _OPPOSITE[rest]
    return rest.part if isinstance(rest, NotSo) else NotSo(rest)


def _joined(join: type[AllOf] | type[AnyOf], found: Iterator[Rest | Truth] | list[Rest | Truth]
            ) -> Rest | Truth:  # fmt: skip
    """What is left of an "and" or an "or"."""
    decides, otherwise = (FALSE, TRUE) if join is AllOf else (TRUE, FALSE)
    parts: list[Rest] = []
    for part in found:
        if part is decides:
            return decides
        if isinstance(part, Truth):
            continue
        parts += part.parts if isinstance(part, join) else (part,)
    if not parts:
        return otherwise
    return parts[0] if len(parts) == 1 else join(tuple(parts))


def _tally(count: Count, thing: Thing, evaluator: DirectEvaluator) -> Rest | Truth:
    surely, more = 0, False
    near: list[tuple[Thing, Rest]] = []
    for one in evaluator.round(thing, count.of):
        part = TRUE if count.where is None else fold(count.where, one.thing, evaluator)
        if not one.surely:
            at_wall = AtWall(one.thing, thing)
            part = _joined(AllOf, [at_wall, part])
        if not one.thing.listed:
            part = _joined(AllOf, [Another(one.thing), part])
        if isinstance(part, Truth):
            surely += part is TRUE
        else:
            near.append((one.thing, part))
            more = more or not one.thing.listed
    most = math.inf if more else surely + len(near)
    truth = _between(surely, most, count.operator, count.number)
    if truth is not UNKNOWN:
        return truth
    return Tally(count.operator, count.number - surely, tuple(near), count.of)


def _between(least: float, most: float, operator: Operator, number: int) -> Truth:
    ends = {compare(least, operator, number), compare(most, operator, number)}
    if len(ends) > 1:
        return UNKNOWN
    return TRUE if ends.pop() else FALSE


def _unmoved(thing: Thing) -> Thing | None:
    return thing


def truth_of(
    rest: Rest, evaluator: DirectEvaluator, moved: Callable[[Thing], Thing | None] = _unmoved
) -> Truth:
    """Whether what is left holds.

    Args:
        rest: what is left of a rule.
        evaluator: knows more answers than the one that folded the rule.
        moved: the thing of its facts that a thing of the tree has become; none if a list was
            closed and the thing stood for what it might have left out.
    """
    match rest:
        case Another(thing):
            now = moved(thing)
            return FALSE if now is None else evaluator.exists(now)
        case Left(clause, thing):
            now = moved(thing)
            assert now is not None, "whether there is such a thing is looked at first"
            return evaluator.holds(clause, now)
        case AtWall(pier, wall):
            now, there = moved(pier), moved(wall)
            for near in () if there is None else evaluator.round(there, pier.subject):
                if near.thing is now:
                    return TRUE if near.surely else UNKNOWN
            return FALSE
        case NotSo(part):
            return _OPPOSITE[truth_of(part, evaluator, moved)]
        case AllOf(parts):
            return _all(parts, evaluator, moved, FALSE, TRUE)
        case AnyOf(parts):
            return _all(parts, evaluator, moved, TRUE, FALSE)
        case Tally(operator, number, near):
            least, most = 0.0, 0.0
            for thing, part in near:
                truth = truth_of(part, evaluator, moved)
                least += truth is TRUE
                if truth is not FALSE:
                    now = moved(thing)
                    most += 1 if now is not None and now.listed else math.inf
            return _between(least, most, operator, number)


def _all(
    parts: tuple[Rest, ...],
    evaluator: DirectEvaluator,
    moved: Callable[[Thing], Thing | None],
    decides: Truth,
    otherwise: Truth,
) -> Truth:
    result = otherwise
    for part in parts:
        truth = truth_of(part, evaluator, moved)
        if truth is decides:
            return decides
        if truth is UNKNOWN:
            result = truth
    return result


def left_in(rest: Rest) -> Iterator[Left]:
    """Every clause that is left."""
    match rest:
        case Left():
            yield rest
        case NotSo(part):
            yield from left_in(part)
        case AllOf(parts) | AnyOf(parts):
            for part in parts:
                yield from left_in(part)
        case Tally(near=near):
            for _, part in near:
                yield from left_in(part)


Supposed = Mapping[tuple[str, str], FactValue]


def thresholds(
    rest: Rest, word: Word, label: str, evaluator: DirectEvaluator
) -> frozenset[int] | None:
    """The figures of an open answer at which what is left may turn, in whole steps.

    Between two of them, and beyond the first and the last, every clause comes out the same,
    whatever the answer.

    Args:
        rest: what is left of a rule.
        word: the question: a figure or a date.
        label: of the row that answers it.
        evaluator: the one that folded the rule.

    Returns:
        None if a clause turns where only trying would tell.
    """
    points: set[int] = set()
    looked_at: set[tuple[str, str]] = set()
    for left in left_in(rest):
        found = _turns(left, word, label, evaluator, looked_at)
        if found is None:
            return None
        points |= found
    return frozenset(points)


def _turns(
    left: Left, word: Word, label: str, evaluator: DirectEvaluator,
    looked_at: set[tuple[str, str]],
) -> set[int] | None:  # fmt: skip
    """Where one clause turns, and where the rules do that conclude a word of it."""
    clause, thing = left.clause, left.thing
    if isinstance(clause, Count):
        return set() if word.subject is Subject.SITE and not _names(clause, word) else None
    points: set[int] = set()
    for one in clause.words:
        part = thing.part(one.subject)
        if one.origin is Origin.CONCLUDED and (one.name, part.label) not in looked_at:
            looked_at.add((one.name, part.label))
            for rule in evaluator.rules_for(one.itself):
                rest = fold(rule.condition, part, evaluator)
                for inner in () if isinstance(rest, Truth) else left_in(rest):
                    found = _turns(inner, word, label, evaluator, looked_at)
                    if found is None:
                        return None
                    points |= found
    if any(one.itself is word and thing.part(one.subject).label == label for one in clause.words):
        found = _crossed(clause, thing, word, label, evaluator)
        return None if found is None else points | found
    return points


def _names(count: Count, word: Word) -> bool:
    inner = () if count.where is None else clauses(count.where)
    return any(isinstance(one, Count) or word in one.words for one in inner)


def _crossed(
    clause: Comparison | Reckoning, thing: Thing, word: Word, label: str,
    evaluator: DirectEvaluator,
) -> set[int] | None:  # fmt: skip
    """The figures of a word at which the two sides of a clause are equal, rounded both ways."""
    if isinstance(clause, Comparison):
        sides: tuple[Word | int | str, ...] = (clause.word, clause.operand)
        other = [
            evaluator.value(side, thing) if isinstance(side, Word) else side
            for side in sides
            if not (isinstance(side, Word) and side.itself is word
                    and thing.part(side.subject).label == label)
        ]  # fmt: skip
        return {value for value in other if isinstance(value, int)}
    if any(map(_of_working_days, (clause.left, clause.right))):
        return None
    if any(word in table.keys for side in (clause.left, clause.right) for table in tables_of(side)):
        return None
    differences: list[Fraction] = []
    for sample in _SAMPLES:
        supposing = evaluator.supposing({(word.name, label): sample})
        left, right = (
            reckoning.figures(side, lambda one, by=supposing: by.value(one, thing))  # type: ignore[misc]
            for side in (clause.left, clause.right)
        )
        if isinstance(left, Missing) or isinstance(right, Missing):
            return set()  # another answer is missing, too: this one alone turns nothing
        if len(left) > 1 or len(right) > 1:
            return None
        differences.append(left[0] - right[0])
    start, slope = differences[0], differences[1] - differences[0]
    if any(start + slope * x != y for x, y in zip(_SAMPLES, differences, strict=True)):
        return None
    if slope == 0:
        return set()
    root = -start / slope
    return {math.floor(root), math.ceil(root)}


def _of_working_days(term: Term) -> bool:
    match term:
        case WorkingDays():
            return True
        case Arithmetic(_, left, right):
            return _of_working_days(left) or _of_working_days(right)
        case _:
            return False
