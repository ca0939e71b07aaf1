"""A survey as it was judged, in plain JSON, and back again.

Values are in the canonical unit of their kind, so nothing is rounded or read anew. Every answer
has its cell, and is one of three things that can't be taken for each other: a value, a day, or a
state (``not known``, ``does not apply``). Pictures are not kept; a record has their fingerprints.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from survey.answers import MOST_ROWS, as_asked, as_text
from survey.errors import Problem, UserError
from survey.model import LISTS, Answer, Row, Survey, Value
from survey.vocabulary import (
    NOT_KNOWN,
    Kind,
    Missing,
    Subject,
    Units,
    Vocabulary,
    Word,
    tidy,
    write_quantity,
)

if sys.version_info >= (3, 12):
    from typing import TypedDict
else:  # pydantic makes the schema of these types only from 3.12 on
    from typing_extensions import TypedDict

_MOST_FAULTS = 20
_LONGEST_SHOWN = 80
_GREATEST = 1e15


class KeptValue(TypedDict):
    """An answer that is a text, a choice or a figure in the canonical unit of its kind."""

    value: str | float
    cell: str


class KeptDay(TypedDict):
    """An answer that is a day."""

    date: str
    cell: str


class KeptState(TypedDict):
    """An answer that is no value."""

    state: Literal["not known", "does not apply"]
    cell: str


KeptAnswer = KeptValue | KeptDay | KeptState


class KeptRow(TypedDict):
    """One thing on site: where its row stands, and the answer to every question about it.

    Not listed is a row that stands for what an open list may have left out.
    """

    label: str
    cell: str
    listed: bool
    answers: dict[str, KeptAnswer]


class KeptProblem(TypedDict):
    """A cell to put right: what stands in it was not used."""

    cell: str
    read: str
    expected: str
    nearest: str | None


class KeptSurvey(TypedDict):
    """A survey as it was judged: each list in the order of the form."""

    name: str
    units: Literal["US customary", "metric"]
    notes: list[str]
    problems: list[KeptProblem]
    site: KeptRow
    walls: list[KeptRow]
    piers: list[KeptRow]
    utilities: list[KeptRow]
    neighbours: list[KeptRow]
    soil_layers: list[KeptRow]
    photos: list[KeptRow]
    releases: list[KeptRow]


class KeptError(UserError):
    """What was to be a kept survey is none; ``faults`` has each reason."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(self.faults))


def keep(survey: Survey, problems: Iterable[Problem]) -> KeptSurvey:
    """A survey with its problems, ready for JSON. Numbers stay as they are, to the last bit."""
    kept: Any = {
        "name": survey.name,
        "units": survey.units.value,
        "notes": list(survey.notes),
        "problems": [keep_problem(problem) for problem in problems],
        "site": _row(survey.site),
    }
    for subject, name in LISTS.items():
        kept[name] = [_row(row) for row in survey.rows(subject)]
    whole: KeptSurvey = kept
    return whole


def keep_problem(problem: Problem) -> KeptProblem:
    """A cell to put right, ready for JSON."""
    return {
        "cell": problem.where,
        "read": problem.read,
        "expected": problem.expected,
        "nearest": problem.nearest,
    }


def _row(row: Row) -> KeptRow:
    return {
        "label": row.label,
        "cell": row.where,
        "listed": row.listed,
        "answers": {name: _answer(answer) for name, answer in row.answers.items()},
    }


def _answer(answer: Answer) -> KeptAnswer:
    value, where = answer
    if isinstance(value, (str, float, int)):
        return {"value": value, "cell": where}
    if isinstance(value, dt.date):
        return {"date": value.isoformat(), "cell": where}
    return {"state": value.value, "cell": where}


def value_of(answer: KeptAnswer) -> Value:
    """The answer that was kept, in a record of ours."""
    kept: Any = answer
    if "state" in kept:
        return Missing(kept["state"])
    value: Value = dt.date.fromisoformat(kept["date"]) if "date" in kept else kept["value"]
    return value


def restore(kept: object, vocabulary: Vocabulary) -> tuple[Survey, tuple[Problem, ...]]:
    """The survey that was kept, with its problems.

    With the vocabulary of the book that judged it, both are as they were. With another one, a
    question that is new is not known; an answer that the questions no longer take is a problem,
    as it is when a form is read, and not known.

    Args:
        kept: what stands in a record or a sheet; it may be anything.
        vocabulary: the questions of the book that is to judge it.

    Raises:
        KeptError: it is no kept survey; all faults at once, the first twenty of them.
    """
    return _Restorer(vocabulary).survey(kept)


class _Restorer:
    """Reads one kept survey; notes what it is not."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self._faults: list[str] = []
        self._new: list[Problem] = []

    def survey(self, kept: object) -> tuple[Survey, tuple[Problem, ...]]:
        top = self._table(kept, "the survey")
        name = self._text(top, "name", "the survey")
        units = self._text(top, "units", "the survey")
        if units not in {one.value for one in Units}:
            self._fault(f"units: '{units[:_LONGEST_SHOWN]}' are none")
            units = Units.US_CUSTOMARY.value
        notes = tuple(
            note for note in self._list(top, "notes") if self._is(note, str, "notes", "a text")
        )
        problems = tuple(
            self._problem(one, f"problems[{i}]")
            for i, one in enumerate(self._list(top, "problems"), start=1)
        )
        site = self._row(top.get("site"), Subject.SITE, "site")
        lists: Any = {name: self._rows(top, subject, name) for subject, name in LISTS.items()}
        if self._faults:
            raise KeptError(self._faults)
        survey = Survey(
            name, site, **lists, notes=notes, units=Units(units), vocabulary=self._vocabulary
        )
        known = set(problems)
        return survey, (*problems, *(new for new in self._new if new not in known))

    def _problem(self, kept: object, path: str) -> Problem:
        table = self._table(kept, path)
        nearest = table.get("nearest")
        if nearest is not None:
            self._is(nearest, str, f"{path}.nearest", "a text or null")
        cell, read, expected = (self._text(table, k, path) for k in ("cell", "read", "expected"))
        return Problem(cell, read, expected, nearest)

    def _rows(self, top: Mapping[str, Any], subject: Subject, name: str) -> tuple[Row, ...]:
        kept = self._list(top, name)
        if len(kept) > MOST_ROWS:
            self._fault(f"{name}: {len(kept)} rows; a survey has at most {MOST_ROWS}")
            return ()
        rows = tuple(self._row(one, subject, f"{name}[{i}]") for i, one in enumerate(kept, start=1))
        if len({row.label.lower() for row in rows}) < len(rows):
            self._fault(f"{name}: two rows have the same label")
        return rows

    def _row(self, kept: object, subject: Subject, path: str) -> Row:
        table = self._table(kept, path)
        label = self._text(table, "label", path)
        where = self._text(table, "cell", path)
        answers = self._table(table.get("answers"), f"{path}.answers")
        listed = table.get("listed")
        self._is(listed, bool, f"{path}.listed", "true or false")
        return Row(
            subject, label, self._answers(answers, subject, where, path), where, listed is True
        )

    def _answers(
        self, kept: Mapping[str, Any], subject: Subject, row_where: str, path: str
    ) -> Mapping[str, Answer]:
        answers: dict[str, Answer] = {}
        for word in self._vocabulary.asked_of(subject):
            answer = kept.get(word.name)
            value, where = (
                (NOT_KNOWN, row_where)
                if answer is None
                else self._answer(answer, f"{path}.answers.{word.name}")
            )
            value = self._taken(word, value, where)
            if word.asks_when is not None:
                value = as_asked(
                    word, value, _shown(word, value), answers, where=where, problems=self._new
                )
            answers[word.name] = Answer(value, where)
        for name in kept.keys() - answers.keys():
            value, where = self._answer(kept[name], f"{path}.answers.{name[:_LONGEST_SHOWN]}")
            if not isinstance(value, Missing):
                expected = f"nothing: the rules no longer ask '{name[:_LONGEST_SHOWN]}'"
                self._new.append(Problem(where, str(value)[:_LONGEST_SHOWN], expected))
        return answers

    def _answer(self, kept: object, path: str) -> tuple[Value, str]:
        table = self._table(kept, path)
        where = self._text(table, "cell", path)
        told = table.keys() - {"cell"}
        if told == {"state"} and table["state"] in ("not known", "does not apply"):
            return Missing(table["state"]), where
        if told == {"date"} and isinstance(table["date"], str):
            try:
                return dt.date.fromisoformat(table["date"]), where
            except ValueError:
                pass
        if told == {"value"}:
            value = table["value"]
            if isinstance(value, str) or _is_number(value):
                return value, where
        self._fault(f"{path}: no value, day or state")
        return NOT_KNOWN, where

    def _taken(self, word: Word, value: Value, where: str) -> Value:
        """The answer if the question takes it; else a problem, and not known."""
        if isinstance(value, Missing):
            if value is NOT_KNOWN or word.asks_when is not None:
                return value
            expected = f"an answer: '{word.name}' always applies"
        elif _takes(word, value):
            return value
        else:
            expected = f"{word.kind.one} that '{word.name}' takes"
        self._new.append(Problem(where, _shown(word, value), expected))
        return NOT_KNOWN

    def _table(self, kept: object, path: str) -> Mapping[str, Any]:
        if isinstance(kept, dict):
            return kept
        self._fault(f"{path}: missing, or no table")
        return {}

    def _list(self, table: Mapping[str, Any], key: str) -> Sequence[Any]:
        kept = table.get(key)
        if isinstance(kept, list):
            return kept
        self._fault(f"{key}: missing, or no list")
        return ()

    def _text(self, table: Mapping[str, Any], key: str, path: str) -> str:
        kept = table.get(key)
        self._is(kept, str, f"{path}.{key}", "a text")
        return kept if isinstance(kept, str) else ""

    def _is(self, kept: object, kind: type, path: str, expected: str) -> bool:
        if not isinstance(kept, kind):
            self._fault(f"{path}: expected {expected}")
            return False
        return True

    def _fault(self, fault: str) -> None:
        if len(self._faults) < _MOST_FAULTS and fault not in self._faults:
            self._faults.append(fault)


def _is_number(value: object) -> bool:
    """Whether it is a figure that can be worked with: neither endless nor no number."""
    return type(value) in (int, float) and -_GREATEST < value < _GREATEST  # type: ignore[operator]


def _takes(word: Word, value: object) -> bool:
    """Whether an answer is of the sort and in the range that its question takes."""
    if word.kind in (Kind.CHOICE, Kind.YES_NO):
        return value in word.choices
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        return isinstance(value, str)
    if word.kind is Kind.DATE:
        return isinstance(value, dt.date)
    if not isinstance(value, (int, float)) or (word.kind is Kind.COUNT and value != int(value)):
        return False
    low, high = word.low, word.high
    return (low is None or value >= low) and (high is None or value <= high)


def _shown(word: Word, value: Value) -> str:
    """An answer as it is told among the problems."""
    if isinstance(value, Missing):
        return str(value)
    if isinstance(value, (int, float)) and word.measured:
        return write_quantity(value, word.kind, word.unit)
    return tidy(as_text(value))[:_LONGEST_SHOWN]
