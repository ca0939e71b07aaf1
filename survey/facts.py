"""What the rules are judged on: every word of every thing on site, in whole steps.

A *thing* is the site, a wall, a pier, a utility and so on, or a pair of them. Its facts are the
answers and the figures of its own words; the words of what it belongs to (a pier's wall, the
site) are found through its parts. Of a pair of piers, the second pier and its wall are parts too,
under subjects of their own: they are the very things that the pier and the wall are elsewhere.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import permutations
from typing import NamedTuple

from survey.answers import unlisted
from survey.engineering.working import Input, Quantities, Quantity, Result, Working
from survey.model import Answer, Row, Survey, Value
from survey.vocabulary import (
    MEASURES,
    NOT_KNOWN,
    SCOPES,
    VOCABULARY,
    Kind,
    Missing,
    Origin,
    Subject,
    Vocabulary,
    Word,
    steps,
    write_steps,
)

FactValue = int | str | Missing
NO_WALL = "wall not known"  # the label of the wall of a pier that names none


class Fact(NamedTuple):
    """What is known of one word of one thing.

    Args:
        value: whole steps of the word's kind, a day's number, a choice, or a state.
        behind: the answers it rests on, or the figure that knows them.
        reason: for a figure that could not be worked out, why.
        working: how a figure was worked out.
        bounds: of a figure that is not known, the least and the most steps that it can be.
    """

    value: FactValue
    behind: tuple[Input, ...] | Quantity = ()
    reason: str = ""
    working: Working | None = None
    bounds: tuple[int, int] | None = None

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The answers it rests on, with the places they were read from."""
        return self.behind.inputs if isinstance(self.behind, Quantity) else self.behind


@dataclass(frozen=True)
class Thing:
    """A thing on site, or a pair of things, that rules are judged for.

    Args:
        subject: what it is.
        label: its name on the form; of a pair ``P1 / gas``, of two piers ``P1 / P2``.
        facts: of its own words, by name; on a site, concluded words have none.
        parts: the things whose words its rules may use, itself among them, by subject.
        listed: false if it stands for whatever an open list may have left out.
        where: the place of its row on the form.
    """

    subject: Subject
    label: str
    facts: Mapping[str, Fact]
    parts: Mapping[Subject, Thing] = field(repr=False)
    listed: bool
    where: str

    def fact(self, word: Word) -> Fact:
        """The fact of a word that is not concluded."""
        return self.part(word.subject).facts[word.itself.name]

    def part(self, subject: Subject) -> Thing:
        """The thing that words of a subject are said of."""
        return self if subject is self.subject else self.parts[subject]


@dataclass(frozen=True)
class Facts:
    """Every thing that rules are judged for, in the order of the form."""

    things: tuple[Thing, ...]

    def of(self, subject: Subject) -> Iterator[Thing]:
        """The things of one subject."""
        return iter(self._by_subject.get(subject, ()))

    @cached_property
    def _by_subject(self) -> Mapping[Subject, list[Thing]]:
        found: dict[Subject, list[Thing]] = {}
        for thing in self.things:
            found.setdefault(thing.subject, []).append(thing)
        return found


def gather(
    survey: Survey,
    quantities: Quantities,
    vocabulary: Vocabulary = VOCABULARY,
    wanted: frozenset[Subject] = frozenset(),
) -> Facts:
    """Put answers and figures together as facts.

    Args:
        survey: the answers.
        quantities: the figures, of all that is wanted.
        vocabulary: the words that become facts; answers to others are left out.
        wanted: what a rule book looks at. Pairs of a pier with a soil layer or with another pier
            are many, and only made if they are among it.
    """
    site = _thing(survey.site, quantities, vocabulary, {})
    with_site = {Subject.SITE: site}
    walls = {row.label: _thing(row, quantities, vocabulary, with_site) for row in survey.walls}
    piers: list[Thing] = []
    for row in survey.piers:
        wall = survey.referred(row, "wall of pier")
        at_wall = _no_wall(row, vocabulary) if isinstance(wall, Missing) else walls[wall.label]
        parts = {**with_site, Subject.WALL: at_wall}
        piers.append(_thing(row, quantities, vocabulary, parts))
    around: dict[Subject, list[Thing]] = {}
    for subject in _AROUND.values():
        rest = unlisted(survey, subject)
        rows = survey.rows(subject) if rest is None else (*survey.rows(subject), rest)
        around[subject] = [_thing(row, quantities, vocabulary, with_site) for row in rows]
    pairs = [
        _pair(subject, pier, other, quantities)
        for subject, of in _AROUND.items()
        if subject in wanted or subject is not Subject.PIER_SOIL_LAYER
        for pier in piers
        for other in around[of]
    ]
    if Subject.PIER_PIER in wanted:
        pairs += [_two_piers(one, other, quantities) for one, other in permutations(piers, 2)]
    flat = [thing for things in around.values() for thing in things]
    return Facts((site, *walls.values(), *piers, *flat, *pairs))


# What a pier is paired with.
_AROUND = {
    Subject.PIER_UTILITY: Subject.UTILITY,
    Subject.PIER_NEIGHBOUR: Subject.NEIGHBOUR,
    Subject.PIER_SOIL_LAYER: Subject.SOIL_LAYER,
}


def _thing(
    row: Row, quantities: Quantities, vocabulary: Vocabulary, parts: Mapping[Subject, Thing]
) -> Thing:
    asked: dict[str, Fact] = {}
    for word in vocabulary.asked_of(row.subject):
        answer = row.answers.get(word.name)
        if answer is None:  # a survey that was read without a firm's question does not answer it
            answer = Answer(NOT_KNOWN, row.where)
        given = Input(word.name, row.label, answer)
        asked[word.name] = Fact(fact_value(word, answer.value), (given,))
    facts = asked | _worked_out(row.subject, (row.label,), quantities)
    return Thing(row.subject, row.label, facts, parts, row.listed, row.where)


def _pair(subject: Subject, pier: Thing, other: Thing, quantities: Quantities) -> Thing:
    facts = _worked_out(subject, (pier.label, other.label), quantities)
    parts = {**pier.parts, Subject.PIER: pier, other.subject: other}
    label = f"{pier.label} / {other.label}"
    return Thing(subject, label, facts, parts, other.listed, pier.where)


def _two_piers(pier: Thing, other: Thing, quantities: Quantities) -> Thing:
    facts = _worked_out(Subject.PIER_PIER, (pier.label, other.label), quantities)
    parts = {
        **pier.parts,
        Subject.PIER: pier,
        Subject.OTHER_PIER: other,
        Subject.OTHER_WALL: other.parts[Subject.WALL],
    }
    label = f"{pier.label} / {other.label}"
    return Thing(Subject.PIER_PIER, label, facts, parts, True, pier.where)


def _worked_out(
    subject: Subject, labels: tuple[str, ...], quantities: Quantities
) -> dict[str, Fact]:
    facts: dict[str, Fact] = {}
    for word in _DERIVED[subject]:
        quantity = quantities.of(word.name, labels)
        result = quantity.result
        facts[word.name] = Fact(
            fact_value(word, result.value),
            quantity,
            result.reason,
            result.working,
            _bounds(word, result),
        )
    return facts


def _bounds(word: Word, result: Result) -> tuple[int, int] | None:
    """The bounds of a figure in whole steps, rounded apart."""
    if not word.bounded or result.bounds is None or result.value is not NOT_KNOWN:
        return None
    step = MEASURES[word.kind].step
    least, most = (round(bound / step, 6) for bound in result.bounds)
    return math.floor(least), math.ceil(most)


_DERIVED = {
    subject: tuple(word for word in VOCABULARY.of(subject) if word.origin is Origin.DERIVED)
    for subject in SCOPES
}


def _no_wall(pier: Row, vocabulary: Vocabulary) -> Thing:
    """The wall of a pier that names none: nothing is known of it, for want of that answer."""
    asked = Input("wall of pier", pier.label, pier.answers["wall of pier"])
    words = (w for w in vocabulary.of(Subject.WALL) if w.origin is not Origin.CONCLUDED)
    facts = {word.name: Fact(NOT_KNOWN, (asked,)) for word in words}
    return Thing(Subject.WALL, NO_WALL, facts, {}, True, pier.where)


def fact_value(word: Word, value: Value) -> FactValue:
    """A canonical value as the evaluators compare it."""
    if isinstance(value, str):
        return value
    if isinstance(value, (float, int)):
        return steps(word.kind, value)
    return value.toordinal() if isinstance(value, dt.date) else value


def shown_fact(word: Word, fact: Fact) -> str:
    """A fact as a person reads it, with the bounds of what is not known."""
    if fact.bounds is None:
        return shown(word, fact.value)
    least, most = (shown(word, bound) for bound in fact.bounds)
    return f"{fact.value}, but from {least} to {most}"


def shown(word: Word, value: FactValue) -> str:
    """A value as a person reads it, in the word's own unit."""
    if not isinstance(value, int):
        return str(value)
    if word.kind is Kind.DATE:
        return dt.date.fromordinal(value).strftime("%a %d %b %Y")
    return write_steps(value, word.kind, word.unit)
