"""The values that are tried of an answer: every choice; of figures and days those that may matter.

Figures are tried at and beside the limits that a rule compares them with, at the ends of what is
plausible, at what stands in other rows, and between. What is not tried is not told.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from survey.answers import unreadable_choices
from survey.engineering import dates
from survey.model import Row, Survey, Value
from survey.rulebook.rules import Comparison, RuleBook, comparisons
from survey.vocabulary import NOT_KNOWN, Kind, Subject, Word, from_steps

# They stand for any name, any text and any licence that says something.
ANY_TEXT = "Any Name"
ANY_LICENCE = "any licence, number 1"
_MOST_LIKELY, _MOST_DAYS = 6, 8
_SCALES = (0.75, 1.25, 0.5, 1.5, 2.0)
_SHARES = (0.1, 0.5, 0.9, 0.3, 0.7, 0.03)
_DAYS_ON = (1, 7, 14, 28)
_CREW_DAYS = ("crew date", "last crew date")


@dataclass(frozen=True)
class Values:
    """Gives the values that are tried.

    Args:
        survey: as it is.
        book: the rules, whose limits are tried.
        today: no crew is sent on an earlier day.
        days: further days to try for the crew, such as the earliest and the latest that suit.
    """

    survey: Survey
    book: RuleBook
    today: dt.date
    days: tuple[dt.date, ...] = ()

    @cached_property
    def _kept(self) -> dict[tuple[str, str], tuple[Value, ...]]:
        return {}

    def of(self, word: Word, row: Row) -> tuple[Value, ...]:
        """The values to try of an answer, other than the one that it has, likely ones first."""
        key = word.name, row.label
        if key not in self._kept:
            answer = row.answers.get(word.name)
            own = NOT_KNOWN if answer is None else answer.value
            found = dict.fromkeys(self._every(word, row, own))
            self._kept[key] = tuple(value for value in found if value != own)
        return self._kept[key]

    def _every(self, word: Word, row: Row, own: Value) -> Iterable[Value]:
        match word.kind:
            case Kind.CHOICE | Kind.YES_NO:
                unreadable = unreadable_choices(word)
                return [choice for choice in word.choices if choice not in unreadable]
            case Kind.REFERENCE:
                subject = Subject.WALL if word.refers_to is None else word.refers_to
                return [one.label for one in self.survey.rows(subject)]
            case Kind.TEXT:
                return [ANY_TEXT]
            case Kind.DATE:
                return self._some_days(word)
            case _:
                return self._figures(word, row, own)

    def _figures(self, word: Word, row: Row, own: Value) -> Iterable[float]:
        """Figures within the plausible range: likely ones, some spread over it, and both ends.

        Limits behind what is worked out or concluded are not known here: the spread stands in.
        """
        ends = [end for end in (word.low, word.high) if end is not None]
        likely = dict.fromkeys(filter(partial(_plausible, word), self._likely(word, row, own)))
        spread = filter(partial(_plausible, word), _spread(word))
        return [*list(likely)[:_MOST_LIKELY], *spread, *ends]

    def _likely(self, word: Word, row: Row, own: Value) -> Iterator[float]:
        for other in self.survey.rows(word.subject):
            answer = other.answers.get(word.name)
            if other is not row and answer is not None and isinstance(answer.value, (int, float)):
                yield float(answer.value)
        for turn in self._turns.get(word.name, ()):
            beside = _beside(word, turn)
            yield from (turn, turn + beside, turn - beside)
        if isinstance(own, (int, float)):
            yield from (_tidy(word, own * scale) for scale in _SCALES)

    @cached_property
    def _turns(self) -> Mapping[str, tuple[float, ...]]:
        """The figures that rules compare each answer with."""
        found: dict[str, dict[float, None]] = {}
        for rule in self.book:
            for clause in comparisons(rule.condition):
                if isinstance(clause, Comparison) and clause.word.itself.asked:
                    word = clause.word.itself
                    if isinstance(clause.operand, int) and (
                        word.measured or word.kind is Kind.COUNT
                    ):
                        turn = from_steps(word.kind, clause.operand)
                        found.setdefault(word.name, {})[turn] = None
        return {name: tuple(turns) for name, turns in found.items()}

    def _some_days(self, word: Word) -> Iterable[dt.date]:
        days = [day for day in self._every_day(word) if self._may_be(word, day)]
        return list(dict.fromkeys(days))[:_MOST_DAYS]

    def _may_be(self, word: Word, day: dt.date) -> bool:
        return word.name not in _CREW_DAYS or day >= self.today

    def _every_day(self, word: Word) -> Iterator[dt.date]:
        first, last = (self.survey.site.value(name) for name in _CREW_DAYS)
        stay = dt.timedelta(0)
        if isinstance(first, dt.date) and isinstance(last, dt.date) and last > first:
            stay = last - first
        for day in self.days:
            yield day + stay if word.name == "last crew date" else day
        for name in ("ticket end", "ticket start", "survey date", *_CREW_DAYS):
            known = self.survey.site.value(name)
            if isinstance(known, dt.date):
                yield known
        start = first if isinstance(first, dt.date) and first > self.today else self.today
        for on in _DAYS_ON:
            day = self._working_day(start + dt.timedelta(on))
            yield day + stay if word.name == "last crew date" else day
        for name in _CREW_DAYS:
            known = self.survey.site.value(name)
            if isinstance(known, dt.date):
                yield from (known - dt.timedelta(on) for on in _DAYS_ON)

    def _working_day(self, day: dt.date) -> dt.date:
        """The day itself, or the first after it on which people work."""
        given = self.survey.site.value("state")
        state = given if isinstance(given, str) else None
        while dates.is_off(day, state) is True:
            day += dt.timedelta(1)
        return day


def _plausible(word: Word, figure: float) -> bool:
    return (word.low is None or figure >= word.low) and (word.high is None or figure <= word.high)


def _spread(word: Word) -> Iterator[float]:
    """Figures spread over the plausible range."""
    if word.low is not None and word.high is not None:
        span = word.high - word.low
        yield from (_tidy(word, word.low + share * span) for share in _SHARES)


def _tidy(word: Word, figure: float) -> float:
    """A figure as people would write it."""
    if word.kind is Kind.COUNT:
        return float(round(figure))
    if word.kind is Kind.LENGTH:
        return float(round(figure)) if abs(figure) >= 4 else round(figure * 4) / 4
    return float(f"{figure:.2g}")


def _beside(word: Word, figure: float) -> float:
    """How far beside a limit a figure is tried."""
    if word.kind is Kind.COUNT:
        return 1.0
    if word.kind is Kind.LENGTH:
        return 1.0 if figure >= 4 else 0.25
    return _tidy(word, figure / 20) or 0.1


def halfway(word: Word, one: Value, other: Value) -> Value | None:
    """A figure or a day about halfway between two, as people would write it; none if none is."""
    if isinstance(one, dt.date) and isinstance(other, dt.date):
        return one + (other - one) // 2
    assert isinstance(one, (int, float))
    assert isinstance(other, (int, float))
    middle = _tidy(word, (one + other) / 2)
    return middle if min(one, other) < middle < max(one, other) else None
