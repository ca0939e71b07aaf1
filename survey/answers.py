"""From raw cells to answers: the one place where what people wrote becomes a value.

A blank is not known. What can't be read is a :class:`~survey.errors.Problem` and not known;
it never becomes a guess.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field

from survey.errors import Problem
from survey.model import LISTS, Answer, Picture, Row, Survey, Value
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Missing,
    QuantityError,
    Subject,
    Units,
    Vocabulary,
    Word,
    nearest,
    plain_number,
    read_quantity,
    tidy,
    write_quantity,
)

_NOT_KNOWN = {"", "not known", "unknown", "not sure", "could not see", "?", "nk", "n/k",
              "no se sabe", "desconocido"}  # fmt: skip
_DOES_NOT_APPLY = {"does not apply", "doesn't apply", "n/a", "na", "not applicable", "no aplica"}
_YES = {"yes", "y", "true", "sí", "si"}
_NO = {"no", "n", "false"}
_SPREADSHEET_ERRORS = {"#div/0!", "#ref!", "#value!", "#name?", "#num!", "#n/a", "#null!",
                       "#getting_data", "#spill!", "#calc!"}  # fmt: skip
MOST_ROWS = 200  # rows of one list that a file may have
PERHAPS_OWN = (
    "A key that no question has may be that of a question in a firm's own rules: give them with "
    "'--rules'."
)
_FIRST_YEAR, _LAST_YEAR = 2000, 2100
_LONGEST_TEXT = 2000
_LONGEST_LABEL = 60
_SHORTEST_PART = 3
_DAY_FORMATS = ("%Y-%m-%d", "%d %b %Y", "%d %B %Y", "%b %d %Y", "%B %d %Y", "%b %d, %Y",
                "%B %d, %Y")  # fmt: skip
_NUMBERS_OF_DAY = re.compile(r"(\d{1,2}|\d{4})[/.-](\d{1,2})[/.-](\d{4}|\d{1,2})")
_A_DAY = "a date such as 2026-04-03 or 3 Apr 2026"

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
    """

    name: str
    site: RawRow
    lists: Mapping[Subject, Sequence[RawRow]] = field(default_factory=dict)
    stray: tuple[Problem, ...] = ()
    units: Units = Units.US_CUSTOMARY
    pictures: tuple[Picture, ...] = ()


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
    labels = {s: _labels(s, raw.lists.get(s, ()), problems) for s in LISTS}

    def read(subject: Subject, label: str, row: RawRow) -> Row:
        answers = _read_answers(vocabulary.asked_of(subject), row, labels, problems)
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
        raw.name, site, **lists, pictures=raw.pictures, units=raw.units, vocabulary=vocabulary
    )
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
    given = [_label(row.label) for row in rows]
    times = Counter(label.lower() for label in given)
    labels: list[str] = []
    for row, label in zip(rows, given, strict=True):
        where, place = row.label_where or row.where, row.where.split("!")[-1]
        own = label
        if not label:
            problems.append(Problem(where, tidy(row.label), f"a label for this {subject.value}"))
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
        while own.lower() in {*times, *(other.lower() for other in labels)} and own != label:
            own = f"{own} ({place})"
        labels.append(own)
    return labels


def _label(text: str) -> str:
    line = tidy(text)
    return "" if line.lower() in _SPREADSHEET_ERRORS else line[:_LONGEST_LABEL].rstrip()


def _read_answers(
    words: Sequence[Word],
    raw: RawRow,
    labels: Mapping[Subject, Sequence[str]],
    problems: list[Problem],
) -> Mapping[str, Answer]:
    if lost := raw.cells.keys() - {word.name for word in words}:
        raise ValueError(f"opened with another vocabulary, which asks {', '.join(sorted(lost))}")
    answers: dict[str, Answer] = {}
    for word in words:
        read, where = raw.cells.get(word.name, (None, raw.where))
        value = _read_answer(word, read, where, labels, problems)
        settled = _as_asked(word, value, read, answers, where=where, problems=problems)
        answers[word.name] = Answer(settled, where)
    return answers


def _as_asked(
    word: Word,
    value: Value,
    read: object,
    earlier: Mapping[str, Answer],
    *,
    where: str,
    problems: list[Problem],
) -> Value:
    """Settle whether the question applies, by the earlier answer that it depends on."""
    if word.asks_when is None:
        if value is DOES_NOT_APPLY:
            problems.append(
                Problem(where, _shown(read), f"an answer: '{word.name}' always applies")
            )
            return NOT_KNOWN
        return value
    governing = earlier[word.asks_when.word].value
    if governing is NOT_KNOWN:
        return NOT_KNOWN  # it may turn out not to apply at all, whatever is written here
    because = f"because '{word.asks_when.word}' is '{governing}'"
    if governing in word.asks_when.choices:
        if value is DOES_NOT_APPLY:
            problems.append(Problem(where, _shown(read), f"an answer, {because}"))
            return NOT_KNOWN
        return value
    if not isinstance(value, Missing):
        expected = f"no answer here, {because}; change one of the two"
        problems.append(Problem(where, _shown(read), expected))
    return DOES_NOT_APPLY


def _read_answer(
    word: Word,
    read: object,
    where: str,
    labels: Mapping[Subject, Sequence[str]],
    problems: list[Problem],
) -> Value:
    text = tidy(as_text(read))
    if read is None or text.lower() in _NOT_KNOWN:
        return NOT_KNOWN
    if text.lower() in _DOES_NOT_APPLY:
        return DOES_NOT_APPLY
    try:
        if text.lower() in _SPREADSHEET_ERRORS:
            raise _UnusableError("an answer; the spreadsheet could not work this cell out")
        return _read_value(word, read, text, labels)
    except _UnusableError as fault:
        problems.append(Problem(where, _shown(text), fault.expected, fault.nearest))
        return NOT_KNOWN


class _UnusableError(Exception):
    def __init__(self, expected: str, nearest: str | None = None) -> None:
        self.expected, self.nearest = expected, nearest


def _read_value(
    word: Word, read: object, text: str, labels: Mapping[Subject, Sequence[str]]
) -> Value:
    match word.kind:
        case Kind.YES_NO:
            return _read_yes_no(text)
        case Kind.CHOICE:
            return _pick(text, word.choices, f"one of: {_listed(word.choices)}")
        case Kind.REFERENCE:
            assert word.refers_to is not None
            listed = labels[word.refers_to]
            known = _listed(listed) if listed else "none is listed"
            return _pick(_label(text), listed, f"the label of a {word.refers_to.value} ({known})")
        case Kind.DATE:
            return _read_date(read, text)
        case Kind.TEXT:
            if len(text) > _LONGEST_TEXT:
                raise _UnusableError(f"at most {_LONGEST_TEXT} characters")
            return text
        case _:
            return _read_measured(word, read, text)


def _pick(text: str, choices: Sequence[str], expected: str) -> str:
    if text in choices:
        return text
    alike = [choice for choice in choices if tidy(choice).lower() == text.lower()]
    if len(alike) == 1:
        return alike[0]
    having = _having(text, choices)
    near = nearest(text, choices) if not having else having[0] if len(having) == 1 else None
    raise _UnusableError(expected, near)


def unreadable_choices(word: Word) -> tuple[str, ...]:
    """The choices of a question that no cell can give: they read as another, or as none.

    Such are ``unknown``, which says that the answer is not known, and ``½`` beside ``1/2``.
    """
    return tuple(c for c in word.choices if _read_answer(word, c, "", {}, []) != c)


def _listed(choices: Iterable[str]) -> str:
    """Choices in a sentence; some hold commas of their own."""
    return " | ".join(f"'{choice}'" for choice in choices)


def _having(text: str, choices: Iterable[str]) -> list[str]:
    """The choices that have the text at the beginning of a word.

    A text of one or two letters must be the first word: a 'no' within a choice says little.
    """
    begins = rf"\b{re.escape(text)}" if len(text) >= _SHORTEST_PART else rf"^{re.escape(text)}\b"
    return [choice for choice in choices if re.search(begins, choice, re.IGNORECASE)]


def _read_yes_no(text: str) -> str:
    if text.lower() in _YES:
        return "yes"
    if text.lower() in _NO:
        return "no"
    raise _UnusableError("yes, no or not known", nearest(text, ("yes", "no", "not known")))


def _read_measured(word: Word, read: object, text: str) -> float:
    unit = "" if word.kind is Kind.COUNT else word.unit  # a bare number is all that it can be
    expected = f"{word.kind.one} in {unit}" if unit else "a whole number"
    if isinstance(read, (bool, dt.date, dt.time, dt.timedelta)):
        raise _UnusableError(f"{expected}, not a date, time or yes/no")
    try:
        value = read_quantity(text, word.kind, unit)
    except QuantityError as fault:
        raise _UnusableError(str(fault)) from None
    if word.kind is Kind.COUNT and value != round(value):
        raise _UnusableError("a whole number")
    low = -math.inf if word.low is None else word.low
    high = math.inf if word.high is None else word.high
    if not low <= value <= high:
        span = " to ".join(write_quantity(v, word.kind, word.unit) for v in (low, high))
        raise _UnusableError(f"{word.name} from {span}")
    return value


def _read_date(read: object, text: str) -> dt.date:
    if isinstance(read, dt.datetime):
        days = [read.date()]
    elif isinstance(read, dt.date):
        days = [read]
    else:
        days = _days(text)
    days = [day for day in days if _FIRST_YEAR <= day.year <= _LAST_YEAR]
    if not days:
        raise _UnusableError(_A_DAY)
    if len(days) > 1:
        *more, last = (day.isoformat() for day in days)
        offered = f"{', '.join(more)} or {last}"
        raise _UnusableError(f"a date that can be read in one way only: {offered}")
    return days[0]


def _days(text: str) -> list[dt.date]:
    """Every day that a text may mean.

    >>> [day.isoformat() for day in _days("3/4/26")]
    ['2026-03-04', '2026-04-03']
    """
    for pattern in _DAY_FORMATS:
        with suppress(ValueError):
            return [dt.datetime.strptime(text, pattern).date()]
    numbers = _NUMBERS_OF_DAY.fullmatch(text)
    if numbers is None:
        return []
    first, middle, last = numbers.groups()
    ways = [(last, first, middle), (last, middle, first)]  # year, month, day
    if len(first) > 1:
        ways.append((first, middle, last))
    found: list[dt.date] = []
    for year, month, day in ways:
        if len(year) == 1 or len(month) > 2 or len(day) > 2:
            continue
        with suppress(ValueError):
            found.append(dt.date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day)))
    return list(dict.fromkeys(found))


def _shown(read: object) -> str:
    return tidy(as_text(read))[:80]


def as_text(read: object) -> str:
    """What stands in a cell, as a person would type it; empty if nothing does."""
    if isinstance(read, bool):
        return "yes" if read else "no"
    if isinstance(read, float) and math.isfinite(read):
        return plain_number(read)
    return "" if read is None else str(read)
