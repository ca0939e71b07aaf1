"""Check the trees of conditions against the vocabulary: words, kinds, units and choices."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from survey.rulebook.messages import Mistake
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import (
    MISTAKEN,
    Comparison,
    Conclusion,
    Condition,
    Either,
    Every,
    Limit,
    Negation,
    Operator,
    Outcome,
)
from survey.rulebook.syntax import Node, Phrase, child, phrase, unquoted
from survey.vocabulary import (
    SCOPES,
    VOCABULARY,
    Kind,
    Origin,
    QuantityError,
    Subject,
    Word,
    nearest,
    read_quantity,
    steps,
    tidy,
)

_ORDERED = {
    "at_least": Operator.AT_LEAST, "more_than": Operator.MORE_THAN,
    "at_most": Operator.AT_MOST, "less_than": Operator.LESS_THAN,
}  # fmt: skip
_PICKED = (Kind.CHOICE, Kind.YES_NO)
_NOT_TESTABLE = "not known"


class CheckMistakeError(Exception):
    """A word, unit or choice that does not fit."""

    def __init__(
        self, phrase: Phrase, what: str, help: str = "", nearest: str | None = None
    ) -> None:
        self.mistake = Mistake(phrase.span, what, help, nearest)


@dataclass(frozen=True, slots=True)
class Scope:
    """What a rule may name: the words of its subject's scope, and the limits."""

    subject: Subject
    limits: Mapping[str, Limit]

    def words(self) -> dict[str, Word]:
        """The words a rule of this subject may use, by name."""
        return {
            word.name: word for subject in SCOPES[self.subject] for word in VOCABULARY.of(subject)
        }

    def word(self, name: Phrase) -> Word:
        """The word that is named.

        Raises:
            CheckMistakeError: there is none, or not one for this subject.
        """
        words = self.words()
        if name.text in words:
            return words[name.text]
        if name.text in VOCABULARY:
            subject = VOCABULARY[name.text].subject.value
            help = f"Write the rule for each {subject}, or use a word of a {self.subject.value}."
            what = (
                f"'{name.text}' is said of a {subject}; this rule is for each {self.subject.value}"
            )
            raise CheckMistakeError(name, what, help)
        near = nearest(name.text, words)
        what = f"'{name.text}' is not a word that the form or a calculation knows"
        raise CheckMistakeError(name, what, nearest=near)


def read_condition(node: Node, field: Field, scope: Scope) -> Condition:
    """Check a condition; the first mistake in each clause is collected, not only the first of all.

    Raises:
        ConditionMistakesError: every mistake found.
    """
    mistakes: list[Mistake] = []
    condition = _condition(child(node, 0), field, scope, mistakes)
    if mistakes or condition is None:
        raise ConditionMistakesError(mistakes)
    return condition


class ConditionMistakesError(Exception):
    """The mistakes of a whole condition."""

    def __init__(self, mistakes: list[Mistake]) -> None:
        self.mistakes = mistakes


def _condition(node: Node, field: Field, scope: Scope, mistakes: list[Mistake]) -> Condition | None:
    if node.data in ("both", "either", "negation"):
        parts = [
            _condition(child(node, i), field, scope, mistakes) for i in range(len(node.children))
        ]
        whole = tuple(part for part in parts if part is not None)
        if len(whole) != len(parts):
            return None
        if node.data == "negation":
            return Negation(whole[0])
        return Every(whole) if node.data == "both" else Either(whole)
    try:
        return _clause(node, field, scope)
    except CheckMistakeError as fault:
        mistakes.append(fault.mistake)
        return None


def _clause(node: Node, field: Field, scope: Scope) -> Condition:
    nodes = [part for part in node.children if not isinstance(part, str)]
    name, *values = [phrase(field, part) for part in nodes]
    word = scope.word(name)
    match node.data:
        case "is_value":
            return _same(word, values[0], scope)
        case "is_not_value":
            return Negation(_same(word, values[0], scope))
        case "is_one_of":
            return Either(tuple(_same(word, value, scope) for value in values))
        case "between":
            low, high = values
            return Every(
                (
                    _ordered(word, Operator.AT_LEAST, low, scope),
                    _ordered(word, Operator.AT_MOST, high, scope),
                )
            )
        case ordered:
            return _ordered(word, _ORDERED[ordered], values[0], scope)


def _same(word: Word, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if word.kind in _PICKED:
        return Comparison(word, Operator.IS, read_choice(word, value), unquoted(value.text))
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        what = f"'{word.name}' is a {word.kind.value}; rules judge choices, figures and dates"
        raise CheckMistakeError(value, what, "Ask a question with choices instead.")
    what = f"'{word.name}' is a {word.kind.value}; 'is' alone compares choices"
    raise CheckMistakeError(value, what, "Write 'is at least', 'is at most' or 'is between'.")


def _ordered(word: Word, operator: Operator, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if not (word.measured or word.kind is Kind.DATE):
        ordered = operator.value.removeprefix("is ")
        what = f"'{word.name}' is a {word.kind.value} and can't be {ordered}"
        help = f"Write 'is' and one of: {', '.join(word.choices)}." if word.choices else ""
        raise CheckMistakeError(value, what, help)
    return Comparison(word, operator, _operand(word, value, scope), unquoted(value.text))


def _operand(word: Word, value: Phrase, scope: Scope) -> int | Word:
    """A figure, a limit, or another word of the same kind."""
    name = unquoted(value.text)
    limit = scope.limits.get(name)
    if limit is not None:
        if limit.kind not in (word.kind.value, MISTAKEN):
            what = f"'{name}' is a limit of {limit.kind}; '{word.name}' is a {word.kind.value}"
            raise CheckMistakeError(value, what, f"Give the limit a unit of {word.kind.value}.")
        return limit.steps
    if name in VOCABULARY:
        other = scope.word(Phrase(name, value.span))
        if other.kind is not word.kind:
            what = f"'{word.name}' is a {word.kind.value} and '{name}' is a {other.kind.value}"
            raise CheckMistakeError(value, what, "Only like can be compared with like.")
        return other
    return read_figure(word, value, [*scope.limits, *scope.words()])


def read_figure(word: Word, value: Phrase, names: list[str] | None = None) -> int:
    """A quantity with its unit, or a date, in whole steps.

    Raises:
        CheckMistakeError: no such quantity; or a word that is neither word nor limit.
    """
    text = unquoted(value.text)
    if word.kind is Kind.DATE:
        try:
            return dt.date.fromisoformat(text).toordinal()
        except ValueError:
            near = nearest(text, names or [])
            what = f"'{text}' is no date such as 2026-04-03 and no word for one"
            raise CheckMistakeError(value, what, nearest=near) from None
    bare = "" if word.kind is Kind.COUNT else None
    try:
        return steps(word.kind, read_quantity(text, word.kind, bare))
    except QuantityError as fault:
        if not text[:1].isdigit():
            near = nearest(text, names or [])
            what = f"'{text}' is no {word.kind.value}, no limit and no word that the form knows"
            raise CheckMistakeError(value, what, nearest=near) from None
        raise CheckMistakeError(
            value, f"'{text}' does not fit '{word.name}'; expected {fault}"
        ) from None


def read_choice(word: Word, value: Phrase) -> str:
    """One of the word's choices.

    Raises:
        CheckMistakeError: it is none of them.
    """
    text = tidy(unquoted(value.text))
    for choice in word.choices:
        if choice == text:
            return choice
    listed = ", ".join(f'"{c}"' if "," in c or " or " in c else c for c in word.choices)
    what = f"'{text}' is not a choice of '{word.name}'"
    raise CheckMistakeError(value, what, f"Its choices are: {listed}.", nearest(text, word.choices))


def _refuse_testing_known(word: Word, value: Phrase) -> None:
    if unquoted(value.text) in (_NOT_TESTABLE, "known"):
        what = f"a rule can't test whether '{word.name}' is known"
        help = "Leave it out: while an answer that matters is not known, the rule asks for it."
        raise CheckMistakeError(value, what, help)


def read_outcome(node: Node, field: Field, scope: Scope) -> Outcome | Conclusion:
    """What follows ``then``.

    Raises:
        CheckMistakeError: no such outcome, or a word that rules can't conclude.
    """
    if node.data == "plain_outcome":
        said = phrase(field, child(node, 0))
        for outcome in Outcome:
            if said.text == outcome.value:
                return outcome
        names = [outcome.value for outcome in Outcome]
        what = f"'{said.text}' is no outcome"
        help = f"Outcomes are: {', '.join(names)}, or 'count WORD as CHOICE'."
        raise CheckMistakeError(said, what, help, nearest(said.text, names))
    name, value = phrase(field, child(node, 0)), phrase(field, child(node, 1))
    word = scope.word(name)
    if word.origin is not Origin.CONCLUDED:
        concluded = [w.name for w in VOCABULARY.words if w.origin is Origin.CONCLUDED]
        what = f"'{word.name}' is {word.origin.value}; rules can't conclude it"
        raise CheckMistakeError(name, what, f"Rules can conclude: {', '.join(concluded)}.")
    if word.subject is not scope.subject:
        here = f"this rule is for each {scope.subject.value}"
        raise CheckMistakeError(name, f"'{word.name}' is said of a {word.subject.value}; {here}")
    return Conclusion(word, read_choice(word, value))
