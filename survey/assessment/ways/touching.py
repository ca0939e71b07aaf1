"""What may be touched on a survey, and the survey once it is.

An open question may be answered, a choice of ours may be changed, a release may be asked for, and a
cell may be put right. What was seen on site or states a fact, and is answered, stays as it is; if
it was told of a choice that is changed, it is open again.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from survey.answers import as_asked
from survey.assessment.turning import CREW_DAYS
from survey.assessment.ways.choosing import OURS, told_of
from survey.assessment.ways.values import ANY_LICENCE, ANY_TEXT, Values
from survey.assessment.why_turned import WEATHER
from survey.errors import Problem
from survey.model import LISTS, Answer, Row, Survey, Value
from survey.rulebook.rules import ReleaseBy, Rule, RuleBook
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    Missing,
    Origin,
    Subject,
    Word,
)

_NOT_TOUCHED = (Subject.PHOTO, Subject.RELEASE)
_RELEASES = "the Releases sheet"
RELEASE_RESTS_ON = ("survey date", "crew date", "last crew date", "competent person")


@dataclass(frozen=True, slots=True, order=True)
class Cell:
    """The answer to a question, by the question and the label of its row."""

    word: str
    label: str


@dataclass(frozen=True, slots=True, order=True)
class Release:
    """A release of one finding at one place, by the code of its rule.

    Asking for it is one step for all places of a rule, which has no place.
    """

    code: str
    place: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Mend:
    """A cell to put right that no answer of the survey would put right."""

    where: str


Touched = Cell | Release | Mend
Choices = Mapping[Touched, Value]


@dataclass(frozen=True)
class Touching:
    """What may be touched on one survey.

    Args:
        survey, problems: as it is.
        book: the rules, which say who may lift a finding.
        values: gives the values that are tried.
    """

    survey: Survey
    problems: tuple[Problem, ...]
    book: RuleBook
    values: Values

    @cached_property
    def rows(self) -> Mapping[tuple[Subject, str], Row]:
        """The rows whose answers may be touched."""
        return {
            (row.subject, row.label): row
            for row in self.survey.every_row()
            if row.subject not in _NOT_TOUCHED
        }

    @cached_property
    def rules(self) -> Mapping[str, Rule]:
        """The rules by their codes."""
        return {rule.code: rule for rule in self.book}

    @cached_property
    def _reached(self) -> dict[tuple[str, str], frozenset[tuple[str, str]]]:
        return {}

    def reached(self, word: str, label: str) -> frozenset[tuple[str, str]]:
        """The answers that may be touched and that change an answer if they are.

        The answer itself, and those that decide whether its question applies. What an open list
        left out is reached by the question that closes the list.
        """
        key = word, label
        if key not in self._reached:
            self._reached[key] = frozenset(self._reach(word, label))
        return self._reached[key]

    def _reach(self, name: str, label: str) -> Iterable[tuple[str, str]]:
        word = self.book.vocabulary[name]
        row = self.rows.get((word.subject, label))
        if row is None:
            if word.subject in CLOSED_BY and label == f"any {word.subject.value} not listed":
                yield from self.reached(CLOSED_BY[word.subject], "site")
            return
        while True:
            if self._may_touch(row, word):
                yield word.name, label
            if word.name in WEATHER:
                yield from ((day, label) for day in CREW_DAYS)
            if word.asks_when is None:
                return
            word = self.book.vocabulary[word.asks_when.word]

    def _may_touch(self, row: Row, word: Word) -> bool:
        value = _value(row, word)
        if value is NOT_KNOWN:
            return True
        if value is DOES_NOT_APPLY:  # it may come to apply
            governing = word.asks_when
            return governing is not None and self._may_touch(
                row, self.book.vocabulary[governing.word]
            )
        return word.name in OURS or any(
            self._may_touch(row, self.book.vocabulary[name])
            for name in told_of(word, self.book.vocabulary)
        )

    def told_anew(self, cell: Cell) -> bool:
        """Whether an answer may be touched only because of a choice that it was told of."""
        word = self.book.vocabulary[cell.word]
        known = not isinstance(_value(self.rows[word.subject, cell.label], word), Missing)
        return known and bool(told_of(word, self.book.vocabulary))

    def may_release(self, code: str) -> bool:
        """Whether somebody may lift the findings of a rule."""
        return self.rules[code].release is not ReleaseBy.NOBODY

    def step(self, touched: Touched) -> Touched:
        """The step that touches something.

        What a changed choice opens goes with that choice, and the places of a rule are released
        together.
        """
        if isinstance(touched, Release):
            return Release(touched.code)
        if isinstance(touched, Mend):
            return touched
        word = self.book.vocabulary[touched.word]
        row = self.rows[word.subject, touched.label]
        while (
            word.origin is Origin.CHOSEN
            and (
                _value(row, word) is DOES_NOT_APPLY
                or self.told_anew(Cell(word.name, touched.label))
            )
            and word.asks_when is not None
        ):
            governing = self.book.vocabulary[word.asks_when.word]
            if _value(row, governing) is NOT_KNOWN or governing.origin is not Origin.CHOSEN:
                break
            word = governing
        return Cell(word.name, touched.label)

    def candidates(self, touched: Touched) -> tuple[Value, ...]:
        """The values that are tried of something that is touched."""
        if not isinstance(touched, Cell):
            return ("yes",)
        word = self.book.vocabulary[touched.word]
        row = self.rows[word.subject, touched.label]
        others = self.values.of(word, row)
        return (_value(row, word), *others) if self.told_anew(touched) else others

    @cached_property
    def mended_by(self) -> Mapping[str, Touched]:
        """For each place with a problem, what puts it right: an answer, or the cell by itself."""
        at: dict[str, list[Cell]] = {}
        for (_, label), row in self.rows.items():
            for name, answer in row.answers.items():
                if answer.value is NOT_KNOWN:
                    at.setdefault(answer.where, []).append(Cell(name, label))
        return {
            problem.where: cells[0]
            if len(cells := at.get(problem.where, [])) == 1
            else Mend(problem.where)
            for problem in self.problems
        }

    def touched(self, choices: Choices) -> tuple[Survey, tuple[Problem, ...]]:
        """The survey with some choices made, and the problems that are left."""
        given: dict[tuple[Subject, str], dict[str, Value]] = {}
        for one, value in choices.items():
            if isinstance(one, Cell):
                subject = self.book.vocabulary[one.word].subject
                given.setdefault((subject, one.label), {})[one.word] = value
        survey = self.survey
        for (subject, label), answers in given.items():
            before = self.rows[subject, label]
            after = self._answered(before, answers)
            if subject is Subject.SITE:
                survey = replace(survey, site=after)
            else:
                listed = tuple(
                    after if row is before else row for row in survey.rows(subject)
                )  # fmt: skip
                survey = replace(survey, **{LISTS[subject]: listed})  # type: ignore[arg-type]
        asked: dict[str, list[str]] = {}
        for one in choices:
            if isinstance(one, Release):
                asked.setdefault(one.code, []).append(one.place)
        if asked:
            rows = (self._release_row(code, asked[code], survey) for code in sorted(asked))
            survey = replace(survey, releases=(*survey.releases, *rows))
        left = tuple(p for p in self.problems if self.mended_by[p.where] not in choices)
        return survey, left

    def _answered(self, row: Row, given: Mapping[str, Value]) -> Row:
        """A row with other answers.

        What comes to apply, or was told of another choice, is not known; what no longer applies
        goes.
        """
        answers, changed = dict(row.answers), self._changed(row, given)
        for word in self.book.vocabulary.asked_of(row.subject):
            before = answers.get(word.name, Answer(NOT_KNOWN, row.where))
            value = given.get(word.name, before.value)
            choices = told_of(word, self.book.vocabulary)
            if choices and not isinstance(before.value, Missing):
                value = given.get(word.name, NOT_KNOWN) if choices & changed else before.value
            if word.asks_when is not None:
                # What stood there under another choice is taken out, and is no contradiction.
                value = as_asked(word, value, "", answers, where=before.where, problems=[])
            answers[word.name] = Answer(value, before.where)
        return replace(row, answers=answers)

    def _changed(self, row: Row, given: Mapping[str, Value]) -> set[str]:
        """The choices that are other ones; a last day that nobody had set is no other day."""
        return {
            name
            for name, value in given.items()
            if value != (was := _value(row, self.book.vocabulary[name]))
            and not self.told_anew(Cell(name, row.label))
            and not (name == "last crew date" and was is NOT_KNOWN)
        }

    def _release_row(self, code: str, places: list[str], survey: Survey) -> Row:
        """The row of a release that holds over the crew's days, given by whom its rule asks for."""
        site, whom = survey.site, self.rules[code].release
        engineer = whom is ReleaseBy.ENGINEER
        values: dict[str, Value] = {
            "released finding": code,
            "released place": "; ".join(sorted(places)),
            "released by": ANY_TEXT if engineer else site.value("competent person"),
            "releasing role": whom.value,
            "licence number": ANY_LICENCE if engineer else DOES_NOT_APPLY,
            "release date": self.release_date(site),
            "release end": site.value("last crew date"),
            "release note": ANY_TEXT,
        }
        words = survey.vocabulary.asked_of(Subject.RELEASE)
        answers = {w.name: Answer(values.get(w.name, NOT_KNOWN), _RELEASES) for w in words}
        return Row(Subject.RELEASE, f"asked for: {code}", answers, _RELEASES)

    def release_date(self, site: Row) -> Value:
        """The first day on which it can be given: not before the survey, and never backdated."""
        surveyed = site.value("survey date")
        return max(self.values.today, surveyed) if isinstance(surveyed, dt.date) else NOT_KNOWN


def _value(row: Row, word: Word) -> Value:
    """An answer; not known where the survey was read without the question."""
    answer = row.answers.get(word.name)
    return NOT_KNOWN if answer is None else answer.value
