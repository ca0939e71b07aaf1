"""The direct evaluator: judges each rule on each thing, clause by clause, and keeps the reasons.

It works backwards: a concluded word is worked out when a clause looks at it. The other
evaluator works forwards with a production system; the two share the read rules and nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass

from survey.engineering.working import Input
from survey.facts import Facts, FactValue, Thing, shown
from survey.rulebook.judgement import Judgement, Truth
from survey.rulebook.rules import (
    Comparison,
    Conclusion,
    Condition,
    Either,
    Every,
    Negation,
    Operator,
    Rule,
    RuleBook,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Missing, Origin, Word

_OPPOSITE = {Truth.TRUE: Truth.FALSE, Truth.FALSE: Truth.TRUE, Truth.UNKNOWN: Truth.UNKNOWN}


@dataclass(frozen=True, slots=True)
class Concluded:
    """The value of a concluded word, and the rules behind it.

    Args:
        value: a choice, or not known.
        by: codes of the rules that are met and conclude it.
        open: codes of the rules that might still make it worse.
        inputs: the answers behind it.
        why: why a figure behind it could not be worked out; empty if all could.
    """

    value: FactValue
    by: tuple[str, ...]
    open: tuple[str, ...]
    inputs: tuple[Input, ...]
    why: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """One clause that made a rule met, or left it open.

    Args:
        clause: as in the rule.
        found: what was found, with the word it was found for.
        inputs: the answers behind it.
        why: why a figure could not be worked out; empty if it could.
        by: codes of the rules that concluded it.
    """

    clause: str
    found: str
    inputs: tuple[Input, ...]
    why: str = ""
    by: tuple[str, ...] = ()

    @property
    def missing(self) -> tuple[Input, ...]:
        """The answers behind it that are not known."""
        return tuple(given for given in self.inputs if given.answer.value is NOT_KNOWN)


@dataclass(frozen=True, slots=True)
class Told:
    """A rule that is met or can't be told for a thing, with the clauses behind that."""

    rule: Rule
    thing: Thing
    truth: Truth
    reasons: tuple[Reason, ...]


class DirectEvaluator:
    """Judges one rule book on the facts of one site."""

    def __init__(self, book: RuleBook, facts: Facts) -> None:
        """Keep the book and the facts; nothing is judged yet."""
        self._book, self._facts = book, facts
        self._concluded: dict[tuple[str, str], Concluded] = {}
        self._concluding: dict[str, tuple[Rule, ...]] = {}

    def judge(self) -> tuple[Told, ...]:
        """Every rule that is met or can't be told, in the order of the book, then of the form."""
        told: list[Told] = []
        for rule in self._book:
            for thing in self._facts.of(rule.subject):
                truth = self.truth(rule, thing)
                if truth is not Truth.FALSE:
                    reasons = tuple(self._reasons(rule.condition, thing, truth, holds=True))
                    told.append(Told(rule, thing, truth, reasons))
        return tuple(told)

    def summary(self, told: tuple[Told, ...]) -> Judgement:
        """The outcome alone, to compare with the other evaluator's."""
        for word in VOCABULARY.words:
            if word.origin is Origin.CONCLUDED:
                for thing in self._facts.of(word.subject):
                    self.concluded(word, thing)
        return Judgement(
            frozenset((t.rule.code, t.thing.label) for t in told if t.truth is Truth.TRUE),
            frozenset((t.rule.code, t.thing.label) for t in told if t.truth is Truth.UNKNOWN),
            {place: found.value for place, found in self._concluded.items()},
        )

    def concluded(self, word: Word, thing: Thing) -> Concluded:
        """The value of a concluded word of a thing, worked out when first asked for."""
        place = (word.name, thing.label)
        if place not in self._concluded:
            self._concluded[place] = self._conclude(word, thing)
        return self._concluded[place]

    def _conclude(self, word: Word, thing: Thing) -> Concluded:
        rank = word.choices.index
        start, inputs, why = self._start(word, thing)
        if start is DOES_NOT_APPLY:
            return Concluded(DOES_NOT_APPLY, (), (), inputs)
        met: dict[str, int] = {}
        maybe: dict[str, int] = {}
        behind: list[Reason] = []
        for rule in self._rules_for(word):
            truth = self.truth(rule, thing)
            if truth is Truth.FALSE:
                continue
            assert isinstance(rule.then, Conclusion)
            (met if truth is Truth.TRUE else maybe)[rule.code] = rank(rule.then.choice)
            if truth is Truth.UNKNOWN:
                behind.extend(self._reasons(rule.condition, thing, truth, holds=True))
        # A start that is not known may be anything from the best choice to the worst.
        known = isinstance(start, str)
        first, last = (rank(start), rank(start)) if known else (0, len(word.choices) - 1)
        floor = max([first, *met.values()])
        if max([last, *met.values(), *maybe.values()]) > floor:
            open_rules = tuple(code for code, choice in maybe.items() if choice > floor)
            all_inputs = [*inputs, *(given for reason in behind for given in reason.inputs)]
            whys = dict.fromkeys([why, *(reason.why for reason in behind)])
            said = "; ".join(one for one in whys if one)
            return Concluded(NOT_KNOWN, tuple(met), open_rules, _once(all_inputs), said)
        value = word.choices[floor]
        by = tuple(code for code, choice in met.items() if choice == floor)
        return Concluded(value, by if start != value else (), (), inputs)

    def _start(self, word: Word, thing: Thing) -> tuple[FactValue, tuple[Input, ...], str]:
        """What a concluded word is before any rule makes it worse, and what that rests on."""
        if word.starts_from is None:
            assert word.otherwise is not None
            return word.otherwise, (), ""
        fact = thing.fact(VOCABULARY[word.starts_from])
        return fact.value, fact.inputs, fact.reason

    def _rules_for(self, word: Word) -> tuple[Rule, ...]:
        if word.name not in self._concluding:
            self._concluding[word.name] = self._book.concluding(word)
        return self._concluding[word.name]

    def _value(self, word: Word, thing: Thing) -> FactValue:
        part = thing.part(word.subject)
        if word.name in part.facts:  # a case gives concluded words as facts
            return part.facts[word.name].value
        return self.concluded(word, part).value

    def truth(self, rule: Rule, thing: Thing) -> Truth:
        """Whether a rule is met for a thing."""
        truth = self._holds(rule.condition, thing)
        if truth is Truth.TRUE and not thing.listed:
            return Truth.UNKNOWN  # nobody knows whether there is such a thing at all
        return truth

    def _holds(self, condition: Condition, thing: Thing) -> Truth:
        match condition:
            case Comparison():
                return self._compare(condition, thing)
            case Negation(part):
                return _OPPOSITE[self._holds(part, thing)]
            case Every(parts):
                return self._all(parts, thing, Truth.FALSE, Truth.TRUE)
            case Either(parts):
                return self._all(parts, thing, Truth.TRUE, Truth.FALSE)

    def _all(
        self, parts: tuple[Condition, ...], thing: Thing, decides: Truth, otherwise: Truth
    ) -> Truth:
        """Kleene 'and' where false decides, 'or' where true decides."""
        result = otherwise
        for part in parts:
            truth = self._holds(part, thing)
            if truth is decides:
                return decides
            if truth is Truth.UNKNOWN:
                result = Truth.UNKNOWN
        return result

    def _compare(self, clause: Comparison, thing: Thing) -> Truth:
        left = self._value(clause.word, thing)
        right: FactValue = (
            self._value(clause.operand, thing)
            if isinstance(clause.operand, Word)
            else clause.operand
        )
        if left is DOES_NOT_APPLY or right is DOES_NOT_APPLY:
            return Truth.FALSE
        if isinstance(left, Missing) or isinstance(right, Missing):
            return Truth.UNKNOWN
        return Truth.TRUE if _compare_values(left, clause.operator, right) else Truth.FALSE

    def _reasons(
        self, condition: Condition, thing: Thing, wanted: Truth, *, holds: bool
    ) -> list[Reason]:
        """The clauses that made a condition what it is: the true ones, or the open ones."""
        match condition:
            case Negation(part):
                return self._reasons(part, thing, _OPPOSITE[wanted], holds=not holds)
            case Every(parts) | Either(parts):
                relevant = [part for part in parts if self._holds(part, thing) is wanted]
                if not relevant:  # met only by a thing that may not exist
                    relevant = list(parts)
                return [
                    reason
                    for part in relevant
                    for reason in self._reasons(part, thing, self._holds(part, thing), holds=holds)
                ]
            case Comparison():
                return [self._reason(condition, thing, word, holds) for word in condition.words]

    def _reason(self, clause: Comparison, thing: Thing, word: Word, holds: bool) -> Reason:
        part = thing.part(word.subject)
        text = str(clause) if holds else f"not: {clause}"
        if word.name not in part.facts:
            found = self.concluded(word, part)
            by = found.by if found.value is not NOT_KNOWN else found.open
            said = f"{word.name} of {part.label}: {shown(word, found.value)}"
            return Reason(text, said, found.inputs, found.why, by)
        fact = part.facts[word.name]
        said = f"{word.name} of {part.label}: {shown(word, fact.value)}"
        return Reason(text, said, fact.inputs, fact.reason)


def _compare_values(left: int | str, operator: Operator, right: int | str) -> bool:
    if isinstance(left, int) and isinstance(right, int):
        match operator:
            case Operator.AT_LEAST:
                return left >= right
            case Operator.MORE_THAN:
                return left > right
            case Operator.AT_MOST:
                return left <= right
            case Operator.LESS_THAN:
                return left < right
            case Operator.IS:
                return left == right
    assert operator is Operator.IS, "the book's check lets only figures be ordered"
    return left == right


def _once(inputs: list[Input]) -> tuple[Input, ...]:
    return tuple(dict.fromkeys(inputs))
