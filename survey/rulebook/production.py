"""The second evaluator: the same rules on durable-rules, a forward-chaining production system.

What each rule becomes stands in ``survey.rulebook.patterns``; here facts are asserted. Conclusions
are asserted back level by level. What a count looks for is judged before the rules of its level,
on the things that it looks at; the fewest and the most that may be met are asserted for the thing
that is judged. What is reckoned is worked out in ``survey.rulebook.ratios`` and asserted as true,
false or open: the arithmetic of durable-rules rounds.

What was measured of durable-rules 2.0.28, or read in its source, and is allowed for here:

- a fact that fires more than 64 productions of one set fails (error 303): sets are split;
- a fact may have 255 properties: sets are split by the words they look at, too;
- a pattern may have 31 joins and comparisons of two words (error 113): parts of a larger one are
  productions of their own, run before it, and their outcome is asserted back;
- a fact that fires nothing is an error: one production of each set fires on every fact, which
  also proves that no fact was dropped;
- figures with an exponent are refused: facts are whole numbers;
- exceptions in actions are swallowed: actions only collect;
- every action costs more than what it does: an action takes all facts that fire its production
  (``cap``), and things of which a set sees the same are one fact;
- sets are never freed: there is one evaluator a book, and states are deleted after use;
- background timers would race with the collecting: they are not started.
"""

from __future__ import annotations

import functools
import itertools
import sys
import threading
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Any

from survey.facts import Facts, FactValue, Thing
from survey.rulebook.judgement import Judgement, worst
from survey.rulebook.patterns import (
    ALWAYS,
    COUNT,
    NO_MATTER,
    PART,
    UNKNOWN,
    VALUE,
    WITHIN,
    Pattern,
    RuleSet,
    ends_of,
    split,
)
from survey.rulebook.ratios import reckoned
from survey.rulebook.rules import Conclusion, Count, Rule, RuleBook
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Origin, Subject, Vocabulary, Word

_SEEN = "seen"
_FACTS_AN_ACTION = 1_000_000  # all of them
_KEPT_A_SET = 128  # facts, of some kilobytes each
_NOBODY_S = ""  # no label is empty
_ANY_NUMBER = 10**9  # how many things an open list may have left out
_Message = tuple[tuple[str, int | str], ...]  # a fact but for its session and its name
_Fired = tuple[tuple[str, bool], ...]  # productions, each with whether it is certain
_sessions = itertools.count(1)
_lock = threading.Lock()


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


@dataclass
class _Found:
    """What has fired so far on one site, and what was concluded from it.

    Args:
        facts: of the site.
        met, open: rule codes with the labels of things.
        concluded: by word and label.
        parts: names of the parts of conditions that fired, by the thing's identity.
        counted: the things that fired a count, by its name and whether they did for certain.
    """

    facts: Facts
    met: set[tuple[str, str]] = field(default_factory=set)
    open: set[tuple[str, str]] = field(default_factory=set)
    concluded: dict[tuple[str, str], FactValue] = field(default_factory=dict)
    parts: dict[int, set[str]] = field(default_factory=dict)
    counted: dict[tuple[str, bool], set[int]] = field(default_factory=dict)
    _owned: dict[tuple[Subject, Subject], dict[str, list[Thing]]] = field(default_factory=dict)

    def add(self, name: str, certain: bool, thing: Thing) -> None:
        """A production has fired on a thing."""
        if name.startswith(PART):
            self.parts.setdefault(id(thing), set()).add(name)
        elif name.startswith(COUNT):
            self.counted.setdefault((name, certain), set()).add(id(thing))
        else:
            # Of a thing that may not exist, nothing is certain.
            (self.met if certain and thing.listed else self.open).add((name, thing.label))

    def round(self, thing: Thing, looked_at: Subject) -> tuple[list[Thing], list[Thing]]:
        """What names a thing as its own, and what names none that is listed, by their labels."""
        key = (thing.subject, looked_at)
        if key not in self._owned:
            owned: dict[str, list[Thing]] = {t.label: [] for t in self.facts.of(thing.subject)}
            for other in self.facts.of(looked_at):
                owner = other.part(thing.subject).label
                owned.setdefault(owner if owner in owned else _NOBODY_S, []).append(other)
            self._owned[key] = owned
        return self._owned[key][thing.label], self._owned[key].get(_NOBODY_S, [])


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
        self._sets = tuple(split(book))
        self._ready_at = _ready_at(book)
        self._fired: list[tuple[str, bool, str]] = []
        self._kept: dict[str, dict[_Message, _Fired]] = {one.name: {} for one in self._sets}
        definitions = {one.name: self._define(one) for one in self._sets}
        self._host: Any = QuietHost(definitions)  # type: ignore[no-untyped-call, unused-ignore]

    def judge(self, facts: Facts) -> Judgement:
        """Assert the facts of a site, level by level, and collect what fires."""
        with _lock:  # the host collects into one list
            return self._judge(facts, f"site-{next(_sessions)}")

    def _judge(self, facts: Facts, session: str) -> Judgement:
        found = _Found(facts)
        for level in range(len(self._book.levels) + 1):
            self._conclude(facts, level, found)
            for one in self._sets:
                if one.level == level:
                    self._run_set(one, facts, session, found)
        open_only = frozenset(found.open - found.met)
        return Judgement(frozenset(found.met), open_only, found.concluded)

    def _run_set(self, one: RuleSet, facts: Facts, session: str, found: _Found) -> None:
        alike: dict[_Message, list[Thing]] = {}
        for thing in facts.of(one.subject):
            alike.setdefault(tuple(_message(thing, one, found).items()), []).append(thing)
        for message, fired in self._fired_by(one, alike, session).items():
            for name, certain in fired:
                for thing in alike[message]:
                    found.add(name, certain, thing)

    def _fired_by(
        self, one: RuleSet, messages: Collection[_Message], session: str
    ) -> dict[_Message, _Fired]:
        """What each fact fires in a set; what it fired before in this process is kept."""
        kept = self._kept[one.name]
        fired = {message: kept[message] for message in messages if message in kept}
        fresh = [message for message in messages if message not in kept]
        if fresh:
            if len(kept) + len(fresh) > _KEPT_A_SET:
                kept.clear()
            new = self._assert(one, fresh, session)
            kept.update(new)
            fired |= new
        return fired

    def _assert(
        self, one: RuleSet, messages: Sequence[_Message], session: str
    ) -> dict[_Message, _Fired]:
        """Assert facts, and collect what each of them fires."""
        by_key = {f"f{number}": message for number, message in enumerate(messages)}
        self._fired.clear()
        try:
            self._host.assert_facts(
                one.name, [{"sid": session, "id": key, **dict(m)} for key, m in by_key.items()]
            )
        finally:
            self._host.delete_state(one.name, session)
        fired: dict[str, list[tuple[str, bool]]] = {}
        # A fact that fires a production in several ways does so several times.
        for name, certain, key in dict.fromkeys(self._fired):
            fired.setdefault(key, []).append((name, certain))
        if not all((_SEEN, True) in fired.get(key, ()) for key in by_key):
            raise RuntimeError(f"{one.name}: not every fact was judged")
        return {
            by_key[key]: tuple(one for one in some if one[0] != _SEEN)
            for key, some in fired.items()
        }

    def _conclude(self, facts: Facts, level: int, found: _Found) -> None:
        """Settle the concluded words whose last rule stands in the level just run."""
        for word, ready in self._ready_at.items():
            if ready != level:
                continue
            rules = self._book.concluding(word)
            for thing in facts.of(word.subject):
                start = _start(word, thing, self._book.vocabulary)
                found.concluded[word.name, thing.label] = _settle(word, start, thing, rules, found)

    def _define(self, one: RuleSet) -> dict[str, Any]:
        return {_SEEN: self._production(_SEEN, True, ALWAYS)} | {
            f"{production.name}-{'met' if production.certain else 'open'}": self._production(
                production.name, production.certain, {"$and": [ALWAYS, production.pattern]}
            )
            for production in one.productions
        }

    def _production(self, code: str, certain: bool, pattern: Pattern) -> dict[str, Any]:
        def collect(closure: Any) -> None:
            self._fired.extend((code, certain, fact.id) for fact in closure.m)

        return {"all": [{"m": pattern}], "cap": _FACTS_AN_ACTION, "run": collect}


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


def _message(thing: Thing, one: RuleSet, found: _Found) -> dict[str, int | str]:
    """A flat fact: the state of each word, with its value if it has one; counts; reckonings."""
    message: dict[str, int | str] = dict(ALWAYS)
    for asked in one.asked:
        part = thing.part(asked.subject)
        fact = part.facts.get(asked.name)  # a case gives concluded words as facts
        value = found.concluded[asked.name, part.label] if fact is None else fact.value
        if value is DOES_NOT_APPLY:
            message[asked.state] = NO_MATTER
        elif value is not NOT_KNOWN:
            message[asked.value] = value
            if asked.paired:
                message[asked.state] = VALUE
        elif asked.bounded and fact is not None and fact.bounds is not None:
            message[asked.state] = WITHIN
            message[asked.least], message[asked.most] = fact.bounds
        else:
            message[asked.state] = UNKNOWN
    looked = one.looked
    for name, count in looked.counts:
        fewest, most = ends_of(name)
        message[fewest], message[most] = _numbers(name, count, thing, found)
    for name, clause in looked.reckonings:
        message[name] = reckoned(clause, functools.partial(_value, thing=thing, found=found))
    message |= dict.fromkeys(one.parts & found.parts.get(id(thing), set()), 1)
    return message


def _value(word: Word, thing: Thing, found: _Found) -> FactValue:
    part, name = thing.part(word.subject), word.itself.name
    fact = part.facts.get(name)
    return found.concluded[name, part.label] if fact is None else fact.value


def _numbers(name: str, count: Count, thing: Thing, found: _Found) -> tuple[int, int]:
    """The fewest and the most things round a thing that are met."""
    fewest = most = 0
    certain = found.counted.get((name, True), ())
    open_ones = found.counted.get((name, False), ())
    own, nobody_s = found.round(thing, count.of)
    for other, named in (*((one, True) for one in own), *((one, False) for one in nobody_s)):
        surely = count.where is None or id(other) in certain
        possibly = surely or id(other) in open_ones
        fewest += surely and named and other.listed
        most += possibly if other.listed else possibly * _ANY_NUMBER
    return fewest, min(most, _ANY_NUMBER)
