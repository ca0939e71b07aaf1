"""The second evaluator: the same rules on durable-rules, a forward-chaining production system.

Each rule becomes two productions: one that fires where the rule is met, one that fires where it
is met or can't be told, in which every clause is widened by "or the answer is missing".
Conclusions are asserted back level by level.

What was measured of durable-rules 2.0.28, or read in its source, and is allowed for here:

- a fact that fires more than 64 productions of one set fails (error 303): sets are split;
- a fact may have 255 properties: sets are split by the words they look at, too;
- a pattern may have 31 joins and comparisons of two words (error 113): parts of a larger one are
  productions of their own, run before it, and their outcome is asserted back;
- a fact that fires nothing is an error: one production of each set fires on every fact, which
  also proves that no fact was dropped;
- figures with an exponent are refused: facts are whole numbers;
- exceptions in actions are swallowed: actions only collect;
- sets are never freed: there is one evaluator a book, and states are deleted after use;
- background timers would race with the collecting: they are not started.
"""

from __future__ import annotations

import itertools
import sys
import threading
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Any

from survey.facts import Facts, FactValue, Thing
from survey.rulebook.judgement import Judgement, worst
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
    comparisons,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, SCOPES, VOCABULARY, Origin, Subject, Word

_PRODUCTIONS_A_SET = 60
_WORDS_A_SET = 100
_LARGEST_PATTERN = 28
_ALWAYS = {"present": 1}
_SEEN = "seen"
_PART = "part_"
_VALUE, _UNKNOWN, _NO_MATTER = "value", "unknown", "none"
_OPERATORS = {
    Operator.AT_LEAST: ("$gte", "$lt"),
    Operator.MORE_THAN: ("$gt", "$lte"),
    Operator.AT_MOST: ("$lte", "$gt"),
    Operator.LESS_THAN: ("$lt", "$gte"),
}
_sessions = itertools.count(1)
_lock = threading.Lock()

Pattern = dict[str, Any]


def expected() -> bool:
    """Whether durable-rules must be here: its extension does not load on 3.13 and later."""
    return sys.version_info < (3, 13)


def available() -> bool:
    """Whether durable-rules can be loaded."""
    return find_spec("durable_rules_engine") is not None and find_spec("durable") is not None


_evaluators: dict[str, ProductionEvaluator] = {}


def evaluator_for(book: RuleBook) -> ProductionEvaluator:
    """The one evaluator of a book in this process."""
    if book.fingerprint not in _evaluators:
        _evaluators[book.fingerprint] = ProductionEvaluator(book)
    return _evaluators[book.fingerprint]


@dataclass(frozen=True)
class _Production:
    """A pattern and what its firing means.

    Args:
        name: rule code, or the name of a part of a large condition.
        certain: whether it fires only where its condition holds for certain.
        pattern: as durable-rules reads it.
        words: the words it looks at.
        stage: order within the level: after the parts that it looks at.
    """

    name: str
    certain: bool
    pattern: Pattern
    words: frozenset[Word]
    stage: int


@dataclass(frozen=True)
class _Set:
    """One rule set: the productions of one subject, level and stage, as many as may be."""

    name: str
    subject: Subject
    level: int
    productions: tuple[_Production, ...]

    @property
    def words(self) -> frozenset[Word]:
        """The words that its productions look at."""
        return frozenset[Word]().union(*(one.words for one in self.productions))


@dataclass
class _Found:
    """What has fired so far on one site, and what was concluded from it."""

    met: set[tuple[str, str]] = field(default_factory=set)
    open: set[tuple[str, str]] = field(default_factory=set)
    concluded: dict[tuple[str, str], FactValue] = field(default_factory=dict)
    parts: dict[str, set[str]] = field(default_factory=dict)


class ProductionEvaluator:
    """Judges sites by one rule book; keep one for each book, its sets are never freed."""

    def __init__(self, book: RuleBook) -> None:
        """Translate the book and register its rule sets."""
        from durable.engine import Host

        class QuietHost(Host):  # type: ignore[misc, unused-ignore]
            """A host without timer threads: nothing here waits for time to pass."""

            def _run(self) -> None:
                pass

        self._book = book
        self._sets = tuple(_split(book))
        self._ready_at = _ready_at(book)
        self._fired: list[tuple[str, bool, str]] = []
        definitions = {one.name: self._define(one) for one in self._sets}
        self._host: Any = QuietHost(definitions)  # type: ignore[no-untyped-call, unused-ignore]

    def judge(self, facts: Facts) -> Judgement:
        """Assert the facts of a site, level by level, and collect what fires."""
        with _lock:  # the host collects into one list
            return self._judge(facts, f"site-{next(_sessions)}")

    def _judge(self, facts: Facts, session: str) -> Judgement:
        found = _Found()
        for level in range(len(self._book.levels) + 1):
            self._conclude(facts, level, found)
            for one in self._sets:
                if one.level == level:
                    self._run_set(one, facts, session, found)
        open_only = frozenset(found.open - found.met)
        return Judgement(frozenset(found.met), open_only, found.concluded)

    def _run_set(self, one: _Set, facts: Facts, session: str, found: _Found) -> None:
        things = list(facts.of(one.subject))
        if not things:
            return
        labels = {f"t{number}": thing for number, thing in enumerate(things)}
        messages = [
            {"sid": session, "id": key, **_message(thing, one.words, found)}
            for key, thing in labels.items()
        ]
        self._fired.clear()
        try:
            self._host.assert_facts(one.name, messages)
        finally:
            self._host.delete_state(one.name, session)
        seen = {key for code, _, key in self._fired if code == _SEEN}
        if seen != labels.keys():
            raise RuntimeError(f"{one.name}: {len(labels) - len(seen)} facts were not judged")
        for name, certain, key in self._fired:
            thing = labels[key]
            if name.startswith(_PART):
                found.parts.setdefault(thing.label, set()).add(name)
            elif name != _SEEN:
                # Of a thing that may not exist, nothing is certain.
                (found.met if certain and thing.listed else found.open).add((name, thing.label))

    def _conclude(self, facts: Facts, level: int, found: _Found) -> None:
        """Settle the concluded words whose last rule stands in the level just run."""
        for word, ready in self._ready_at.items():
            if ready != level:
                continue
            rules = self._book.concluding(word)
            for thing in facts.of(word.subject):
                found.concluded[word.name, thing.label] = _settle(word, thing, rules, found)

    def _define(self, one: _Set) -> dict[str, Any]:
        seen = {"all": [{"m": _ALWAYS}], "run": self._collector(_SEEN, True)}
        return {_SEEN: seen} | {
            f"{production.name}-{'met' if production.certain else 'open'}": {
                "all": [{"m": {"$and": [_ALWAYS, production.pattern]}}],
                "run": self._collector(production.name, production.certain),
            }
            for production in one.productions
        }

    def _collector(self, code: str, certain: bool) -> Callable[[Any], None]:
        def collect(closure: Any) -> None:
            self._fired.append((code, certain, closure.m.id))

        return collect


def _split(book: RuleBook) -> Iterable[_Set]:
    """The rule sets of a book, in the order in which they run."""
    for level, rules in enumerate(book.levels):
        for subject in SCOPES:
            translator = _Translator(f"{_PART}{subject.name.lower()}_{level}_")
            for rule in rules:
                if rule.subject is subject:
                    translator.translate(rule)
            ordered = sorted(translator.productions, key=lambda one: one.stage)
            for number, some in enumerate(_bundles(ordered)):
                yield _Set(f"{subject.name.lower()}_{level}_{number}", subject, level, some)


def _bundles(productions: Iterable[_Production]) -> Iterable[tuple[_Production, ...]]:
    """Bundle productions of one stage, within the limits of a set."""
    bundle: list[_Production] = []
    words: frozenset[Word] = frozenset()
    for one in productions:
        full = len(bundle) == _PRODUCTIONS_A_SET or len(words | one.words) > _WORDS_A_SET
        if bundle and (full or one.stage != bundle[0].stage):
            yield tuple(bundle)
            bundle, words = [], frozenset()
        bundle.append(one)
        words |= one.words
    if bundle:
        yield tuple(bundle)


def _ready_at(book: RuleBook) -> dict[Word, int]:
    """The level before which each concluded word is settled: after its last rule has run."""
    ready: dict[Word, int] = {
        word: 0 for word in VOCABULARY.words if word.origin is Origin.CONCLUDED
    }
    for level, rules in enumerate(book.levels):
        for rule in rules:
            if isinstance(rule.then, Conclusion):
                ready[rule.then.word] = level + 1
    return ready


def _settle(word: Word, thing: Thing, rules: Iterable[Rule], found: _Found) -> FactValue:
    start: FactValue
    if word.starts_from is not None:
        start = thing.fact(VOCABULARY[word.starts_from]).value
    else:
        assert word.otherwise is not None
        start = word.otherwise
    if start is DOES_NOT_APPLY:
        return DOES_NOT_APPLY
    certain = [word.choices[0] if start is NOT_KNOWN else str(start)]
    possible = [word.choices[-1]] if start is NOT_KNOWN else []
    for rule in rules:
        assert isinstance(rule.then, Conclusion)
        place = (rule.code, thing.label)
        if place in found.met:
            certain.append(rule.then.choice)
        elif place in found.open:
            possible.append(rule.then.choice)
    return worst(word, certain, possible)


def _message(thing: Thing, words: Iterable[Word], found: _Found) -> dict[str, int | str]:
    """A flat fact: for each word its state and, where there is one, its value."""
    message: dict[str, int | str] = dict(_ALWAYS)
    for word in words:
        part = thing.part(word.subject)
        given = part.facts.get(word.name)  # a case gives concluded words as facts
        value = given.value if given is not None else found.concluded[word.name, part.label]
        if value is NOT_KNOWN:
            message[_state(word)] = _UNKNOWN
        elif value is DOES_NOT_APPLY:
            message[_state(word)] = _NO_MATTER
        else:
            assert isinstance(value, (int, str))
            message[_state(word)] = _VALUE
            message[word.key] = value
    message |= dict.fromkeys(found.parts.get(thing.label, ()), 1)
    return message


def _state(word: Word) -> str:
    return f"{word.key}_state"


class _Translator:
    """Turns conditions into patterns, and large parts of them into productions of their own.

    Negations are pushed inwards, so that only clauses are widened.
    """

    def __init__(self, part_name: str) -> None:
        self.productions: list[_Production] = []
        self._part_name = part_name
        self._stages: dict[str, int] = {}

    def translate(self, rule: Rule) -> None:
        """Add the two productions of a rule."""
        for certain in (True, False):
            pattern = self._pattern(rule.condition, wanted=True, certain=certain)
            words = frozenset(w for c in comparisons(rule.condition) for w in c.words)
            self._add(rule.code, certain, pattern, words)

    def _add(self, name: str, certain: bool, pattern: Pattern, words: frozenset[Word]) -> None:
        stage = max((self._stages[part] + 1 for part in _parts(pattern)), default=0)
        self.productions.append(_Production(name, certain, pattern, words, stage))
        self._stages[name] = stage

    def _pattern(self, condition: Condition, *, wanted: bool, certain: bool) -> Pattern:
        """A pattern that matches where a condition is surely, or at least possibly, as wanted."""
        match condition:
            case Comparison():
                return _clause(condition, wanted=wanted, certain=certain)
            case Negation(part):
                return self._pattern(part, wanted=not wanted, certain=certain)
            case Every(parts) | Either(parts):
                join = "$and" if isinstance(condition, Every) is wanted else "$or"
                patterns = [self._pattern(p, wanted=wanted, certain=certain) for p in parts]
                words = frozenset(w for c in comparisons(condition) for w in c.words)
                return self._join(join, patterns, words)

    def _join(self, join: str, patterns: list[Pattern], words: frozenset[Word]) -> Pattern:
        """Join patterns; if the whole would be too large, in bundles that are judged before."""
        flat = [inner for pattern in patterns for inner in pattern.get(join, (pattern,))]
        if _size({join: flat}) <= _LARGEST_PATTERN:
            return {join: flat}
        bundled: list[Pattern] = []
        bundle: list[Pattern] = []
        for pattern in flat:
            if bundle and _size({join: [*bundle, pattern]}) > _LARGEST_PATTERN:
                bundled.append(self._judge_before({join: bundle}, words))
                bundle = []
            bundle.append(pattern)
        bundled.append(self._judge_before({join: bundle}, words))
        return {join: bundled}

    def _judge_before(self, pattern: Pattern, words: frozenset[Word]) -> Pattern:
        name = f"{self._part_name}{len(self.productions)}"
        self._add(name, True, pattern, words)
        return {name: 1}


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
    for key, value in pattern.items():
        if isinstance(value, list):
            for inner in value:
                yield from _parts(inner)
        elif key.startswith(_PART):
            yield key


def _clause(clause: Comparison, *, wanted: bool, certain: bool) -> Pattern:
    """A clause as a pattern; a comparison with a word that has no value must not match."""
    left, other = clause.word, clause.operand
    operand: Any = {"$m": other.key} if isinstance(other, Word) else other
    if clause.operator is Operator.IS:
        matched: Pattern = {left.key: operand} if wanted else {"$neq": {left.key: operand}}
    else:
        matched = {_OPERATORS[clause.operator][0 if wanted else 1]: {left.key: operand}}
    if isinstance(other, Word):
        # Where the second word is absent, durable-rules compares with a fact asserted before.
        present = [{_state(word): _VALUE} for word in clause.words]
        matched = {"$and": [*present, matched]}
    patterns = [matched]
    if not wanted:  # a clause about what does not apply is false
        patterns += [{_state(word): _NO_MATTER} for word in clause.words]
    if not certain:
        patterns += _widened(clause)
    return {"$or": patterns} if len(patterns) > 1 else patterns[0]


def _widened(clause: Comparison) -> list[Pattern]:
    """Where an answer is missing and the other side, if it is a word, may still matter."""
    if not isinstance(clause.operand, Word):
        return [{_state(clause.word): _UNKNOWN}]
    left, right = _state(clause.word), _state(clause.operand)
    return [
        {"$and": [{one: _UNKNOWN}, {"$neq": {other: _NO_MATTER}}]}
        for one, other in ((left, right), (right, left))
    ]
