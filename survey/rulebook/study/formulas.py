"""Conditions as formulas of the z3 solver, over everything that may be answered.

A question applies as the form has it, a measured answer lies in its plausible range, and a
concluded word is the worst of its start and of what the book's rules count. Calculations are
left out: a derived word is any figure of its range, or does not apply. So the formulas allow
more than can happen on a site and never less; "can't be" is proved, "can be" needs an example
that is judged.

Conditions keep their three truth values, so met and not met are two formulas. Even where all is
answered a condition may be open: a figure beyond the last row of a table is not known.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import z3

from survey.rulebook.rules import (
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Negation,
    Operator,
    Reckoning,
    RuleBook,
    clauses,
    comparisons,
)
from survey.rulebook.study.terms import TRUE, Answer, Formula, figure, joined, looks_up
from survey.rulebook.study.wording import put_in_words
from survey.vocabulary import OTHERS, Origin, Subject, Word, steps

_COMPARED: Mapping[Operator, Callable[[Formula, Formula], Formula]] = {
    Operator.IS: operator.eq, Operator.AT_LEAST: operator.ge, Operator.MORE_THAN: operator.gt,
    Operator.AT_MOST: operator.le, Operator.LESS_THAN: operator.lt,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Meaning:
    """When a condition is met and when it is not; else it can't be told.

    Args:
        met: it is met.
        failed: it is not met.
        bounds: what each answer and each number behind it can be, by name.
        answers: to the words that its clauses look at.
    """

    met: Formula
    failed: Formula
    bounds: Mapping[str, Formula]
    answers: Mapping[Word, Answer]

    def touches(self, other: Meaning) -> bool:
        """Whether one can tell anything of the other: some answer stands behind both."""
        return not self.bounds.keys().isdisjoint(other.bounds)


class Formulas:
    """Translates the conditions of one book.

    Args:
        book: whose words and conclusions are meant.
        complete: whether everything is answered and every list closed.
    """

    def __init__(self, book: RuleBook, *, complete: bool) -> None:
        self.book, self.complete = book, complete
        # The answer to each word, with the bounds of all that stands behind it.
        self.known: dict[str, tuple[Answer, Mapping[str, Formula]]] = {}

    def meaning(self, condition: Condition, subject: Subject) -> Meaning:
        """What a condition means that is judged for a subject."""
        translator = _Translator(self)
        met, failed = (translator.truth(condition, wanted, subject) for wanted in (True, False))
        looked_at = dict.fromkeys(
            word for clause in clauses(condition) if not isinstance(clause, Count)
            for word in clause.words
        )  # fmt: skip
        answers = {word: translator.answer(word, subject) for word in looked_at}
        return Meaning(met, failed, translator.bounds, answers)


class _Translator:
    """Translates one condition or one word, and gathers the bounds of all that stands behind it.

    A variable is known by its name, so those of two conditions are the same ones.
    """

    def __init__(self, formulas: Formulas) -> None:
        self._formulas, self._book = formulas, formulas.book
        self.bounds: dict[str, Formula] = {}

    def truth(self, condition: Condition, wanted: bool, at: Subject) -> Formula:
        """That a condition is met, or is not met; where it can't be told, neither holds."""
        match condition:
            case Negation(part):
                return self.truth(part, not wanted, at)
            case Every(parts) | Either(parts):
                join = z3.And if isinstance(condition, Every) is wanted else z3.Or
                return join([self.truth(part, wanted, at) for part in parts])
            case Comparison():
                return self._compare(condition, wanted, at)
            case Reckoning(left, compared, right):
                alike = z3.Bool(f"{condition} at the {at.value}, in every row that is possible")
                sides = [
                    figure(side, lambda word: self.answer(word, at), alike)
                    for side in (left, right)
                ]
                return _told(_COMPARED[compared](sides[0].value, sides[1].value), sides, wanted)
            case Count():
                return self._count(condition, wanted, at)

    def _compare(self, clause: Comparison, wanted: bool, at: Subject) -> Formula:
        sides = [self.answer(clause.word, at)]
        match clause.operand:
            case Word() as other:  # figures and dates alone are compared with each other
                sides.append(self.answer(other, at))
                against = sides[1].value
            case str(choice):
                against = clause.word.choices.index(choice)
            case whole_steps:
                against = whole_steps
        return _told(_COMPARED[clause.operator](sides[0].value, against), sides, wanted)

    def _count(self, clause: Count, wanted: bool, at: Subject) -> Formula:
        of, where = clause.of, clause.where
        said = None if where is None else put_in_words(where, of, self._book)
        name = f"{of.value} round the {at.value}: {said}"
        fewest, most = z3.Int(f"fewest {name}"), z3.Int(f"most {name}")
        settled = self._formulas.complete and (where is None or not _may_stay_open(where))
        self.bounds[name] = z3.And(fewest >= 0, fewest == most if settled else fewest <= most)
        compared = _COMPARED[clause.operator]
        ends = compared(fewest, clause.number), compared(most, clause.number)
        return z3.And(*ends) if wanted else z3.Not(z3.Or(*ends))

    def answer(self, word: Word, at: Subject) -> Answer:
        """The answer to a word that is used where a rule is judged for a subject.

        A rule for one pier that concludes a word is judged for the other pier of a pair as well;
        there its words are those of the other pier.
        """
        if at in OTHERS.values() and word.subject in OTHERS:
            word = self._named(word.name, OTHERS[word.subject])
        known = self._formulas.known
        if word.name not in known:
            inner = _Translator(self._formulas)
            concluded = word.origin is Origin.CONCLUDED
            found = inner._concluded(word) if concluded else inner._given(word)
            known[word.name] = found, inner.bounds
        found, behind = known[word.name]
        self.bounds.update(behind)
        return found

    def _named(self, name: str, subject: Subject) -> Word:
        """The word of a subject that is called so on the form."""
        return next(w for w in self._book.vocabulary.of(subject) if w.itself.name == name)

    def _given(self, word: Word) -> Answer:
        value, bounds = z3.Int(word.name), []
        if word.choices:
            bounds += [value >= 0, value < len(word.choices)]
        if word.low is not None:
            bounds.append(value >= steps(word.kind, word.low))
        if word.high is not None:
            bounds.append(value <= steps(word.kind, word.high))
        self.bounds[word.name] = z3.And(bounds)
        applies = TRUE if word.asked else z3.Bool(f"{word.name} applies")
        told = TRUE if self._formulas.complete else z3.Bool(f"{word.name} is known")
        if (when := word.asks_when) is not None:
            governing = self._named(when.word, word.subject)
            known = self.answer(governing, word.subject)
            asked = [known.value == governing.choices.index(choice) for choice in when.choices]
            # While the governing answer is not known, whether this one applies is not either.
            applies = z3.And(known.applies, z3.Or(z3.Not(known.told), *asked))
            told = z3.And(known.told, told)
        return Answer(value, applies, told)

    def _concluded(self, word: Word) -> Answer:
        rank, last = word.choices.index, len(word.choices) - 1
        start, value = self._start(word), z3.Int(word.name)
        worst, settled = start.value, [z3.Or(start.told, value == last)]
        for rule in self._book.concluding(word.itself):
            assert isinstance(rule.then, Conclusion)
            place = rank(rule.then.choice)
            met, failed = (self.truth(rule.condition, want, word.subject) for want in (True, False))
            worst = z3.If(z3.And(met, worst < place), place, worst)
            settled.append(z3.Or(met, failed, value >= place))
        self.bounds[word.name] = value == worst
        return Answer(value, start.applies, z3.And(settled))

    def _start(self, word: Word) -> Answer:
        """What a concluded word is before any rule counts it worse; the best, if not known."""
        rank = word.choices.index
        if word.starts_from is None:
            assert word.otherwise is not None
            return Answer(z3.IntVal(rank(word.otherwise)))
        first = self._named(word.starts_from, word.subject)
        start, value = self.answer(first, word.subject), z3.IntVal(0)
        for place, choice in enumerate(first.choices):
            value = z3.If(z3.And(start.told, start.value == place), rank(choice), value)
        return Answer(value, start.applies, start.told)


def _told(compared: Formula, sides: list[Answer], wanted: bool) -> Formula:
    """A clause: false where a side does not apply, else open where one is not known."""
    whole = joined(compared, *sides)
    if wanted:
        return z3.And(whole.applies, whole.told, compared)
    return z3.Or(z3.Not(whole.applies), z3.And(whole.told, z3.Not(compared)))


def _may_stay_open(condition: Condition) -> bool:
    """Whether a table may leave a condition open although everything is answered."""
    return any(
        any(word.origin is Origin.CONCLUDED for word in clause.words)
        or (isinstance(clause, Reckoning) and looks_up(clause.left, clause.right))
        for clause in comparisons(condition)
    )
