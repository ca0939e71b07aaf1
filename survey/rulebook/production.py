"""The second evaluator: the same rules on durable-rules, a forward-chaining production system.

Each rule becomes two productions: one that fires where the rule is met, one that fires where it
is met or can't be told, in which every clause is widened by "or the answer is missing".
Conclusions are asserted back level by level. What was measured of durable-rules 2.0.28 and is
allowed for here: a fact that meets more than 64 rules of one set fails, so sets are split; it
refuses exponents, so facts are whole numbers; it swallows exceptions of actions, so actions
only collect; its sets are never freed, so there is one host a book; its background timers
would race with the collecting, so they are not started.
"""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable, Iterable, Mapping
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

_RULES_A_SET = 30  # two productions each; a fact may fire 64 of a set
_ALWAYS = {"present": 1}
_SEEN = "seen"
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


def available() -> bool:
    """Whether durable-rules loads here: its extension does not on Python 3.13 and later."""
    return find_spec("durable_rules_engine") is not None and find_spec("durable") is not None


_evaluators: dict[str, ProductionEvaluator] = {}


def evaluator_for(book: RuleBook) -> ProductionEvaluator:
    """The one evaluator of a book in this process."""
    if book.fingerprint not in _evaluators:
        _evaluators[book.fingerprint] = ProductionEvaluator(book)
    return _evaluators[book.fingerprint]


@dataclass(frozen=True)
class _Set:
    """One rule set: its name, its rules and the words they look at."""

    name: str
    subject: Subject
    level: int
    rules: tuple[Rule, ...]
    words: tuple[Word, ...]


@dataclass
class _Found:
    """What has fired so far on one site, and what was concluded from it."""

    met: set[tuple[str, str]] = field(default_factory=set)
    open: set[tuple[str, str]] = field(default_factory=set)
    concluded: dict[tuple[str, str], FactValue] = field(default_factory=dict)


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
        definitions = {one.name: self._productions(one.rules) for one in self._sets}
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
            {"sid": session, "id": key, **_message(thing, one.words, found.concluded)}
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
        for code, certain, key in self._fired:
            if code == _SEEN:
                continue
            thing = labels[key]
            # Of a thing that may not exist, nothing is certain.
            (found.met if certain and thing.listed else found.open).add((code, thing.label))

    def _conclude(self, facts: Facts, level: int, found: _Found) -> None:
        """Settle the concluded words whose last rule stands in the level just run."""
        for word, ready in self._ready_at.items():
            if ready != level:
                continue
            rules = self._book.concluding(word)
            for thing in facts.of(word.subject):
                found.concluded[word.name, thing.label] = _settle(word, thing, rules, found)

    def _productions(self, rules: Iterable[Rule]) -> dict[str, Any]:
        # Every fact fires this one, which proves that none was dropped on the way.
        productions: dict[str, Any] = {
            "seen": {"all": [{"m": _ALWAYS}], "run": self._collector(_SEEN, True)}
        }
        for rule in rules:
            for certain in (True, False):
                name = f"{rule.code}-{'met' if certain else 'open'}"
                pattern = _pattern(rule.condition, wanted=True, certain=certain)
                productions[name] = {
                    "all": [{"m": {"$and": [_ALWAYS, pattern]}}],
                    "run": self._collector(rule.code, certain),
                }
        return productions

    def _collector(self, code: str, certain: bool) -> Callable[[Any], None]:
        def collect(closure: Any) -> None:
            self._fired.append((code, certain, closure.m.id))

        return collect


def _split(book: RuleBook) -> Iterable[_Set]:
    for level, rules in enumerate(book.levels):
        for subject in SCOPES:
            of_subject = [rule for rule in rules if rule.subject is subject]
            for start in range(0, len(of_subject), _RULES_A_SET):
                some = of_subject[start : start + _RULES_A_SET]
                words = {w.name: w for r in some for c in comparisons(r.condition) for w in c.words}
                name = f"{subject.name.lower()}_{level}_{start}"
                yield _Set(name, subject, level, tuple(some), tuple(words.values()))


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


def _message(
    thing: Thing, words: Iterable[Word], concluded: Mapping[tuple[str, str], FactValue]
) -> dict[str, int | str]:
    """A flat fact: for each word its state and, where there is one, its value."""
    message: dict[str, int | str] = dict(_ALWAYS)
    for word in words:
        part = thing.part(word.subject)
        given = part.facts.get(word.name)  # a case gives concluded words as facts
        value = given.value if given is not None else concluded[word.name, part.label]
        if value is NOT_KNOWN:
            message[_state(word)] = _UNKNOWN
        elif value is DOES_NOT_APPLY:
            message[_state(word)] = _NO_MATTER
        else:
            assert isinstance(value, (int, str))
            message[_state(word)] = _VALUE
            message[word.key] = value
    return message


def _state(word: Word) -> str:
    return f"{word.key}_state"


def _pattern(condition: Condition, *, wanted: bool, certain: bool) -> Pattern:
    """A condition as a pattern that matches where it is surely (or at least possibly) as wanted.

    Negations are pushed inwards, so that only clauses are widened.
    """
    match condition:
        case Comparison():
            return _clause(condition, wanted=wanted, certain=certain)
        case Negation(part):
            return _pattern(part, wanted=not wanted, certain=certain)
        case Every(parts) | Either(parts):
            join = "$and" if isinstance(condition, Every) is wanted else "$or"
            return {join: [_pattern(p, wanted=wanted, certain=certain) for p in parts]}


def _clause(clause: Comparison, *, wanted: bool, certain: bool) -> Pattern:
    left = clause.word
    other = clause.operand if isinstance(clause.operand, Word) else None
    operand: Any = {"$m": other.key} if other else clause.operand
    present: list[Pattern] = [{_state(word): _VALUE} for word in clause.words]
    if clause.operator is Operator.IS:
        same: Pattern = {left.key: operand} if wanted else {"$neq": {left.key: operand}}
        matched = same
    else:
        matched = {_OPERATORS[clause.operator][0 if wanted else 1]: {left.key: operand}}
    patterns: list[Pattern] = [{"$and": [*present, matched]}]
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
