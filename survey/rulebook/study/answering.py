"""Answers that just meet a set of clauses: found by trying, judged by the direct evaluator.

For each clause the answer nearest to where it turns over is sought: the figure that a word is
compared with, or a little beyond it; the first choice that fits; as few things round it as count.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain, islice, pairwise, product

from survey.rulebook.cases import Around, Case, Settings, outcome_of, read_cases
from survey.rulebook.messages import Span
from survey.rulebook.rules import (
    Clause,
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Negation,
    Operator,
    Outcome,
    Reckoning,
    Rule,
    RuleBook,
)
from survey.rulebook.study.changes import little
from survey.vocabulary import CLOSED_BY, SCOPES, Kind, Subject, Word, steps

Way = tuple[Condition, ...]
# Counts that hold if they hold of the things that count in one way.
_ENOUGH = (Operator.AT_LEAST, Operator.MORE_THAN)
_MOST_WAYS = 100
_MOST_PICKS = 50
_MOST_THINGS = 20
# An answer of each kind that is met with on site, in the canonical unit.
_USUAL: Mapping[Kind, float] = {
    Kind.LENGTH: 48, Kind.FORCE: 10_000, Kind.LINE_LOAD: 2000, Kind.PRESSURE: 2000, Kind.SLOPE: 1,
    Kind.SHARE: 50, Kind.ANGLE: 45, Kind.DAYS: 10, Kind.COUNT: 2,
    Kind.DURATION: 60, Kind.AREA: 50, Kind.VOLUME: 100, Kind.FLOW: 10, Kind.POWER: 5,
    Kind.VOLTAGE: 10, Kind.RESISTIVITY: 3000, Kind.ACIDITY: 7, Kind.CONCENTRATION: 100,
}  # fmt: skip
_A_DAY = dt.date(2026, 6, 1).toordinal()
_DAYS_LATER = (-100, -30, -10, -3, 0, 3, 10, 30, 100)
_TIMES = (0, 0.1, 0.3, 0.6, 1, 1.5, 2, 3, 6, 10, 30, 100)


def ways(condition: Condition, *, wanted: bool = True) -> Iterator[Way]:
    """The sets of clauses, each as it is or negated, that make a condition hold, or not hold."""
    match condition:
        case Negation(part):
            yield from ways(part, wanted=not wanted)
        case Every(parts) | Either(parts) if isinstance(condition, Every) is wanted:
            yield from _together(parts, wanted=wanted)
        case Every(parts) | Either(parts):
            for part in parts:
                yield from ways(part, wanted=wanted)
        case Count(_, Every() | Either() as where, op) if wanted and op in _ENOUGH:
            for way in ways(where):
                yield (replace(condition, where=Every(way)),)
        case clause:
            yield (clause if wanted else Negation(clause),)


def _together(parts: tuple[Condition, ...], *, wanted: bool) -> Iterator[Way]:
    """A way of each part, all together; those in which a part's way is new come first."""
    each = [list(islice(ways(part, wanted=wanted), _MOST_WAYS)) for part in parts]
    first = [tuple(i % len(one) for one in each) for i in range(max(map(len, each)))]
    rest = (places for places in product(*map(range, map(len, each))) if places not in first)
    for places in chain(first, rest):
        joined = (part for one, place in zip(each, places, strict=True) for part in one[place])
        yield tuple(dict.fromkeys(joined))


class Answering:
    """Finds answers for the clauses of one rule."""

    def __init__(self, rule: Rule, book: RuleBook) -> None:
        """Keep the rule, and the figures in its own cases as usual ones."""
        self._rule, self._vocabulary = rule, book.vocabulary
        self._outer = frozenset(book.vocabulary.scope(rule.subject).values())
        file, _, line = rule.place.rpartition(":")
        self._span = Span(file, int(line), 1, 1, "")
        self.cases = read_cases(replace(book, levels=((rule,),)))[0]
        self._usual: dict[Word, int] = {}
        for case in self.cases:
            for settings in (case.settings, *(one.settings for one in case.around)):
                for word, value in settings.items():
                    if isinstance(value, int):
                        self._usual.setdefault(word, value)

    def answers(self, way: Way) -> Case | None:
        """A case of the rule in which every clause of a way holds; none if none was found."""
        counts = [part for part in way if isinstance(_clause(part), Count)]
        settings = self._settle([part for part in way if part not in counts], self._rule.subject)
        case = None if settings is None else self._case(settings)
        for part in counts:
            if case is not None:
                case = self._look_round(part, case)
        return case if case is not None and self._holds(Every(way), case) else None

    def _case(self, settings: Settings) -> Case:
        return Case(self._rule, settings, "", self._span, (), self._vocabulary)

    def _holds(self, condition: Condition, case: Case, subject: Subject | None = None) -> bool:
        """Whether a condition is met for certain, for the rule's subject if no other is given."""
        rule = replace(self._rule, condition=condition, then=Outcome.STOP)
        if subject is not None:
            rule = replace(rule, subject=subject)
        return outcome_of(replace(case, rule=rule)) == Outcome.STOP.value

    # Answers of one thing

    def _settle(
        self, parts: Sequence[Condition], subject: Subject, given: Settings | None = None
    ) -> Settings | None:
        """The given answers, and one for each other word of the clauses, so that all hold."""
        found: Settings | None = dict(given or {})
        plain: dict[Word, list[Condition]] = {}
        linked: list[Condition] = []
        for part in parts:
            clause = _clause(part)
            if isinstance(clause, Comparison) and not isinstance(clause.operand, Word):
                plain.setdefault(clause.word, []).append(part)
            else:
                linked.append(part)
        for word, own in plain.items():
            if found is not None and word not in found:
                found = self._meet_alone(word, Every(tuple(own)), found, subject)
        for part in linked:
            if found is not None:
                found = self._meet(part, found, subject)
        if found is None or not self._holds(Every(tuple(parts)), self._case(found), subject):
            return None
        return found

    def _meet_alone(
        self, word: Word, condition: Every, found: Settings, subject: Subject
    ) -> Settings | None:
        """An answer to a word that is compared with figures and choices."""
        for value in word.choices or _candidates(word, condition):
            if self._holds(condition, self._case({word: value}), subject):
                return {**found, word: value}
        return None

    def _meet(self, part: Condition, found: Settings, subject: Subject) -> Settings | None:
        """Answers to the open words of a clause in which words stand against each other."""
        clause = _clause(part)
        assert not isinstance(clause, Count)
        words = [word for word in clause.words if word not in found]
        picked = [word for word in words if word.choices]
        figures = [word for word in words if not word.choices]
        for picks in islice(product(*(word.choices for word in picked)), _MOST_PICKS):
            usual = {word: self._usual_of(word) for word in figures}
            tried = {**found, **dict(zip(picked, picks, strict=True)), **usual}
            if not figures and self._holds(part, self._case(tried), subject):
                return tried
            for word in figures:
                value = self._edge(part, word, tried, subject)
                if value is not None:
                    return {**tried, word: value}
        return None

    def _edge(self, part: Condition, word: Word, found: Settings, subject: Subject) -> int | None:
        """The figure nearest to where a clause turns over for which it holds, a round one."""

        def holds(value: int) -> bool:
            return self._holds(part, self._case({**found, word: value}), subject)

        usual = self._usual_of(word)
        turns = [
            pair for pair in pairwise(_spread(word, usual)) if holds(pair[0]) != holds(pair[1])
        ]
        if not turns:
            return usual if holds(usual) else None
        one, other = min(turns, key=lambda pair: min(abs(end - usual) for end in pair))
        no, yes = (one, other) if holds(other) else (other, one)
        while abs(no - yes) > 1:
            middle = (no + yes) // 2
            no, yes = (no, middle) if holds(middle) else (middle, yes)
        step = little(word.kind, yes)
        rounded = yes + -yes % step if yes > no else yes - yes % step
        return rounded if holds(rounded) else yes

    def _usual_of(self, word: Word) -> int:
        if word in self._usual:
            return self._usual[word]
        if word.kind is Kind.DATE:
            return _A_DAY
        return _clipped(word, steps(word.kind, _USUAL[word.kind]))

    # What lies round it

    def _look_round(self, part: Condition, case: Case) -> Case | None:
        """The case with as many things set round it as make a count hold."""
        count = _clause(part)
        assert isinstance(count, Count)
        closed = self._closed(case, count)
        for tried in (case, closed):
            if case.around and self._holds(part, tried):
                return tried
        for number in (count.number, count.number + 1, count.number - 1):
            if 0 <= number <= _MOST_THINGS:
                # Where nothing may count, a thing that does not count shows what is looked at.
                thing = self._thing(count, case, wanted=number > 0)
                around = () if thing is None else (thing[1],) * max(1, number)
                outer = {} if thing is None else thing[0]
                for one in (case, closed):
                    settings = {**one.settings, **outer}
                    tried = replace(one, settings=settings, around=(*case.around, *around))
                    if self._holds(part, tried):
                        return tried
        return None

    def _closed(self, case: Case, count: Count) -> Case:
        """The case with the list behind a count said to be complete."""
        closing = {
            self._vocabulary[name]: "yes"
            for subject, name in CLOSED_BY.items()
            if subject in SCOPES[count.of]
        }
        return replace(case, settings={**case.settings, **closing})

    def _thing(self, count: Count, case: Case, *, wanted: bool) -> tuple[Settings, Around] | None:
        """A thing that counts, or one that does not, with answers of what it stands at."""
        if count.where is None:
            return ({}, Around(count.of, self._anything(count.of))) if wanted else None
        for way in ways(count.where, wanted=wanted):
            found = self._settle(way, count.of, case.settings)
            if found is not None:
                outer = {word: value for word, value in found.items() if word in self._outer}
                inner = {word: value for word, value in found.items() if word not in self._outer}
                return outer, Around(count.of, inner)
        return None

    def _anything(self, subject: Subject) -> Settings:
        """Some answer of a thing of which none is asked, since a case can't name it bare."""
        words = self._vocabulary.scope(subject).values()
        word = next(word for word in words if word.choices and word not in self._outer)
        return {word: word.choices[0]}


def _clause(part: Condition) -> Clause:
    clause = part.part if isinstance(part, Negation) else part
    assert isinstance(clause, Comparison | Reckoning | Count)
    return clause


def _candidates(word: Word, condition: Every) -> Iterator[int]:
    """The figures that a word is compared with, those a little beside them, the very next ones."""
    figures = [clause.operand for clause in map(_clause, condition.parts)
               if isinstance(clause, Comparison) and isinstance(clause.operand, int)]  # fmt: skip
    yield from figures
    for figure in figures:
        yield from (figure + little(word.kind, figure), figure - little(word.kind, figure))
    for figure in figures:
        yield from (figure + 1, figure - 1)


def _spread(word: Word, usual: int) -> list[int]:
    """Answers all over the plausible range of a word, from low to high."""
    if word.kind is Kind.DATE:
        return [usual + days for days in _DAYS_LATER]
    size = abs(usual) or steps(word.kind, _USUAL[word.kind])
    return sorted({_clipped(word, round(size * times)) for times in _TIMES})


def _clipped(word: Word, figure: int) -> int:
    """The figure in the plausible range of a word that is nearest to another."""
    if word.low is not None:
        figure = max(figure, steps(word.kind, word.low))
    if word.high is not None:
        figure = min(figure, steps(word.kind, word.high))
    return figure
