"""Texts of rules with labels, answers, figures and limits put in, in English and in Spanish."""

from __future__ import annotations

import datetime as dt
import functools
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from survey.facts import NO_WALL, Fact, FactValue, Thing, shown
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.rules import Limit, RuleBook
from survey.vocabulary import NOT_KNOWN, SCOPES, Kind, Missing, Word, units_of, write_steps
from survey.vocabulary.spanish import (
    STATES_IN_SPANISH,
    choices_in_spanish,
    day_in_spanish,
    figure_in_spanish,
)


@dataclass(frozen=True, slots=True)
class Filler:
    """Puts labels, answers, figures and limits in the place of the words in braces.

    A limit stands as the book writes it. Where the text gives an answer of the same kind in other
    units, the limit follows in those as well, as in ``1.2 m [3 ft 11.244 in]``: whoever reads the
    sheet compares the two.

    What is not known is said so: after a colon or a bracket as ``not known``, elsewhere in square
    brackets with its name, so that it can't be read as a part of the sentence: ``Pit P1 is [pit
    depth: not known] deep``. A figure with bounds gives both: ``3 ft to 4 ft (not known more
    exactly)``.
    """

    book: RuleBook
    evaluator: DirectEvaluator

    def fill(self, text: str, thing: Thing) -> str:
        """An English text of a rule for one thing."""
        return self._filled(text, thing, spanish=False)

    def fill_es(self, text: str, thing: Thing) -> str:
        """A Spanish text of a rule for one thing: answers, days and states in Spanish too."""
        return self._filled(text, thing, spanish=True)

    def _filled(self, text: str, thing: Thing, *, spanish: bool) -> str:
        blanks, rest = _blanks(text)
        pieces = [piece for b in blanks for piece in (b.before, self._value(b, thing, spanish))]
        return "".join((*pieces, rest))

    def _value(self, blank: _Blank, thing: Thing, spanish: bool) -> str:
        """What the name in a blank stands for."""
        name = blank.name
        subjects = {subject.value: subject for subject in SCOPES[thing.subject]}
        words = self.book.vocabulary.scope(thing.subject)
        if name in subjects:
            label = thing.part(subjects[name]).label
            return _missing(NOT_KNOWN, blank, spanish) if label == NO_WALL else label
        if name in self.book.limits:
            limit = self.book.limits[name]
            unit = _unit_of_answer(Kind(limit.kind), words, blank.beside)
            figure = limit_beside(limit, unit)
            return figure_in_spanish(figure) if spanish else figure
        if name in self.book.tables:
            table = self.book.tables[name]
            rows = self.evaluator.look_up(table, thing)
            if isinstance(rows, Missing):
                return _missing(rows, blank, spanish)
            kind = Kind(table.kind)
            unit = _unit_of_answer(kind, words, blank.beside)
            figures = dict.fromkeys(figure_beside(row.shown, kind, row.steps, unit) for row in rows)
            if spanish:
                return " o ".join(figure_in_spanish(figure) for figure in figures)
            return " or ".join(figures)
        word = words[name]
        fact = thing.part(word.subject).facts.get(word.itself.name)
        if fact is not None and fact.bounds is not None:
            return _between(word, fact, spanish)
        value = self.evaluator.value(word, thing)
        if isinstance(value, Missing):
            return _missing(value, blank, spanish)
        return shown_in_spanish(word, value) if spanish else shown(word, value)


@dataclass(frozen=True, slots=True)
class _Blank:
    """A place to fill in a text.

    Args:
        before: the text since the last place.
        name: what stands in braces.
        beside: the other names of the text, nearest those before it, then on.
        listed: whether a colon or a bracket leads to it, so that an answer may stand by itself.
    """

    before: str
    name: str
    beside: tuple[str, ...]
    listed: bool


_BRACES = re.compile(r"\{([^{}]*)\}")


@functools.lru_cache(maxsize=4096)
def _blanks(text: str) -> tuple[tuple[_Blank, ...], str]:
    """The places to fill in a text, and what stands behind the last."""
    found = list(_BRACES.finditer(text))
    names = [one[1].strip() for one in found]
    ends = [0, *(one.end() for one in found)]
    blanks = tuple(
        _Blank(
            text[ends[at] : one.start()],
            names[at],
            (*reversed(names[:at]), *names[at + 1 :]),
            text[: one.start()].rstrip().endswith((":", "(")),
        )
        for at, one in enumerate(found)
    )
    return blanks, text[ends[-1] :]


def _missing(state: Missing, blank: _Blank, spanish: bool) -> str:
    """A state, so that it reads right where it stands; Spanish has no names of the words."""
    said = STATES_IN_SPANISH[state] if spanish else str(state)
    if blank.listed:
        return said
    return f"[{said}]" if spanish else f"[{blank.name}: {said}]"


def _between(word: Word, fact: Fact, spanish: bool) -> str:
    assert fact.bounds is not None
    if spanish:
        least, most = (shown_in_spanish(word, bound) for bound in fact.bounds)
        return f"{least} a {most} (no se sabe con más exactitud)"
    least, most = (shown(word, bound) for bound in fact.bounds)
    return f"{least} to {most} (not known more exactly)"


def shown_in_spanish(word: Word, value: FactValue) -> str:
    """A value as a Spanish reader has it: a label, a text and a firm's own choices as written."""
    if isinstance(value, Missing):
        return STATES_IN_SPANISH[value]
    if isinstance(value, str):
        return choices_in_spanish(word).get(value, value)
    if word.kind is Kind.DATE:
        return day_in_spanish(dt.date.fromordinal(value))
    return figure_in_spanish(shown(word, value))


def _unit_of_answer(kind: Kind, words: Mapping[str, Word], beside: Iterable[str]) -> str | None:
    """The unit of the answer that a figure of a kind is read beside; none if there is none."""
    answers = (words[name] for name in beside if name in words)
    return next((word.unit for word in answers if word.kind is kind), None)


def figure_beside(written: str, kind: Kind, count: int, unit: str | None) -> str:
    """A figure of the book beside an answer: as written, and in the answer's unit if that differs.

    Args:
        written: as the book has it, such as ``1.2 m``.
        kind: what it measures.
        count: the figure in whole steps of its kind.
        unit: in which the answer is printed; none if there is no answer to compare it with.
    """
    if unit is None:
        return written
    other = write_steps(count, kind, unit)
    same = units_of(written, kind) == units_of(other, kind)
    return written if same else f"{written} [{other}]"


def limit_beside(limit: Limit, unit: str | None) -> str:
    """The figure of a limit beside an answer that is printed in a unit; see ``figure_beside``."""
    return figure_beside(limit.shown, Kind(limit.kind), limit.steps, unit)
