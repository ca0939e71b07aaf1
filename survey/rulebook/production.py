"""The second evaluator: the same rules on durable-rules, a forward-chaining production system.

Each rule becomes two productions: one that fires where the rule is met, one that fires where it
is met or can't be told, in which every clause is widened by "or the answer is missing".
Conclusions are asserted back level by level. What a count looks for is judged before the rules of
its level, on the things that it looks at; the fewest and the most that may be met are asserted for
the thing that is judged. What is reckoned is worked out here and asserted as true, false or open:
the arithmetic of durable-rules rounds.

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

import datetime as dt
import functools
import itertools
import operator
import sys
import threading
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from importlib.util import find_spec
from typing import Any

from survey.facts import Facts, FactValue, Thing
from survey.rulebook.dimensions import exact
from survey.rulebook.judgement import Judgement, worst
from survey.rulebook.reckoning import possible_rows
from survey.rulebook.round import Round
from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    LookUp,
    Negation,
    Operation,
    Operator,
    Reckoning,
    Rule,
    RuleBook,
    Table,
    Term,
    WorkingDays,
    clauses,
    tables_of,
)
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    SCOPES,
    Kind,
    Missing,
    Origin,
    Subject,
    Vocabulary,
    Word,
)

_PRODUCTIONS_A_SET = 60
_WORDS_A_SET = 100  # each gives two properties
_LARGEST_PATTERN = 28
_SATURDAY = 5
_ALWAYS = {"present": 1}
_SEEN = "seen"
_PART, _COUNT, _RECKONED = "part_", "count_", "reckoned_"
_ANY_NUMBER = 10**9  # how many things an open list may have left out
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
class _Looked:
    """What productions look at.

    Args:
        words: answers and conclusions.
        counts: how many things round the judged one are met, by name.
        reckonings: what is reckoned, by name.
    """

    words: frozenset[Word] = frozenset()
    counts: frozenset[tuple[str, Count]] = frozenset()
    reckonings: frozenset[tuple[str, Reckoning]] = frozenset()

    def __or__(self, other: _Looked) -> _Looked:
        return _Looked(
            self.words | other.words,
            self.counts | other.counts,
            self.reckonings | other.reckonings,
        )

    @property
    def size(self) -> int:
        """Properties of a fact, in pairs."""
        return len(self.words) + len(self.counts) + len(self.reckonings)


@dataclass(frozen=True)
class _Production:
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
    looked: _Looked
    stage: int


@dataclass(frozen=True)
class _Set:
    """One rule set: the productions of one subject, level and stage, as many as may be."""

    name: str
    subject: Subject
    level: int
    productions: tuple[_Production, ...]

    @property
    def looked(self) -> _Looked:
        """What its productions look at."""
        return functools.reduce(operator.or_, (one.looked for one in self.productions))


@dataclass
class _Found:
    """What has fired so far on one site, and what was concluded from it.

    Args:
        round: finds what lies round a thing.
        met, open: rule codes with the labels of things.
        concluded: by word and label.
        parts: names of the parts of conditions that fired, by the thing's identity.
        counted: the things that fired a count, by its name and whether they did for certain.
    """

    round: Round
    met: set[tuple[str, str]] = field(default_factory=set)
    open: set[tuple[str, str]] = field(default_factory=set)
    concluded: dict[tuple[str, str], FactValue] = field(default_factory=dict)
    parts: dict[int, set[str]] = field(default_factory=dict)
    counted: dict[tuple[str, bool], set[int]] = field(default_factory=dict)


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
        found = _Found(Round(facts))
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
            {"sid": session, "id": key, **_message(thing, one.looked, found)}
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
                found.parts.setdefault(id(thing), set()).add(name)
            elif name.startswith(_COUNT):
                found.counted.setdefault((name, certain), set()).add(id(thing))
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
                start = _start(word, thing, self._book.vocabulary)
                found.concluded[word.name, thing.label] = _settle(word, start, thing, rules, found)

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
                yield _Set(f"{translator.name}_{number}", subject, level, some)


def _bundles(productions: Iterable[_Production]) -> Iterable[tuple[_Production, ...]]:
    """Bundle productions of one stage, within the limits of a set."""
    bundle: list[_Production] = []
    looked = _Looked()
    for one in productions:
        full = len(bundle) == _PRODUCTIONS_A_SET or (looked | one.looked).size > _WORDS_A_SET
        if bundle and (full or one.stage != bundle[0].stage):
            yield tuple(bundle)
            bundle, looked = [], _Looked()
        bundle.append(one)
        looked |= one.looked
    if bundle:
        yield tuple(bundle)


def _ready_at(book: RuleBook) -> dict[Word, int]:
    """The level before which each concluded word is settled: after its last rule has run."""
    ready: dict[Word, int] = {
        word: 0 for word in book.vocabulary.words if word.origin is Origin.CONCLUDED
    }
    for level, rules in enumerate(book.levels):
        for rule in rules:
            if isinstance(rule.then, Conclusion):
                ready[rule.then.word] = level + 1
    return ready


def _start(word: Word, thing: Thing, vocabulary: Vocabulary) -> FactValue:
    """What a concluded word is before any rule makes it worse."""
    if word.starts_from is not None:
        return thing.fact(vocabulary[word.starts_from]).value
    assert word.otherwise is not None
    return word.otherwise


def _settle(
    word: Word, start: FactValue, thing: Thing, rules: Iterable[Rule], found: _Found
) -> FactValue:
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


def _message(thing: Thing, looked: _Looked, found: _Found) -> dict[str, int | str]:
    """A flat fact: the state of each word, with its value if it has one; counts; reckonings."""
    message: dict[str, int | str] = dict(_ALWAYS)
    for word in looked.words:
        value = _value(word, thing, found)
        if value is NOT_KNOWN:
            message[_state(word)] = _UNKNOWN
        elif value is DOES_NOT_APPLY:
            message[_state(word)] = _NO_MATTER
        else:
            assert isinstance(value, (int, str))
            message[_state(word)] = _VALUE
            message[word.key] = value
    for name, count in looked.counts:
        message[f"{name}_fewest"], message[f"{name}_most"] = _numbers(name, count, thing, found)
    for name, clause in looked.reckonings:
        message[name] = _reckoned(clause, thing, found)
    message |= dict.fromkeys(found.parts.get(id(thing), ()), 1)
    return message


def _value(word: Word, thing: Thing, found: _Found) -> FactValue:
    part, name = thing.part(word.subject), word.itself.name
    given = part.facts.get(name)  # a case gives concluded words as facts
    return given.value if given is not None else found.concluded[name, part.label]


def _state(word: Word) -> str:
    return f"{word.key}_state"


def _numbers(name: str, count: Count, thing: Thing, found: _Found) -> tuple[int, int]:
    """The fewest and the most things round a thing that are met."""
    fewest = most = 0
    for near in found.round.of(thing, count.of):
        there = near.surely and near.thing.listed
        if count.where is None:
            surely = possibly = True
        else:
            surely = id(near.thing) in found.counted.get((name, True), ())
            possibly = surely or id(near.thing) in found.counted.get((name, False), ())
        fewest += surely and there
        most += possibly if near.thing.listed else possibly * _ANY_NUMBER
    return fewest, min(most, _ANY_NUMBER)


# Reckoning, in ratios of whole numbers; apart from the direct evaluator's.

_Ratio = tuple[int, int]


def _reckoned(clause: Reckoning, thing: Thing, found: _Found) -> str:
    """Whether a reckoned clause is true, false or open; the state that is asserted."""

    def value(word: Word) -> FactValue:
        return _value(word, thing, found)

    if any(value(word) is DOES_NOT_APPLY for word in clause.words):
        return "false"
    tables = list(dict.fromkeys([*tables_of(clause.left), *tables_of(clause.right)]))
    choices = [possible_rows(table, [value(key) for key in table.keys]) for table in tables]
    truths: set[bool] = set()
    for rows in itertools.product(*(c or () for c in choices)):
        taken = {t: exact(Kind(t.kind), r.steps) for t, r in zip(tables, rows, strict=True)}
        ends = [_ratio(side, value, taken) for side in (clause.left, clause.right)]
        if None in ends:
            return "open"
        (top, bottom), (other_top, other_bottom) = (end for end in ends if end is not None)
        truths.add(_HOLDS[clause.operator](top * other_bottom, other_top * bottom))
    if len(truths) != 1:
        return "open"
    return "true" if truths.pop() else "false"


_HOLDS: Mapping[Operator, Callable[[int, int], bool]] = {
    Operator.AT_LEAST: operator.ge,
    Operator.MORE_THAN: operator.gt,
    Operator.AT_MOST: operator.le,
    Operator.LESS_THAN: operator.lt,
}


def _ratio(
    term: Term, value: Callable[[Word], FactValue], taken: Mapping[Table, Fraction]
) -> _Ratio | None:
    """A term as numerator and denominator above zero; none if an answer is missing."""
    match term:
        case Figure(figure):
            return figure.numerator, figure.denominator
        case LookUp(table):
            return taken[table].numerator, taken[table].denominator
        case Word():
            found = value(term)
            if isinstance(found, Missing):
                return None
            figure = exact(term.kind, int(found))
            return figure.numerator, figure.denominator
        case WorkingDays(first, last):
            return _working_days(value(first), value(last))
        case Arithmetic(operation, left, right):
            one, other = _ratio(left, value, taken), _ratio(right, value, taken)
            if one is None or other is None:
                return None
            return _joined(operation, one, other)


def _joined(operation: Operation, one: _Ratio, other: _Ratio) -> _Ratio:
    (a, b), (c, d) = one, other
    match operation:
        case Operation.PLUS:
            return a * d + c * b, b * d
        case Operation.MINUS:
            return a * d - c * b, b * d
        case Operation.TIMES:
            return a * c, b * d
        case Operation.DIVIDED_BY:
            return (a * d, b * c) if c > 0 else (-a * d, -b * c)


def _working_days(first: FactValue, last: FactValue) -> _Ratio | None:
    """Counted day by day."""
    if isinstance(first, Missing) or isinstance(last, Missing):
        return None
    from survey.engineering.dates import federal_holidays

    early, late = sorted((int(first), int(last)))
    days = (dt.date.fromordinal(day) for day in range(early + 1, late + 1))
    number = sum(d.weekday() < _SATURDAY and d not in federal_holidays(d.year) for d in days)
    return (number if first <= last else -number), 1  # type: ignore[operator]


class _Translator:
    """Turns conditions into patterns, and large parts of them into productions of their own.

    Negations are pushed inwards, so that only clauses are widened.

    Args:
        name: of the sets that will be made of its productions.
        counts: every count met so far, with its name; new ones are added.
    """

    def __init__(self, name: str, counts: dict[Count, str]) -> None:
        self.name = name
        self.productions: list[_Production] = []
        self._counts = counts
        self._stages: dict[str, int] = {}
        self._reckonings: dict[Reckoning, str] = {}

    def translate(self, name: str, condition: Condition) -> None:
        """Add the two productions of a rule, or of what a count looks for."""
        for certain in (True, False):
            pattern = self._pattern(condition, wanted=True, certain=certain)
            self._add(name, certain, pattern, self._looked(condition))

    def _looked(self, condition: Condition) -> _Looked:
        words: set[Word] = set()
        counts: set[tuple[str, Count]] = set()
        reckonings: set[tuple[str, Reckoning]] = set()
        for clause in clauses(condition):
            match clause:
                case Comparison():
                    words.update(clause.words)
                case Reckoning():
                    reckonings.add((self._reckonings[clause], clause))
                case Count():
                    counts.add((self._named(clause), clause))
        return _Looked(frozenset(words), frozenset(counts), frozenset(reckonings))

    def _named(self, count: Count) -> str:
        """The name of a count; counts of the same things share it."""
        same = Count(count.of, count.where, Operator.AT_LEAST, 0, "")
        return self._counts.setdefault(same, f"{_COUNT}{self.name}_{len(self._counts)}")

    def _add(self, name: str, certain: bool, pattern: Pattern, looked: _Looked) -> None:
        stage = max((self._stages[part] + 1 for part in _parts(pattern)), default=0)
        self.productions.append(_Production(name, certain, pattern, looked, stage))
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

    def _join(self, join: str, patterns: list[Pattern], looked: _Looked) -> Pattern:
        """Join patterns; if the whole would be too large, in bundles that are judged before."""
        flat = [inner for pattern in patterns for inner in pattern.get(join, (pattern,))]
        if _size({join: flat}) <= _LARGEST_PATTERN:
            return {join: flat}
        bundled: list[Pattern] = []
        bundle: list[Pattern] = []
        for pattern in flat:
            if bundle and _size({join: [*bundle, pattern]}) > _LARGEST_PATTERN:
                bundled.append(self._judge_before({join: bundle}, looked))
                bundle = []
            bundle.append(pattern)
        bundled.append(self._judge_before({join: bundle}, looked))
        return {join: bundled}

    def _judge_before(self, pattern: Pattern, looked: _Looked) -> Pattern:
        name = f"{_PART}{self.name}_{len(self.productions)}"
        self._add(name, True, pattern, looked)
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


def _state_is(name: str, *, wanted: bool, certain: bool) -> Pattern:
    """Whether what is reckoned is, or may be, as wanted."""
    if certain:
        return {name: "true" if wanted else "false"}
    return {"$neq": {name: "false" if wanted else "true"}}


def _number_is(name: str, count: Count, wanted: bool, certain: bool) -> Pattern:
    """Whether a number is, or may be, as wanted: by the fewest or by the most that are met."""
    sign = _OPERATORS[count.operator][0 if wanted else 1]
    rising = sign in ("$gte", "$gt")
    bound = "fewest" if rising is certain else "most"
    return {sign: {f"{name}_{bound}": count.number}}


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
