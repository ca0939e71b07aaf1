"""Which rules use a word, a limit or a table: in what they judge, or in what they print."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Count,
    Figure,
    LookUp,
    Rule,
    RuleBook,
    Term,
    clauses,
    comparisons,
)


def uses(book: RuleBook) -> Mapping[str, tuple[Rule, ...]]:
    """The rules that use each word, limit or table, by its name and in the order of their codes.

    A word of the other pier of a pair counts as the word itself. What a rule concludes is no use
    of the word; ``RuleBook.concluding`` tells that.
    """
    found: dict[str, list[Rule]] = {}
    for rule in in_order(book):
        for name in dict.fromkeys([*_judged(rule, book), *_printed(rule, book)]):
            found.setdefault(name, []).append(rule)
    return {name: tuple(rules) for name, rules in found.items()}


def in_order(book: RuleBook) -> tuple[Rule, ...]:
    """The rules of a book by their codes: ``DIG-2`` before ``DIG-10``."""
    return tuple(sorted(book, key=_by_code))


def _by_code(rule: Rule) -> tuple[str, int, str]:
    start, _, number = rule.code.rpartition("-")
    return (start, int(number) if number.isdecimal() else 0, rule.code)


def _judged(rule: Rule, book: RuleBook) -> Iterator[str]:
    for count in clauses(rule.condition):
        if isinstance(count, Count) and count.limit:
            yield count.limit
    for clause in comparisons(rule.condition):
        yield from (word.itself.name for word in clause.words)
        if isinstance(clause, Comparison):
            if clause.shown in book.limits:
                yield clause.shown
        else:
            yield from _named(clause.left, book)
            yield from _named(clause.right, book)


def _named(term: Term, book: RuleBook) -> Iterator[str]:
    """The limits and tables of a sum."""
    match term:
        case Figure(_, shown) if shown in book.limits:
            yield shown
        case LookUp(table):
            yield table.name
        case Arithmetic(_, left, right):
            yield from _named(left, book)
            yield from _named(right, book)


def _printed(rule: Rule, book: RuleBook) -> Iterator[str]:
    words = book.vocabulary.scope(rule.subject)
    for text in (rule.say, rule.do, rule.say_es, rule.do_es):
        for name in names_in(text):
            if name in words:
                yield words[name].itself.name
            elif name in book.limits or name in book.tables:
                yield name


def names_in(text: str) -> Iterator[str]:
    """The names in braces in a text that a rule prints."""
    return (found[1].strip() for found in re.finditer(r"\{([^{}]*)\}", text))
