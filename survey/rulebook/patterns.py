"""Patterns of durable-rules: what each rule becomes, and how rules are bundled into rule sets.

Each rule becomes two productions: one that fires where the rule is met, one that fires where it
is met or can't be told, in which every clause is widened by "or the answer is missing".
"""

from __future__ import annotations

import functools
import math
import operator
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from survey.rulebook.rules import (
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Negation,
    Operator,
    Reckoning,
    RuleBook,
    clauses,
)
from survey.vocabulary import SCOPES, Subject, Word

_WAYS_A_SET, _WAYS_A_PATTERN = 60, 12
_WORDS_A_SET, _PARTS_A_SET = 80, 50  # each word gives two or three properties, each part one
_COMPARISONS_A_SET = 480  # 512 may start a set's patterns (error 106)
_LARGEST_PATTERN = 28
ALWAYS = {"present": 1}
PART, COUNT, _RECKONED = "part_", "count_", "reckoned_"
_STATE = ":state"
VALUE, UNKNOWN, WITHIN, NO_MATTER = "value", "unknown", "within", "none"
_OPERATORS = {
    Operator.AT_LEAST: ("$gte", "$lt"),
    Operator.MORE_THAN: ("$gt", "$lte"),
    Operator.AT_MOST: ("$lte", "$gt"),
    Operator.LESS_THAN: ("$lt", "$gte"),
}

Pattern = dict[str, Any]


@dataclass(frozen=True)
class Looked:
    """What productions look at.

    Args:
        words: answers and conclusions.
        paired: those of them that are compared with another word.
        counts: how many things round the judged one are met, by name.
        reckonings: what is reckoned, by name.
    """

    words: frozenset[Word] = frozenset()
    paired: frozenset[Word] = frozenset()
    counts: frozenset[tuple[str, Count]] = frozenset()
    reckonings: frozenset[tuple[str, Reckoning]] = frozenset()

    def __or__(self, other: Looked) -> Looked:
        return Looked(
            self.words | other.words,
            self.paired | other.paired,
            self.counts | other.counts,
            self.reckonings | other.reckonings,
        )

    def within(self, pattern: Pattern) -> Looked:
        """What of it a pattern looks at."""
        names = set(_properties(pattern))
        words = frozenset(
            word
            for word in self.words
            if not names.isdisjoint((state_of(word), value_of(word), least_of(word), most_of(word)))
        )
        return Looked(
            words,
            self.paired & words,
            frozenset(one for one in self.counts if not names.isdisjoint(ends_of(one[0]))),
            frozenset(one for one in self.reckonings if one[0] in names),
        )

    @property
    def size(self) -> int:
        """Properties of a fact, in pairs."""
        return len(self.words) + len(self.counts) + len(self.reckonings)


@dataclass(frozen=True)
class Production:
    """A pattern and what its firing means.

    Args:
        name: rule code, or the name of a count or of a part of a large condition.
        certain: whether it fires only where its condition holds for certain.
        pattern: as durable-rules reads it.
        looked: what it looks at.
        stage: order within the level: after the parts that it looks at.
    """

    name: str
    certain: bool
    pattern: Pattern
    looked: Looked
    stage: int


class Asked(NamedTuple):
    """A word that a rule set looks at, with its properties in a fact.

    Args:
        subject, name: what the word is said of, and the name under which facts are kept.
        bounded: whether it may have bounds.
        state, value, least, most: names of the properties.
        paired: whether it is compared with another word: only then does a pattern look whether
            it has a value.
    """

    subject: Subject
    name: str
    bounded: bool
    state: str
    value: str
    least: str
    most: str
    paired: bool


@dataclass(frozen=True)
class RuleSet:
    """One rule set: the productions of one subject, level and stage, as many as may be."""

    name: str
    subject: Subject
    level: int
    productions: tuple[Production, ...]

    @functools.cached_property
    def looked(self) -> Looked:
        """What its productions look at."""
        return functools.reduce(operator.or_, (one.looked for one in self.productions))

    @functools.cached_property
    def asked(self) -> tuple[Asked, ...]:
        """The words that its productions look at, with their properties."""
        paired = self.looked.paired
        return tuple(
            Asked(
                word.subject, word.itself.name, word.bounded,
                state_of(word), value_of(word), least_of(word), most_of(word), word in paired,
            )
            for word in self.looked.words
        )  # fmt: skip

    @functools.cached_property
    def parts(self) -> frozenset[str]:
        """The parts of conditions, judged before, that its productions look at."""
        return frozenset(part for one in self.productions for part in _parts(one.pattern))


def split(book: RuleBook) -> Iterable[RuleSet]:
    """The rule sets of a book, in the order in which they run."""
    for level, rules in enumerate(book.levels):
        counts: dict[Count, str] = {}
        judged = [
            (subject, _Translator(f"{level}_{subject.name.lower()}", counts)) for subject in SCOPES
        ]
        for subject, translator in judged:
            for rule in rules:
                if rule.subject is subject:
                    translator.translate(rule.code, rule.condition)
        looked_at = [
            (subject, _Translator(f"{level}_round_{subject.name.lower()}", {}))
            for subject in SCOPES
        ]
        for subject, translator in looked_at:
            for count, name in counts.items():
                if count.of is subject and count.where is not None:
                    translator.translate(name, count.where)
        for subject, translator in (*looked_at, *judged):
            ordered = sorted(translator.productions, key=lambda one: one.stage)
            for number, some in enumerate(_bundles(ordered)):
                yield RuleSet(f"{translator.name}_{number}", subject, level, some)


def _bundles(productions: Iterable[Production]) -> Iterable[tuple[Production, ...]]:
    """Bundle productions of one stage, within the limits of a set."""
    bundle: list[Production] = []
    looked, compared, ways, parts = Looked(), 0, 0, 0
    for one in productions:
        more = _compared(one.pattern)
        ways_more, parts_more = _ways(one.pattern), len(set(_parts(one.pattern)))
        full = (
            ways + ways_more > _WAYS_A_SET
            or compared + more > _COMPARISONS_A_SET
            or parts + parts_more > _PARTS_A_SET
            or (looked | one.looked).size > _WORDS_A_SET
        )
        if bundle and (full or one.stage != bundle[0].stage):
            yield tuple(bundle)
            bundle, looked, compared, ways, parts = [], Looked(), 0, 0, 0
        bundle.append(one)
        looked |= one.looked
        compared += more
        ways += ways_more
        parts += parts_more
    if bundle:
        yield tuple(bundle)


def _compared(pattern: Pattern) -> int:
    """The comparisons in a pattern."""
    inner = [one for value in pattern.values() if isinstance(value, list) for one in value]
    return sum(map(_compared, inner)) if inner else 1


def value_of(word: Word) -> str:
    """The property that holds the value of a word; no other name has a colon in it."""
    return f"{word.key}:value"


def least_of(word: Word) -> str:
    """The property that holds the least that a figure can be which is not known."""
    return f"{word.key}:least"


def most_of(word: Word) -> str:
    """The property that holds the most that it can be."""
    return f"{word.key}:most"


def state_of(word: Word) -> str:
    """The property that tells whether a word has a value."""
    return f"{word.key}{_STATE}"


class _Translator:
    """Turns conditions into patterns, and large parts of them into productions of their own.

    Negations are pushed inwards, so that only clauses are widened.

    Args:
        name: of the sets that will be made of its productions.
        counts: every count met so far, with its name; new ones are added.
    """

    def __init__(self, name: str, counts: dict[Count, str]) -> None:
        self.name = name
        self.productions: list[Production] = []
        self._counts = counts
        self._stages: dict[str, int] = {}
        self._reckonings: dict[Reckoning, str] = {}

    def translate(self, name: str, condition: Condition) -> None:
        """Add the two productions of a rule, or of what a count looks for."""
        for certain in (True, False):
            pattern = self._pattern(condition, wanted=True, certain=certain)
            self._add(name, certain, pattern, self._looked(condition))

    def _looked(self, condition: Condition) -> Looked:
        words: set[Word] = set()
        paired: set[Word] = set()
        counts: set[tuple[str, Count]] = set()
        reckonings: set[tuple[str, Reckoning]] = set()
        for clause in clauses(condition):
            match clause:
                case Comparison():
                    words.update(clause.words)
                    if isinstance(clause.operand, Word):
                        paired.update(clause.words)
                case Reckoning():
                    reckonings.add((self._reckonings[clause], clause))
                case Count():
                    counts.add((self._named(clause), clause))
        return Looked(frozenset(words), frozenset(paired), frozenset(counts), frozenset(reckonings))

    def _named(self, count: Count) -> str:
        """The name of a count; counts of the same things share it."""
        same = Count(count.of, count.where, Operator.AT_LEAST, 0, "")
        return self._counts.setdefault(same, f"{COUNT}{self.name}_{len(self._counts)}")

    def _add(self, name: str, certain: bool, pattern: Pattern, looked: Looked) -> None:
        stage = max((self._stages[part] + 1 for part in _parts(pattern)), default=0)
        self.productions.append(Production(name, certain, pattern, looked.within(pattern), stage))
        self._stages[name] = stage

    def _pattern(self, condition: Condition, *, wanted: bool, certain: bool) -> Pattern:
        """A pattern that matches where a condition is surely, or at least possibly, as wanted."""
        match condition:
            case Comparison():
                return _clause(condition, wanted=wanted, certain=certain)
            case Reckoning():
                name = self._reckonings.setdefault(
                    condition, f"{_RECKONED}{self.name}_{len(self._reckonings)}"
                )
                return _state_is(name, wanted=wanted, certain=certain)
            case Count():
                return _number_is(self._named(condition), condition, wanted, certain)
            case Negation(part):
                return self._pattern(part, wanted=not wanted, certain=certain)
            case Every(parts) | Either(parts):
                join = "$and" if isinstance(condition, Every) is wanted else "$or"
                patterns = [self._pattern(p, wanted=wanted, certain=certain) for p in parts]
                return self._join(join, patterns, self._looked(condition))

    def _join(self, join: str, patterns: list[Pattern], looked: Looked) -> Pattern:
        """Join patterns; if the whole would be too large, in bundles that are judged before."""
        flat: list[Pattern] = []
        for pattern in patterns:
            flat += [inner for inner in pattern.get(join, (pattern,)) if inner not in flat]
        if _fits(whole := _joined(join, flat)):
            return whole
        bundles: list[list[Pattern]] = [[]]
        for pattern in flat:
            if bundles[-1] and not _fits(_joined(join, [*bundles[-1], pattern])):
                bundles.append([])
            bundles[-1].append(pattern)
        parts = [self._judge_before(_joined(join, bundle), looked) for bundle in bundles]
        return self._join(join, parts, looked)

    def _judge_before(self, pattern: Pattern, looked: Looked) -> Pattern:
        name = f"{PART}{self.name}_{len(self.productions)}"
        self._add(name, True, pattern, looked)
        return {name: 1}


def _joined(join: str, patterns: list[Pattern]) -> Pattern:
    return patterns[0] if len(patterns) == 1 else {join: patterns}


def _fits(pattern: Pattern) -> bool:
    return _size(pattern) <= _LARGEST_PATTERN and _ways(pattern) <= _WAYS_A_PATTERN


def _ways(pattern: Pattern) -> int:
    """In how many ways at once a fact can match a pattern: durable-rules follows each of them."""
    if "$and" in pattern:
        return math.prod(map(_ways, pattern["$and"]))
    if "$or" not in pattern:
        return 1
    alternatives = pattern["$or"]
    return 1 if _exclude_each_other(alternatives) else sum(map(_ways, alternatives))


def _exclude_each_other(alternatives: list[Pattern]) -> bool:
    """Whether no fact matches two of them, which are values and states of one word."""
    named = [next(iter(one.items())) for one in alternatives]
    if any(isinstance(value, list) for _, value in named):
        return False
    properties = [next(iter(value)) if name.startswith("$") else name for name, value in named]
    values = [name for name in properties if not name.endswith(_STATE)]
    compared = any(name.startswith("$") for name, _ in named)
    words = {name.partition(":")[0] for name in properties}
    return len(words) == 1 and not (compared and len(values) > 1)


def _size(pattern: Pattern) -> int:
    """Joins, which count twice, and comparisons of two words, as durable-rules counts them."""
    size = 0
    for key, value in pattern.items():
        if isinstance(value, list):
            size += 2 + sum(_size(inner) for inner in value)
        elif key.startswith("$") and any(isinstance(right, dict) for right in value.values()):
            size += 1
    return size


def _parts(pattern: Pattern) -> Iterable[str]:
    """The names of the parts that a pattern looks at."""
    return (name for name in _properties(pattern) if name.startswith(PART))


def _properties(pattern: Pattern) -> Iterable[str]:
    """The properties that a pattern looks at."""
    for key, value in pattern.items():
        if isinstance(value, list):
            for inner in value:
                yield from _properties(inner)
        elif key.startswith("$"):
            yield from _properties(value)
        else:
            yield key
            if isinstance(value, dict):  # the property that it is compared with
                yield from value.values()


def ends_of(count: str) -> tuple[str, str]:
    """The properties that hold the fewest and the most that a count may come to."""
    return f"{count}_fewest", f"{count}_most"


def _state_is(name: str, *, wanted: bool, certain: bool) -> Pattern:
    """Whether what is reckoned is, or may be, as wanted."""
    if certain:
        return {name: "true" if wanted else "false"}
    return {"$neq": {name: "false" if wanted else "true"}}


def _number_is(name: str, count: Count, wanted: bool, certain: bool) -> Pattern:
    """Whether a number is, or may be, as wanted: by the fewest or by the most that are met."""
    sign = _OPERATORS[count.operator][0 if wanted else 1]
    rising = sign in ("$gte", "$gt")
    fewest, most = ends_of(name)
    return {sign: {fewest if rising is certain else most: count.number}}


def _clause(clause: Comparison, *, wanted: bool, certain: bool) -> Pattern:
    """A clause as a pattern; a comparison with a word that has no value must not match."""
    left, other = clause.word, clause.operand
    operand: Any = {"$m": value_of(other)} if isinstance(other, Word) else other
    compared: Pattern = {value_of(left): operand}
    if clause.operator is Operator.IS:
        matched = compared if wanted else {"$neq": compared}
    else:
        matched = {_OPERATORS[clause.operator][0 if wanted else 1]: compared}
    if isinstance(other, Word):
        # Where the second word is absent, durable-rules compares with a fact asserted before.
        present = [{state_of(word): VALUE} for word in clause.words]
        matched = {"$and": [*present, matched]}
    patterns = [matched]
    if not wanted:  # a clause about what does not apply is false
        patterns += [{state_of(word): NO_MATTER} for word in clause.words]
    if left.bounded and not isinstance(other, Word):
        patterns += _bounded(clause, wanted=wanted, certain=certain)
    if not certain:
        patterns += _widened(clause)
    return {"$or": patterns} if len(patterns) > 1 else patterns[0]


def _bounded(clause: Comparison, *, wanted: bool, certain: bool) -> list[Pattern]:
    """Where a figure that is not known is, or may be, as wanted by its bounds alone."""
    sign = _OPERATORS[clause.operator][0 if wanted else 1]
    rising = sign in ("$gte", "$gt")
    end = least_of if rising is certain else most_of
    return [{sign: {end(clause.word): clause.operand}}]


def _widened(clause: Comparison) -> list[Pattern]:
    """Where an answer is missing and the other side, if it is a word, may still matter."""
    if not isinstance(clause.operand, Word):
        return [{state_of(clause.word): UNKNOWN}]
    left, right = clause.word, clause.operand
    return [
        {"$and": [{state_of(one): state}, {"$neq": {state_of(other): NO_MATTER}}]}
        for one, other in ((left, right), (right, left))
        for state in ((UNKNOWN, WITHIN) if one.bounded else (UNKNOWN,))
    ]
