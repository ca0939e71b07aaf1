"""Asks the solver what may be wrong with each rule of a book; see the module ``doubts``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations

from survey.facts import FactValue, shown
from survey.rulebook.cases import Case, outcome_of
from survey.rulebook.messages import Span
from survey.rulebook.rules import (
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Lift,
    Negation,
    Outcome,
    ReleaseBy,
    Rule,
    RuleBook,
    clauses,
)
from survey.rulebook.study.doubts import Doubt, Doubtful, Doubts
from survey.rulebook.study.formulas import Formulas
from survey.rulebook.study.solver import Solver
from survey.rulebook.study.wording import Wording, put_in_words
from survey.vocabulary import Subject, Word

_Path = tuple[int, ...]


class Doubter:
    """Goes through one book."""

    def __init__(self, book: RuleBook) -> None:
        """Translate every rule; nothing is asked yet."""
        self._book, self._solver = book, Solver()
        self._answered = Formulas(book, complete=True)
        self._open = Formulas(book, complete=False)
        self._meant = {
            rule.code: self._answered.meaning(rule.condition, rule.subject) for rule in book
        }

    def _words(self, condition: Condition, subject: Subject) -> str:
        return _in_line(put_in_words(condition, subject, self._book))

    def all(self) -> Doubts:
        """Every doubt of the book; of a rule that is never met nothing else is said."""
        never = [rule for rule in self._book if self._solver.never(self._meant[rule.code])]
        found = [Doubt(Doubtful.DEAD, (rule,), f"{rule.code} can never be met") for rule in never]
        alive = [rule for rule in self._book if rule not in never]
        for rule in alive:
            found.extend((*self._dead_count(rule), *self._dead_lift(rule), *self._idle(rule)))
        for one, other in combinations(alive, 2):
            if one.subject is other.subject and _alike(one, other):
                found.extend((*self._compared(one, other), *self._both_count(one, other)))
        order = list(Doubtful)
        found.sort(key=lambda doubt: order.index(doubt.kind))
        return Doubts(tuple(found), self._solver.asked, self._solver.undecided)

    def _dead_count(self, rule: Rule) -> Iterator[Doubt]:
        for where, of in _looked_for(rule):
            if self._solver.never(self._answered.meaning(where, of)):
                what = f"{rule.code}: no {of.value} can ever be such that {self._words(where, of)}"
                yield Doubt(Doubtful.DEAD, (rule,), what)

    def _dead_lift(self, rule: Rule) -> Iterator[Doubt]:
        finding = rule.then.finding if isinstance(rule.then, Lift) else None
        for other in (other for other in self._book if other.code == finding):
            if self._solver.never(self._meant[rule.code], self._meant[other.code]):
                what = f"{rule.code} is never met where {other.code} is, which it would lift"
                yield Doubt(Doubtful.DEAD, (rule, other), what)

    def _idle(self, rule: Rule) -> Iterator[Doubt]:
        for condition, subject in ((rule.condition, rule.subject), *_looked_for(rule)):
            for part, rest in self._idle_parts(condition, subject):
                kind, how = Doubtful.IDLE, "never matters"
                if part is condition:
                    how = "always holds"
                elif not self._idle_while_open(condition, rest, subject):
                    kind, how = (
                        Doubtful.IDLE_ONCE_ANSWERED,
                        "matters only while answers are missing",
                    )
                what = f"{rule.code}: '{self._words(part, subject)}' {how}"
                yield Doubt(kind, (rule,), what)

    def _idle_parts(
        self, condition: Condition, subject: Subject
    ) -> Iterator[tuple[Condition, Condition]]:
        """The largest parts that change nothing, with the condition without each."""
        whole, idle = self._answered.meaning(condition, subject), list[_Path]()
        for path, part, rest in ((), condition, Every(())), *_parts(condition):
            inside = any(path[: len(outer)] == outer for outer in idle)
            if not inside and self._solver.same(whole, self._answered.meaning(rest, subject)):
                idle.append(path)
                yield part, rest

    def _idle_while_open(self, condition: Condition, rest: Condition, subject: Subject) -> bool:
        """Whether the rest tells all that the condition tells, whatever answers are missing."""
        return self._solver.settles_no_more(
            self._open.meaning(condition, subject), self._open.meaning(rest, subject)
        )

    def _compared(self, one: Rule, other: Rule) -> Iterator[Doubt]:
        mild, worse = sorted((one, other), key=_rank)
        first, second = self._meant[mild.code], self._meant[worse.code]
        if not first.touches(second):
            return
        forth = self._solver.implies(first, second)
        # That a worse rule implies a milder one tells something only if they are the same.
        back = (forth or _rank(mild) == _rank(worse)) and self._solver.implies(second, first)
        if forth and back:
            what = f"{one.code} and {other.code} ({other.place}) are always met together"
            yield Doubt(Doubtful.SAME, (one, other), what)
        elif forth:
            yield from _outdone(mild, worse)
        elif back:
            yield from _outdone(worse, mild)

    def _both_count(self, one: Rule, other: Rule) -> Iterator[Doubt]:
        match one.then, other.then:
            case Conclusion(word, choice), Conclusion(_, another) if choice != another:
                answers = self._solver.together(self._meant[one.code], self._meant[other.code])
                if answers is None:
                    return
                if not all(self._gives(rule, answers) for rule in (one, other)):
                    self._solver.undecided += 1  # an example that can't be shown is none
                    return
                worse = max(choice, another, key=word.choices.index)
                what = (
                    f"{one.code} and {other.code} ({other.place}) can both be met: "
                    f"'{choice}' and '{another}' for {word.name}; {worse} counts"
                )
                example = ", ".join(f"{w.name} {shown(w, value)}" for w, value in answers.items())
                yield Doubt(Doubtful.BOTH_COUNT, (one, other), what, example)

    def _gives(self, rule: Rule, answers: Mapping[Word, FactValue]) -> bool:
        """Whether a rule that concludes gives its choice for these answers."""
        assert isinstance(rule.then, Conclusion)
        file, _, line = rule.place.rpartition(":")
        span, words = Span(file, int(line), 1, 1, ""), self._book.vocabulary
        case = Case(rule, answers, rule.then.choice, span, vocabulary=words)
        return outcome_of(case) == rule.then.choice


def _in_line(wording: Wording) -> str:
    parts = ", ".join(_in_line(part) for part in wording.parts)
    return f"{wording.text} ({parts})" if parts else wording.text


def _parts(condition: Condition) -> Iterator[tuple[_Path, Condition, Condition]]:
    """Every part of a condition: where it stands, itself, and the condition without it."""
    match condition:
        case Negation(inner):
            for path, part, rest in _parts(inner):
                yield (0, *path), part, Negation(rest)
        case Every(parts) | Either(parts):
            for i, one in enumerate(parts):
                before, after = parts[:i], parts[i + 1 :]
                yield (i,), one, replace(condition, parts=(*before, *after))
                for path, part, rest in _parts(one):
                    yield (i, *path), part, replace(condition, parts=(*before, rest, *after))


def _looked_for(rule: Rule) -> Iterator[tuple[Condition, Subject]]:
    """What the counts of a rule look for, and at what."""
    for clause in dict.fromkeys(clauses(rule.condition)):
        if isinstance(clause, Count) and clause.where is not None:
            yield clause.where, clause.of


def _alike(one: Rule, other: Rule) -> bool:
    """Whether two rules do the same sort of thing, so that one of them may be needless."""
    match one.then, other.then:
        case Outcome(), Outcome():
            return True
        case Conclusion(word, _), Conclusion(same, _):
            return word == same
        case Lift() as lift, Lift() as twin:
            return lift.finding == twin.finding
    return False


def _rank(rule: Rule) -> int:
    """How bad what a rule does to the verdict is, among rules that do the same sort of thing."""
    return rule.then.rank if isinstance(rule.then, Outcome) else 0


def _outdone(rule: Rule, by: Rule) -> Iterator[Doubt]:
    """That a rule is met only where one that is at least as bad is met."""
    if isinstance(by.then, Outcome):
        unless = "" if by.release is ReleaseBy.NOBODY else f" unless {by.code} is released"
        what = (
            f"wherever {rule.code} is met, so is {by.code} ({by.place}), which gives "
            f"{by.then.value}: {rule.code} never decides the verdict{unless}"
        )
        yield Doubt(Doubtful.OUTDONE, (rule, by), what)
