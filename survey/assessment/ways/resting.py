"""What a judgement rests on: answers of which one at least has to change before it can.

The direct evaluator's reasons tell what made a rule met or left it open, for people. Here it is
asked the other way round: which answers keep a rule from being anything else? Of an "and" that does
not hold one part is enough, of one that does every part is needed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from survey.engineering.working import Input
from survey.facts import Thing
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.round import Near
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
    Rule,
)
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, NOT_KNOWN, SCOPES, Subject, Word

Answer = tuple[str, str]  # name of the question, and label of its row
Answers = frozenset[Answer]
_NONE: Answers = frozenset()
# A figure names the answers that it was worked out from. A pit that is no deeper than its footing
# opens none of it, however its sides are held: then these are enough, and one that names how the
# sides are held does not name them.
_MADE_IDLE_BY = {"side protection": ("pit depth", "footing depth")}
_RANK = {Truth.FALSE: 0, Truth.UNKNOWN: 1, Truth.TRUE: 2}
_CERTAIN, _POSSIBLE, _IMPOSSIBLE = 2, 1, 0


class Resting:
    """Tells what the truths of one evaluator rest on.

    Args:
        evaluator: judged the site.
        touchable: the answers that may be changed and change an answer if they are.
    """

    def __init__(
        self, evaluator: DirectEvaluator, touchable: Callable[[str, str], Answers]
    ) -> None:
        self._evaluator, self._touchable = evaluator, touchable
        self._words: dict[tuple[str, int], Answers] = {}

    def not_denied(self, rule: Rule, thing: Thing) -> Answers:
        """Why a rule is met or can't be told, and not told to be wrong."""
        return self.least(rule.condition, thing, _POSSIBLE) | self._existence(thing)

    def not_met(self, rule: Rule, thing: Thing) -> Answers:
        """Why a rule is not met for certain."""
        if not thing.listed:
            return self._existence(thing)
        return self.most(rule.condition, thing, _POSSIBLE)

    def every(self, condition: Condition, thing: Thing) -> Answers:
        """All that a condition looks at."""
        match condition:
            case Comparison() | Reckoning():
                return self._union(self._word(word, thing) for word in condition.words)
            case Negation(part):
                return self.every(part, thing)
            case Every(parts) | Either(parts):
                return self._union(self.every(part, thing) for part in parts)
            case Count():
                return self._union(
                    self._membership(one)
                    | (_NONE if condition.where is None else self.every(condition.where, one.thing))
                    for one in self._evaluator.round(thing, condition.of)
                )

    def least(self, condition: Condition, thing: Thing, rank: int) -> Answers:
        """Why a condition is at least as true as it is said to be."""
        if rank == _IMPOSSIBLE:
            return _NONE
        match condition:
            case Comparison() | Reckoning():
                return self._union(self._word(word, thing) for word in condition.words)
            case Negation(part):
                return self.most(part, thing, _CERTAIN - rank)
            case Every(parts):
                return self._union(self.least(part, thing, rank) for part in parts)
            case Either(parts):
                return self._fewest(
                    self.least(part, thing, rank)
                    for part in parts
                    if self._rank(part, thing) >= rank
                )
            case Count():
                return self._count(condition, thing, rank, least=True)

    def most(self, condition: Condition, thing: Thing, rank: int) -> Answers:
        """Why a condition is at most as true as it is said to be."""
        if rank == _CERTAIN:
            return _NONE
        match condition:
            case Comparison() | Reckoning():
                return self._union(self._word(word, thing) for word in condition.words)
            case Negation(part):
                return self.least(part, thing, _CERTAIN - rank)
            case Either(parts):
                return self._union(self.most(part, thing, rank) for part in parts)
            case Every(parts):
                return self._fewest(
                    self.most(part, thing, rank)
                    for part in parts
                    if self._rank(part, thing) <= rank
                )
            case Count():
                return self._count(condition, thing, rank, least=False)

    def _rank(self, condition: Condition, thing: Thing) -> int:
        return _RANK[self._evaluator.holds(condition, thing)]

    @staticmethod
    def _union(parts: Iterable[Answers]) -> Answers:
        return _NONE.union(*parts)

    @staticmethod
    def _fewest(parts: Iterable[Answers]) -> Answers:
        return min(parts, key=lambda part: (len(part), sorted(part)))

    # Counts: that enough things count, or that too few do

    def _count(self, count: Count, thing: Thing, rank: int, *, least: bool) -> Answers:
        match count.operator:
            case Operator.AT_LEAST:
                enough, positive = count.number, True
            case Operator.MORE_THAN:
                enough, positive = count.number + 1, True
            case Operator.LESS_THAN:
                enough, positive = count.number, False
            case Operator.AT_MOST:
                enough, positive = count.number + 1, False
            case Operator.IS:
                return self.every(count, thing)
        if not positive:
            rank, least = _CERTAIN - rank, not least
        near = [(one, self._counts(count, one)) for one in self._evaluator.round(thing, count.of)]
        if least:
            return self._enough(count, near, rank, enough)
        return self._union(
            self._why_not(count, one, rank) for one, counts in near if counts <= rank
        )

    def _enough(
        self, count: Count, near: list[tuple[Near, int]], rank: int, enough: int
    ) -> Answers:
        """Why so many count: the fewest answers that keep enough of them counting."""
        if enough <= 0:
            return _NONE
        kept = sorted(
            (
                (one.thing.listed, self._why(count, one, rank))
                for one, counts in near
                if counts >= rank
            ),
            key=lambda pair: (len(pair[1]), sorted(pair[1])),
        )
        # What an open list left out may count any number of times.
        for listed, answers in kept:
            if not listed and len(answers) <= sum(len(part) for _, part in kept[:enough]):
                return answers
        if len(kept) < enough:
            return next(answers for listed, answers in kept if not listed)
        return self._union(answers for _, answers in kept[:enough])

    def _counts(self, count: Count, near: Near) -> int:
        inside = _CERTAIN if count.where is None else self._rank(count.where, near.thing)
        sure = near.surely and near.thing.listed
        return inside if sure else min(inside, _POSSIBLE)

    def _why(self, count: Count, near: Near, rank: int) -> Answers:
        inside = _NONE if count.where is None else self.least(count.where, near.thing, rank)
        return inside | self._membership(near)

    def _why_not(self, count: Count, near: Near, rank: int) -> Answers:
        inside = _CERTAIN if count.where is None else self._rank(count.where, near.thing)
        if inside <= rank:
            assert count.where is not None, "what counts without a condition counts for certain"
            return self.most(count.where, near.thing, rank)
        return self._membership(near)  # it would count, if it were sure to be there

    def _membership(self, near: Near) -> Answers:
        """The answers that tell whether a thing is there to be counted."""
        if not near.thing.listed:
            return self._existence(near.thing)
        if not near.surely:
            return self._touchable("wall of pier", near.thing.part(Subject.PIER).label)
        return _NONE

    def _existence(self, thing: Thing) -> Answers:
        if thing.listed:
            return _NONE
        subject = next(s for s in SCOPES[thing.subject] if s in CLOSED_BY)
        return self._touchable(CLOSED_BY[subject], "site")

    # Words

    def _word(self, word: Word, thing: Thing) -> Answers:
        part, itself = thing.part(word.subject), word.itself
        key = itself.name, id(part)
        if key not in self._words:
            fact = part.facts.get(itself.name)
            self._words[key] = (
                self._concluded(itself, part) if fact is None else self._inputs(fact.inputs)
            )
        return self._words[key]

    def _inputs(self, inputs: Iterable[Input]) -> Answers:
        listed = list(inputs)
        also = (
            self._touchable(word, given.label)
            for given in listed
            if len(listed) > 1  # a figure, and not the answer itself
            for word in _MADE_IDLE_BY.get(given.word, ())
        )
        return self._union((*(self._touchable(i.word, i.label) for i in listed), *also))

    def _concluded(self, word: Word, thing: Thing) -> Answers:
        """Why a word is as it is: a rule that makes it so, and none that makes it worse."""
        evaluator, rank = self._evaluator, word.choices.index
        start = _NONE
        if word.starts_from is not None:
            start = self._inputs(thing.facts[word.starts_from].inputs)
        value = evaluator.concluded(word, thing).value
        if value is DOES_NOT_APPLY:
            return start
        rules = evaluator.rules_for(word)
        if value is NOT_KNOWN or not thing.listed:
            return start | self._union(self.every(rule.condition, thing) for rule in rules) | (
                self._existence(thing)
            )  # fmt: skip
        floor = rank(str(value))
        worse, alike = [], []
        for rule in rules:
            assert isinstance(rule.then, Conclusion)
            if rank(rule.then.choice) > floor:
                worse.append(self.most(rule.condition, thing, _IMPOSSIBLE))
            elif rank(rule.then.choice) == floor and evaluator.truth(rule, thing) is Truth.TRUE:
                alike.append(self.least(rule.condition, thing, _CERTAIN))
        started = thing.facts[word.starts_from].value if word.starts_from else word.otherwise
        because = _NONE if started == value or not alike else self._fewest(alike)
        return self._union([start, because, *worse])
