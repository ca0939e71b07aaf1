"""A condition in words, taken apart so that a reader sees what goes together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    LookUp,
    Negation,
    Operator,
    Reckoning,
    RuleBook,
    Term,
)
from survey.vocabulary import ROUND, Kind, Subject, Word

_OF_DAYS = {
    Operator.IS: "is",
    Operator.AT_LEAST: "is on or after",
    Operator.MORE_THAN: "is after",
    Operator.AT_MOST: "is on or before",
    Operator.LESS_THAN: "is before",
}
_ONE = 1


@dataclass(frozen=True, slots=True)
class Wording:
    """One clause, or a line that says how the parts below it go together."""

    text: str
    parts: tuple[Wording, ...] = ()


def put_in_words(condition: Condition, subject: Subject, book: RuleBook) -> Wording:
    """A condition of a rule for a subject, with the figure of each limit behind its name."""
    match condition:
        case Comparison():
            return Wording(_compared(condition, book))
        case Reckoning(left, operator, right):
            return Wording(f"{_term(left, book)} {operator.value} {_term(right, book)}")
        case Count():
            return _counted(condition, subject, book)
        case Negation(Comparison(word, Operator.IS) as part):
            return Wording(f"{word.name} is not {_operand(part, book)}")
        case Negation(Count(_, Negation(part), Operator.AT_LEAST, 1) as count):
            lead = f"every {_thing(count, subject)} meets this:"
            return Wording(lead, (put_in_words(part, count.of, book),))
        case Negation(Count(_, where, Operator.AT_LEAST, 1) as count):
            return _with_where("no", _thing(count, subject), where, count.of, book)
        case Negation(part):
            return Wording("this does not hold:", (put_in_words(part, subject, book),))
        case Every(parts):
            between = _between(parts, book)
            return Wording(between) if between else _joined("all of these:", parts, subject, book)
        case Either(parts):
            one_of = _one_of(parts, book)
            return Wording(one_of) if one_of else _joined("any of these:", parts, subject, book)


def _joined(text: str, parts: Iterable[Condition], subject: Subject, book: RuleBook) -> Wording:
    return Wording(text, tuple(put_in_words(part, subject, book) for part in parts))


def _compared(clause: Comparison, book: RuleBook) -> str:
    days = clause.word.kind is Kind.DATE
    said = _OF_DAYS[clause.operator] if days else clause.operator.value
    return f"{clause.word.name} {said} {_operand(clause, book)}"


def _operand(clause: Comparison, book: RuleBook) -> str:
    return clause.shown if isinstance(clause.operand, Word) else _figure(clause.shown, book)


def _figure(shown: str, book: RuleBook) -> str:
    """A figure as written; a limit by its name with its figure."""
    limit = book.limits.get(shown)
    return shown if limit is None else f"{shown} ({limit.shown})"


def _term(term: Term, book: RuleBook) -> str:
    match term:
        case Figure(_, shown):
            return _figure(shown, book)
        case LookUp(table):
            return f"{table.name} (by table)"
        case Arithmetic(operation, left, right):
            sides = (
                f"({_term(side, book)})" if isinstance(side, Arithmetic) else _term(side, book)
                for side in (left, right)
            )
            return f" {operation.value} ".join(sides)
        case _:
            return str(term)


def _between(parts: tuple[Condition, ...], book: RuleBook) -> str:
    """Two ends of one word as the book writes them; empty if it is anything else."""
    match parts:
        case (
            Comparison(word, Operator.AT_LEAST) as low,
            Comparison(other, Operator.AT_MOST) as high,
        ) if word == other:
            return f"{word.name} is between {_operand(low, book)} and {_operand(high, book)}"
        case _:
            return ""


def _one_of(parts: tuple[Condition, ...], book: RuleBook) -> str:
    """Several answers of one word as the book writes them; empty if it is anything else."""
    same = [p for p in parts if isinstance(p, Comparison) and p.operator is Operator.IS]
    if len(same) < len(parts) or len({clause.word for clause in same}) > 1:
        return ""
    choices = " | ".join(_operand(clause, book) for clause in same)
    return f"{same[0].word.name} is one of: {choices}"


def _counted(count: Count, subject: Subject, book: RuleBook) -> Wording:
    thing = _thing(count, subject)
    if count.operator is Operator.AT_LEAST and count.number == _ONE:
        return _with_where("any", thing, count.where, count.of, book)
    things = f"{thing[:-1]}ies" if thing.endswith("y") else f"{thing}s"
    number = f"the number of {things} {count.operator.value} {count.number}"
    if count.where is None:
        return Wording(number)
    return Wording(f"{number}, counting where:", (put_in_words(count.where, count.of, book),))


def _with_where(
    how_many: str, thing: str, where: Condition | None, of: Subject, book: RuleBook
) -> Wording:
    if where is None:
        return Wording(f"there is {how_many} {thing}")
    return Wording(f"{how_many} {thing} where:", (put_in_words(where, of, book),))


def _thing(count: Count, subject: Subject) -> str:
    """What is counted, by the name that rules for a subject have for it."""
    return next(name for name, of in ROUND[subject].items() if of is count.of)
