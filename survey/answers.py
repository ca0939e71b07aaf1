"""From raw cells to answers: the one place where what people wrote becomes a value.

A blank is not known. What can't be read is a :class:`~survey.errors.Problem` and not known;
it never becomes a guess.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from survey.errors import Problem
from survey.model import LISTS, Answer, Picture, Row, Survey, Value
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Missing,
    Subject,
    Units,
    Vocabulary,
    Word,
    tidy,
)
from survey.vocabulary.reading import (
    Labels,
    Read,
    Unusable,
    as_label,
    as_text,
    read_reference,
    reader,
)

__all__ = [
    "MOST_ROWS", "PERHAPS_OWN", "RawRow", "RawSurvey", "as_asked", "as_text", "read_survey",
    "unlisted", "unreadable_choices",
]  # fmt: skip
MOST_ROWS = 200  # rows of one list that a file may have
PERHAPS_OWN = (
    "A key that no question has may be that of a question in a firm's own rules: give them with "
    "'--rules'."
)
_LONGEST_SHOWN = 80
_LONGEST_LABEL = 60
_MOST_BOOKS = 8

# Places on the sheet that are no row of the form.
_RESERVED = re.compile(r"site|wall not known|any .* not listed")
_SLASH = re.compile(r"(?<!\S)/(?!\S)")  # between two labels it stands for a pair of places


@dataclass(frozen=True, slots=True)
class RawRow:
    """One row as it stands in the file.

    Args:
        where: where the row stands, such as ``Piers!row 7``.
        label: the text of its label cell, empty if blank.
        cells: what stands in each question's cell, with the cell's place, by word name.
        label_where: place of the label's cell.
    """

    where: str
    label: str
    cells: Mapping[str, tuple[object, str]]
    label_where: str = ""


@dataclass(frozen=True, slots=True)
class RawSurvey:
    """A survey as it stands in a file, before any answer is read.

    Args:
        name: the file's name without its folder and ending.
        site: the answers about the site.
        lists: the rows of each list.
        stray: what stands in the file outside the questions, and so was not read.
        units: in which a bare number is read.
        pictures: those that stand in the file.
        notes: what whoever reads the sheet should know of the file, such as an older form.
    """

    name: str
    site: RawRow
    lists: Mapping[Subject, Sequence[RawRow]] = field(default_factory=dict)
    stray: tuple[Problem, ...] = ()
    units: Units = Units.US_CUSTOMARY
    pictures: tuple[Picture, ...] = ()
    notes: tuple[str, ...] = ()


def read_survey(
    raw: RawSurvey, vocabulary: Vocabulary = VOCABULARY
) -> tuple[Survey, tuple[Problem, ...]]:
    """Read every answer of a survey.

    Args:
        raw: the survey, opened with the same vocabulary.
        vocabulary: the questions to answer; one that the file does not ask is not known.

    Returns:
        The survey, in which each unusable answer is not known, and the problems: first what
        stands outside the questions, then the answers in the order of the form.
    """
    problems = list(raw.stray)
    questions = _questions(vocabulary, raw.units)
    labels = {s: _labels(s, raw.lists.get(s, ()), problems) for s in LISTS}
    named = {subject: Labels(listed) for subject, listed in labels.items()}

    def read(subject: Subject, label: str, row: RawRow) -> Row:
        answers = _read_answers(questions[subject], row, named, problems)
        return Row(subject, label, answers, row.where)

    site = read(Subject.SITE, "site", raw.site)
    lists = {
        name: tuple(
            read(subject, label, row)
            for label, row in zip(labels[subject], raw.lists.get(subject, ()), strict=True)
        )
        for subject, name in LISTS.items()
    }
    survey = Survey(
        raw.name, site, **lists, pictures=raw.pictures, notes=raw.notes, units=raw.units,
        vocabulary=vocabulary,
    )  # fmt: skip
    return survey, tuple(problems)


def unlisted(survey: Survey, subject: Subject) -> Row | None:
    """The row that stands for whatever an open list has left out, or none if it is closed.

    All of its answers are not known, so that whatever a rule says of every row of the list
    can only be told once the list is known to be complete.
    """
    closing = survey.site.answers[CLOSED_BY[subject]]
    if closing.value == "yes":
        return None
    words = survey.vocabulary.asked_of(subject)
    answers = {word.name: Answer(NOT_KNOWN, closing.where) for word in words}
    return Row(subject, f"any {subject.value} not listed", answers, closing.where, listed=False)


def _labels(subject: Subject, rows: Iterable[RawRow], problems: list[Problem]) -> list[str]:
    """A label of its own for each row; one given twice names none of them: no guess at which."""
    rows = list(rows)
    given = [as_label(row.label) for row in rows]
    times = Counter(label.lower() for label in given)
    labels: list[str] = []
    for row, label in zip(rows, given, strict=True):
        where, place = row.label_where or row.where, row.where.split("!")[-1]
        own = label
        if not label:
            problems.append(Problem(where, tidy(row.label), f"a label for this {subject.value}"))
            own = place
        elif len(label) > _LONGEST_LABEL:
            expected = f"a label of at most {_LONGEST_LABEL} letters"
            problems.append(Problem(where, label[:_LONGEST_SHOWN], expected))
            own = place
        elif _RESERVED.fullmatch(label.lower()):
            expected = "another label: this one has a meaning of its own on the sheet"
            problems.append(Problem(where, label, expected))
            own = f"{label} ({place})"
        elif _SLASH.search(label):
            expected = "a label without ' / ', which on the sheet stands between two places"
            problems.append(Problem(where, label, expected))
            own = f"{_SLASH.sub('-', label)} ({place})"
        elif times[label.lower()] > 1:
            expected = f"a label that no other {subject.value} has"
            problems.append(Problem(where, label, expected))
            own = f"{label} ({place})"
        while own != label and own.lower() in {*times, *(other.lower() for other in labels)}:
            own = f"{own} ({place})"
        labels.append(own)
    return labels


class _Question(NamedTuple):
    """A question as one form asks it, and how its cells are read."""

    name: str
    word: Word
    read: Callable[[object], Read]
    refers_to: Subject | None
    always_applies: bool


@lru_cache(maxsize=_MOST_BOOKS)
def _questions(vocabulary: Vocabulary, units: Units) -> Mapping[Subject, tuple[_Question, ...]]:
    return {
        subject: tuple(
            _Question(w.name, w, reader(w, units), w.refers_to, w.asks_when is None)
            for w in vocabulary.asked_of(subject)
        )
        for subject in (Subject.SITE, *LISTS)
    }


def _read_answers(
    questions: Sequence[_Question],
    raw: RawRow,
    labels: Mapping[Subject, Labels],
    problems: list[Problem],
) -> Mapping[str, Answer]:
    answers: dict[str, Answer] = {}
    cells, blank = raw.cells, (None, raw.where)
    for name, word, read, refers_to, always_applies in questions:
        cell, where = cells.get(name, blank)
        value: Value = NOT_KNOWN
        if cell is not None:
            got = read_reference(word, cell, labels[refers_to]) if refers_to else read(cell)
            if isinstance(got, Unusable):
                problems.append(Problem(where, _shown(cell), got.expected, got.nearest))
            elif got is DOES_NOT_APPLY and always_applies:
                expected = f"an answer: '{name}' always applies. {word.help}".rstrip()
                problems.append(Problem(where, _shown(cell), expected))
            else:
                value = got
        if not always_applies:
            value = as_asked(word, value, cell, answers, where=where, problems=problems)
        answers[name] = Answer(value, where)
    if lost := cells.keys() - answers.keys():
        raise ValueError(f"opened with another vocabulary, which asks {', '.join(sorted(lost))}")
    return answers


def as_asked(
    word: Word,
    value: Value,
    read: object,
    earlier: Mapping[str, Answer],
    *,
    where: str,
    problems: list[Problem],
) -> Value:
    """Settle whether a question applies, by the earlier answer that it depends on.

    Args:
        word: a question with a condition.
        value: what was answered.
        read: what stands in the cell, for the problem.
        earlier: the answers of the same row so far.
        where: its cell.
        problems: takes a problem where the two answers contradict each other.
    """
    assert word.asks_when is not None
    governing = earlier[word.asks_when.word].value
    if governing is NOT_KNOWN:
        return NOT_KNOWN  # it may turn out not to apply at all, whatever is written here
    applies = governing in word.asks_when.choices
    if applies and value is not DOES_NOT_APPLY:
        return value
    if not applies and isinstance(value, Missing):
        return DOES_NOT_APPLY
    because = f"because '{word.asks_when.word}' is '{governing}'"
    expected = (
        f"an answer, {because}" if applies else f"no answer here, {because}; change one of the two"
    )
    problems.append(Problem(where, _shown(read), expected))
    return NOT_KNOWN if applies else DOES_NOT_APPLY


def unreadable_choices(word: Word) -> tuple[str, ...]:
    """The choices of a question that no cell can give: they read as another, or as none.

    Such are ``unknown``, which says that the answer is not known, and ``½`` beside ``1/2``.
    """
    read = reader(word, Units.US_CUSTOMARY)
    return tuple(choice for choice in word.choices if read(choice) != choice)


def _shown(read: object) -> str:
    return tidy(as_text(read))[:_LONGEST_SHOWN]
