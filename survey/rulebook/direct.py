"""The direct evaluator: judges each rule on each thing, clause by clause, and keeps the reasons.

It works backwards: a concluded word is worked out when a clause looks at it. The other
evaluator works forwards with a production system; the two share the facts and the read rules, and
nothing else.
"""

from __future__ import annotations

import math
import operator as operators
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from survey.engineering.working import Input
from survey.facts import Facts, FactValue, Thing, shown, shown_fact
from survey.model import Answer
from survey.rulebook import reckoning
from survey.rulebook.judgement import FALSE, TRUE, UNKNOWN, Judgement, Truth
from survey.rulebook.round import Near, Round
from survey.rulebook.rules import (
    Clause,
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    LookUp,
    Negation,
    Operator,
    Reckoning,
    Rule,
    RuleBook,
    Table,
    TableRow,
    Term,
)
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    SCOPES,
    Missing,
    Origin,
    Subject,
    Word,
)

_Comparable = int | float | str | Fraction
_NO_ANSWERS = {Origin.DERIVED, Origin.CONCLUDED}
Place = tuple[str, str]  # a word, and the label of what it is said of
_OPPOSITE = {TRUE: FALSE, FALSE: TRUE, UNKNOWN: UNKNOWN}


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


class Reason(NamedTuple):
    """One clause that made a rule met, or left it open.

    Args:
        clause: as in the rule.
        found: what was found, with the word it was found for.
        inputs: the answers behind it.
        why: why a figure could not be worked out; empty if it could.
        by: codes of the rules that concluded it.
        figures: word and label of each figure and conclusion that it looked at.
    """

    clause: str
    found: str
    inputs: tuple[Input, ...]
    why: str = ""
    by: tuple[str, ...] = ()
    figures: tuple[Place, ...] = ()

    @property
    def missing(self) -> tuple[Input, ...]:
        """The answers behind it that are not known."""
        return tuple(given for given in self.inputs if given.answer.value is NOT_KNOWN)


# A reason but for its clause: many clauses look at one word.
_Ground = tuple[str, tuple[Input, ...], str, tuple[str, ...], tuple[Place, ...]]


@dataclass(frozen=True, slots=True)
class Told:
    """A rule judged for a thing, with the clauses behind that."""

    rule: Rule
    thing: Thing
    truth: Truth
    reasons: tuple[Reason, ...]


class DirectEvaluator:
    """Judges one rule book on the facts of one site."""

    def __init__(self, book: RuleBook, facts: Facts) -> None:
        """Keep the book and the facts; nothing is judged yet."""
        self._book, self._facts, self._round = book, facts, Round(facts)
        self._concluded: dict[Place, Concluded] = {}
        self._kept: dict[tuple[int, int], Truth] = {}
        self._grounds: dict[tuple[str, int], _Ground] = {}

    def judge(self) -> tuple[Told, ...]:
        """Every rule that is met or can't be told, in the order of the book, then of the form."""
        told: list[Told] = []
        for rule in self._book:
            for thing in self._facts.of(rule.subject):
                truth = self.truth(rule, thing)
                if truth is not FALSE:
                    reasons = tuple(self._reasons(rule.condition, thing, truth, holds=True))
                    told.append(Told(rule, thing, truth, reasons))
        return tuple(told)

    def told(self, rule: Rule, thing: Thing) -> Told:
        """A rule judged for a thing, with the clauses that made it what it is."""
        truth = self.truth(rule, thing)
        reasons = tuple(self._reasons(rule.condition, thing, truth, holds=True))
        return Told(rule, thing, truth, reasons)

    def summary(self, told: tuple[Told, ...]) -> Judgement:
        """The outcome alone, to compare with the other evaluator's."""
        for word in self._book.vocabulary.words:
            if word.origin is Origin.CONCLUDED:
                for thing in self._facts.of(word.subject):
                    self.concluded(word, thing)
        return Judgement(
            frozenset((t.rule.code, t.thing.label) for t in told if t.truth is TRUE),
            frozenset((t.rule.code, t.thing.label) for t in told if t.truth is UNKNOWN),
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
        for rule in self.rules_for(word):
            truth = self.truth(rule, thing)
            if truth is FALSE:
                continue
            assert isinstance(rule.then, Conclusion)
            (met if truth is TRUE else maybe)[rule.code] = rank(rule.then.choice)
            if truth is UNKNOWN:
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
        start = self._book.vocabulary[word.starts_from]
        fact = thing.fact(start)
        return self.value(start, thing), fact.inputs, fact.reason

    def figures_behind(self, name: str, label: str) -> tuple[Place, ...]:
        """The figures and conclusions that a conclusion rests on, each once.

        Those that the rules look at which made it what it is or leave it open; where none does,
        what it starts from and what keeps every rule from making it worse. None of a word that is
        no conclusion.
        """
        word = self._book.vocabulary[name]
        things = (thing for thing in self._facts.of(word.subject) if thing.label == label)
        thing = next(things, None)
        if word.origin is not Origin.CONCLUDED or thing is None:
            return ()  # no thing: the wall of a pier that names none, of which nothing is known
        found = self.concluded(word, thing)
        codes = (*found.by, *found.open)
        start = () if found.by or word.starts_from is None else ((word.starts_from, label),)
        by_rule = (
            self._looked_at(rule.condition, thing, self._holds(rule.condition, thing))
            for rule in self.rules_for(word)
            if not codes or rule.code in codes
        )
        return tuple(dict.fromkeys([*start, *(place for places in by_rule for place in places)]))

    def _looked_at(self, condition: Condition, thing: Thing, wanted: Truth) -> Iterator[Place]:
        """The figures and conclusions in the clauses that made a condition what it is."""
        for clause, truth, _ in self._relevant(condition, thing, wanted, holds=True):
            if not isinstance(clause, Count):
                for word in clause.words:
                    if word.origin in _NO_ANSWERS:
                        yield word.itself.name, thing.part(word.subject).label
            elif clause.where is not None:
                for near in self._round.of(thing, clause.of):
                    inside = self._holds(clause.where, near.thing)
                    if _decides(clause, truth, inside):
                        yield from self._looked_at(clause.where, near.thing, inside)

    def rules_for(self, word: Word) -> tuple[Rule, ...]:
        """The rules of the book that conclude a word."""
        return self._book.concluding(word)

    def why(self, condition: Condition, thing: Thing) -> tuple[Reason, ...]:
        """The clauses that make a condition what it is for a thing."""
        truth = self._holds(condition, thing)
        return tuple(self._reasons(condition, thing, truth, holds=True))

    def holds(self, condition: Condition, thing: Thing) -> Truth:
        """Whether a condition holds for a thing."""
        return self._holds(condition, thing)

    def exists(self, thing: Thing) -> Truth:
        """Whether there is a thing: can't be told of what an open list may have left out."""
        return TRUE if thing.listed else UNKNOWN

    def round(self, thing: Thing, of: Subject) -> tuple[Near, ...]:
        """What a count looks at round a thing."""
        return self._round.of(thing, of)

    def supposing(self, answers: Mapping[tuple[str, str], FactValue]) -> DirectEvaluator:
        """One that judges the same site as if some open answers were given.

        Figures that were not worked out for want of an answer stay so.

        Args:
            answers: by the name of the question and the label of its row.
        """
        return _Supposing(self._book, self._facts, self._round, answers)

    def value(self, word: Word, thing: Thing) -> FactValue:
        """What is known of a word of a thing, concluded or not."""
        part, itself = thing.part(word.subject), word.base or word
        fact = part.facts.get(itself.name)  # a case gives concluded words as facts
        return self.concluded(itself, part).value if fact is None else fact.value

    def truth(self, rule: Rule, thing: Thing) -> Truth:
        """Whether a rule is met for a thing."""
        truth = self._holds(rule.condition, thing)
        if truth is TRUE and not thing.listed:
            return UNKNOWN  # nobody knows whether there is such a thing at all
        return truth

    def _holds(self, condition: Condition, thing: Thing) -> Truth:
        match condition:
            case Comparison():
                return self._compare(condition, thing)
            case Reckoning() | Count():
                return self._worked_out(condition, thing)
            case Negation(part):
                return _OPPOSITE[self._holds(part, thing)]
            case Every(parts):
                return self._all(parts, thing, FALSE, TRUE)
            case Either(parts):
                return self._all(parts, thing, TRUE, FALSE)

    def _worked_out(self, clause: Reckoning | Count, thing: Thing) -> Truth:
        """A clause that costs more than a comparison: worked out once, then kept."""
        key = (id(clause), id(thing))
        if key not in self._kept:
            self._kept[key] = (
                self._count(clause, thing)
                if isinstance(clause, Count)
                else self._reckon(clause, thing)
            )
        return self._kept[key]

    def _all(
        self, parts: tuple[Condition, ...], thing: Thing, decides: Truth, otherwise: Truth
    ) -> Truth:
        """Kleene 'and' where false decides, 'or' where true decides."""
        result = otherwise
        for part in parts:  # nearly all of them compare
            if isinstance(part, Comparison):
                truth = self._compare(part, thing)
            else:
                truth = self._holds(part, thing)
            if truth is decides:
                return decides
            if truth is UNKNOWN:
                result = UNKNOWN
        return result

    def _compare(self, clause: Comparison, thing: Thing) -> Truth:
        left = self.value(clause.word, thing)
        right: FactValue = (
            self.value(clause.operand, thing)
            if isinstance(clause.operand, Word)
            else clause.operand
        )
        if left is DOES_NOT_APPLY or right is DOES_NOT_APPLY:
            return FALSE
        if right is NOT_KNOWN:
            return UNKNOWN
        if left is NOT_KNOWN:
            bounds = self._bounds(clause, thing)
            return UNKNOWN if bounds is None else _within(bounds, clause.operator, right)
        return TRUE if compare(left, clause.operator, right) else FALSE

    def _bounds(self, clause: Comparison, thing: Thing) -> tuple[int, int] | None:
        """Of a figure that is compared with a plain one and not known, what it lies between."""
        if not clause.word.bounded or isinstance(clause.operand, Word):
            return None
        return thing.part(clause.word.subject).facts[clause.word.itself.name].bounds

    def _reckon(self, clause: Reckoning, thing: Thing) -> Truth:
        """Whether a clause holds for every pair of figures that its sides may still have."""
        sides = (self._figures(clause.left, thing), self._figures(clause.right, thing))
        if DOES_NOT_APPLY in sides:
            return FALSE
        left, right = sides
        if isinstance(left, Missing) or isinstance(right, Missing):
            return UNKNOWN
        found = {compare(a, clause.operator, b) for a in left for b in right}
        keys = (key for table in clause.tables for key in table.keys)
        if any(self.value(key, thing) is NOT_KNOWN for key in keys):
            found.add(False)  # the key may turn out not to apply
        if len(found) > 1:
            return UNKNOWN
        return TRUE if found.pop() else FALSE

    def _figures(self, term: Term, thing: Thing) -> tuple[Fraction, ...] | Missing:
        return reckoning.figures(term, lambda word: self.value(word, thing))

    def _beyond(self, table: Table, thing: Thing) -> bool:
        """Whether the answers are known and lie beyond every row of a table."""
        values = [self.value(key, thing) for key in table.keys]
        known = not any(isinstance(value, Missing) for value in values)
        return known and reckoning.possible_rows(table, values) is None

    def look_up(self, table: Table, thing: Thing) -> tuple[TableRow, ...] | Missing:
        """The rows of a table that are still possible for a thing."""
        values = [self.value(key, thing) for key in table.keys]
        if DOES_NOT_APPLY in values:
            return DOES_NOT_APPLY
        rows = reckoning.possible_rows(table, values)
        return NOT_KNOWN if rows is None else tuple(rows)

    def _count(self, clause: Count, thing: Thing) -> Truth:
        """Whether a number holds, between the things that surely count and all that may."""
        surely: float = 0
        possibly: float = 0
        for near in self._round.of(thing, clause.of):
            truth = self._counts(clause, near)
            surely += truth is TRUE
            if truth is not FALSE:
                if not near.thing.listed:  # nobody knows how many were left out
                    possibly = math.inf
                possibly += 1
        ends = (surely, possibly)
        least, most = (compare(number, clause.operator, clause.number) for number in ends)
        if least is not most:
            return UNKNOWN
        return TRUE if least else FALSE

    def _counts(self, clause: Count, near: Near) -> Truth:
        truth = TRUE if clause.where is None else self._holds(clause.where, near.thing)
        if truth is FALSE:
            return truth
        exists = self.exists(near.thing)
        if exists is TRUE and not near.surely:
            return UNKNOWN
        return truth if exists is TRUE else exists

    def _reasons(
        self, condition: Condition, thing: Thing, wanted: Truth, *, holds: bool
    ) -> list[Reason]:
        """The clauses that made a condition what it is: the true ones, or the open ones."""
        reasons: list[Reason] = []
        for clause, truth, positive in self._relevant(condition, thing, wanted, holds=holds):
            if isinstance(clause, Count):
                reasons += self._count_reasons(clause, thing, truth, positive)
                continue
            reasons += [self._reason(clause, thing, word, positive) for word in clause.words]
            if isinstance(clause, Reckoning):
                reasons += self._reckoned(clause, thing, positive)
        return reasons

    def _relevant(
        self, condition: Condition, thing: Thing, wanted: Truth, *, holds: bool
    ) -> Iterator[tuple[Clause, Truth, bool]]:
        """The clauses that made a condition what it is, what each is, if it is meant to hold."""
        match condition:
            case Negation(part):
                yield from self._relevant(part, thing, _OPPOSITE[wanted], holds=not holds)
            case Every(parts) | Either(parts):
                truths = [self._holds(part, thing) for part in parts]
                # Met only by a thing that may not exist: then each part counts.
                every = wanted not in truths
                for part, truth in zip(parts, truths, strict=True):
                    if every or truth is wanted:
                        yield from self._relevant(part, thing, truth, holds=holds)
            case _:
                yield condition, wanted, holds

    def _reason(
        self, clause: Comparison | Reckoning, thing: Thing, word: Word, holds: bool
    ) -> Reason:
        part, itself = thing.part(word.subject), word.itself
        # By the thing itself: piers that name no wall have each its own unknown one, named alike.
        key = (itself.name, id(part))
        if key not in self._grounds:
            self._grounds[key] = self._ground(itself, part)
        return Reason(_text(clause, holds), *self._grounds[key])

    def _ground(self, word: Word, part: Thing) -> _Ground:
        """What was found of a word, for whichever clause looks at it."""
        place = (word.name, part.label)
        fact = part.facts.get(word.name)
        if fact is None:
            found = self.concluded(word, part)
            by = found.by if found.value is not NOT_KNOWN else found.open
            said = f"{word.name} of {part.label}: {shown(word, found.value)}"
            return said, found.inputs, found.why, by, (place,)
        said = f"{word.name} of {part.label}: {shown_fact(word, fact)}"
        looked_at = (place,) if word.origin is Origin.DERIVED else ()
        return said, fact.inputs, fact.reason, (), looked_at

    def _reckoned(self, clause: Reckoning, thing: Thing, holds: bool) -> Iterator[Reason]:
        """What each side that is no plain answer came to."""
        for term in (clause.left, clause.right):
            found = self._figures(term, thing)
            if isinstance(term, LookUp) and self._beyond(term.table, thing):
                why = f"the table '{term}' goes no farther than its last row"
                yield Reason(_text(clause, holds), f"{term}: {NOT_KNOWN}", (), why)
            if not isinstance(term, (Word, Figure)) and not isinstance(found, Missing):
                said = " or ".join(reckoning.shown(term, figure) for figure in found)
                yield Reason(_text(clause, holds), f"{term}: {said}", ())

    def _count_reasons(
        self, clause: Count, thing: Thing, wanted: Truth, holds: bool
    ) -> Iterator[Reason]:
        """How many count, and why those that do; or, while it can't be told, those that may."""
        text = _text(clause, holds)
        near = [(one, self._counts(clause, one)) for one in self._round.of(thing, clause.of)]
        if wanted is not UNKNOWN:
            number = sum(truth is TRUE for _, truth in near)
            found = f"counted at {thing.label}: {number} of {len(near)}"
            yield Reason(text, found, (), figures=self._left_out(clause, near, wanted))
        relevant = UNKNOWN if wanted is UNKNOWN else TRUE
        for one, truth in near:
            if truth is relevant:
                yield from self._why_counted(clause, text, one)

    def _left_out(
        self, clause: Count, near: list[tuple[Near, Truth]], wanted: Truth
    ) -> tuple[Place, ...]:
        """The figures by which things don't count, where it is their being few that decides."""
        if clause.where is None or not _decides(clause, wanted, FALSE):
            return ()
        out = [one.thing for one, truth in near if truth is FALSE]
        return tuple(f for thing in out for f in self._looked_at(clause.where, thing, FALSE))

    def _why_counted(self, clause: Count, text: str, near: Near) -> Iterator[Reason]:
        if not near.thing.listed:
            closing = _closing(near.thing)
            said = f"{closing.word} of {closing.label}: not known to be all"
            yield Reason(text, said, (closing,))
            return
        if not near.surely:
            asked = near.thing.facts["wall of pier"].inputs
            yield Reason(text, f"{near.thing.label} may stand at this wall", asked)
        if clause.where is not None:
            truth = self._holds(clause.where, near.thing)
            for one in self._reasons(clause.where, near.thing, truth, holds=True):
                yield Reason(text, one.found, one.inputs, one.why, one.by, one.figures)


class _Supposing(DirectEvaluator):
    """Judges a site as if some answers were given that are not known."""

    def __init__(
        self, book: RuleBook, facts: Facts, round: Round,
        answers: Mapping[tuple[str, str], FactValue],
    ) -> None:  # fmt: skip
        super().__init__(book, facts)
        self._round, self._answers = round, answers

    def value(self, word: Word, thing: Thing) -> FactValue:
        found = super().value(word, thing)
        if found is not NOT_KNOWN or word.itself.origin is Origin.CONCLUDED:
            return found
        return self._supposed(word.itself, thing.part(word.subject))

    def _supposed(self, word: Word, part: Thing) -> FactValue:
        """An answer that is supposed, or that does not apply because another is supposed."""
        given = self._answers.get((word.name, part.label))
        if given is not None:
            return given
        if word.asks_when is not None:
            governing = self._book.vocabulary[word.asks_when.word]
            value = part.facts[governing.name].value
            if value is NOT_KNOWN:
                value = self._supposed(governing, part)
            if value is not NOT_KNOWN and value not in word.asks_when.choices:
                return DOES_NOT_APPLY
        return NOT_KNOWN

    def exists(self, thing: Thing) -> Truth:
        if thing.listed:
            return TRUE
        closing = _closing(thing)
        closed = self._answers.get((closing.word, closing.label)) == "yes"
        return FALSE if closed else UNKNOWN


def _text(clause: Comparison | Reckoning | Count, holds: bool) -> str:
    return str(clause) if holds else f"not: {clause}"


def _decides(clause: Count, truth: Truth, inside: Truth) -> bool:
    """Whether a count is what it is by those things of which its condition is so."""
    if inside is not FALSE:
        return truth is not UNKNOWN or inside is UNKNOWN
    few = clause.operator not in {Operator.AT_LEAST, Operator.MORE_THAN}
    return truth is not UNKNOWN and few is (truth is TRUE)


def _closing(thing: Thing) -> Input:
    """The question that would close the list that an unlisted thing stands for, still open."""
    subject = next(s for s in SCOPES[thing.subject] if s in CLOSED_BY)
    where = thing.part(subject).where
    return Input(CLOSED_BY[subject], "site", Answer(NOT_KNOWN, where))


def _within(bounds: tuple[int, int], operator: Operator, right: int | str) -> Truth:
    """How a figure compares that is only known to lie within bounds."""
    at_ends = {compare(end, operator, right) for end in bounds}
    if len(at_ends) > 1:
        return UNKNOWN
    return TRUE if at_ends.pop() else FALSE


# The book's check lets only figures be ordered.
_COMPARES: Mapping[Operator, Callable[[_Comparable, _Comparable], bool]] = {
    Operator.IS: operators.eq,
    Operator.AT_LEAST: operators.ge,
    Operator.MORE_THAN: operators.gt,
    Operator.AT_MOST: operators.le,
    Operator.LESS_THAN: operators.lt,
}


def compare(left: _Comparable, operator: Operator, right: _Comparable) -> bool:
    """Whether two figures or answers that are known compare so."""
    return _COMPARES[operator](left, right)


def _once(inputs: list[Input]) -> tuple[Input, ...]:
    return tuple(dict.fromkeys(inputs))
