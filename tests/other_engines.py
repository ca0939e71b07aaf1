"""Conditions of the rule book in the languages of two libraries that know nothing of it.

Only what all three can say: clauses that compare one answer with a figure, a choice or another
answer, on things of which everything is known that a condition looks at. A word that does not apply
is null there; a comparison with it is false, as in the book.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

import cel
import rule_engine

from survey.facts import Facts, Thing
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.rules import (
    Comparison,
    Condition,
    Either,
    Every,
    Negation,
    Operator,
    Rule,
    RuleBook,
    clauses,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Word

Values = Mapping[str, int | str | None]

_SIGNS = {
    Operator.IS: "==", Operator.AT_LEAST: ">=", Operator.MORE_THAN: ">",
    Operator.AT_MOST: "<=", Operator.LESS_THAN: "<",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Language:
    """How conditions are written: the signs for and, or, not."""

    also: str
    either: str
    negation: str

    def text(self, condition: Condition) -> str:
        """A condition as an expression."""
        match condition:
            case Every(parts):
                return "(" + self.also.join(map(self.text, parts)) + ")"
            case Either(parts):
                return "(" + self.either.join(map(self.text, parts)) + ")"
            case Negation(part):
                return f"{self.negation}({self.text(part)})"
            case Comparison():
                names = [name_of(word) for word in condition.words]
                right = names[1] if len(names) > 1 else json.dumps(condition.operand)
                there = "".join(f"{name} != null{self.also}" for name in names)
                return f"({there}{names[0]} {_SIGNS[condition.operator]} {right})"
            case _:
                raise TypeError(f"no comparison: {condition}")


CEL = Language(" && ", " || ", "!")
RULE_ENGINE = Language(" and ", " or ", "not ")


def name_of(word: Word) -> str:
    """A word with its subject as a name that both languages allow."""
    return re.sub(r"\W", "_", f"{word.subject.value} {word.itself.name}")


def plain_rules(book: RuleBook) -> tuple[Rule, ...]:
    """The rules whose conditions only compare: nothing is reckoned, counted or looked up."""
    return tuple(
        rule
        for rule in book
        if all(isinstance(clause, Comparison) for clause in clauses(rule.condition))
    )


@dataclass(frozen=True, slots=True)
class Known:
    """A rule and a thing of which all is known that the rule looks at."""

    rule: Rule
    thing: Thing
    values: Values


def known_places(
    rules: Iterable[Rule], facts: Facts, evaluator: DirectEvaluator
) -> Iterator[Known]:
    """Plain rules with each thing for which they are true or false whoever judges them."""
    for rule in rules:
        words = {word for clause in clauses(rule.condition) for word in clause.words}
        for thing in facts.of(rule.subject):
            found = {word: evaluator.value(word, thing) for word in words}
            if thing.listed and NOT_KNOWN not in found.values():
                values = {
                    name_of(word): None if value is DOES_NOT_APPLY else value
                    for word, value in found.items()
                }
                yield Known(rule, thing, values)


def in_cel(condition: Condition) -> Callable[[cel.Context], bool]:
    """A condition as a compiled program of the Common Expression Language."""
    return cel.compile(CEL.text(condition)).execute


def for_cel(values: Values) -> cel.Context:
    """Values as that program takes them fastest."""
    return cel.Context(variables=dict(values))


def in_rule_engine(condition: Condition) -> Callable[[Values], bool]:
    """A condition as a rule of an expression engine written in Python."""
    return rule_engine.Rule(RULE_ENGINE.text(condition)).matches
