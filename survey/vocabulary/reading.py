"""What stands in a cell, read as the answer to a question: a value, or what to write instead.

A blank is not known. What can't be read, or could mean two things, never becomes a guess.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from survey.vocabulary.days import A_DAY, FIRST_YEAR, LAST_YEAR, DayError, read_day
from survey.vocabulary.kinds import Kind, Units
from survey.vocabulary.places import OUTSIDE, SPELLINGS
from survey.vocabulary.quantity import QuantityError, plain_number, read_quantity, write_quantity
from survey.vocabulary.spanish import choices_in_spanish
from survey.vocabulary.spelling import (
    ALWAYS_NOT_KNOWN,
    folded,
    number_word,
    says_does_not_apply,
    says_not_known,
    tidy,
    yes_or_no,
)
from survey.vocabulary.states import DOES_NOT_APPLY, NOT_KNOWN, Missing
from survey.vocabulary.words import Subject, Word, nearest

_SPREADSHEET_ERRORS = frozenset(
    {"#div/0!", "#ref!", "#value!", "#name?", "#num!", "#n/a", "#null!", "#getting_data",
     "#spill!", "#calc!"}
)  # fmt: skip
_LONGEST_TEXT, _LONGEST = 2000, 400
_SHORTEST_PART = 3
_LONGEST_KEPT, _MOST_KEPT = 100, 256  # letters of a cell, cells of a question
_NUMBER_AND_NOUN = re.compile(r"(\S+)\s+([^\W\d_]+)")
# Choices as earlier forms had them, and States by their names.
_ALSO: Mapping[str, Mapping[str, str]] = {
    # As 29 CFR 1926.1202 writes it; the choice that reads most like it would be the opposite.
    "confined space finding": dict.fromkeys(
        (
            "permit-required confined space",
            "permit required confined space",
            "permit-required space",
            "confined space, permit needed",
            "confined space, permit required",
            "confined space, permit-required",
        ),
        "permit space",
    ),
    "dip into pit": {"less than 4H:1V": "flatter than 4H:1V"},
    "state": SPELLINGS,
}
# What is expected where the choices are too many to be listed.
_EXPECTED = {"state": f"a State by its two letters, such as 'KS', or '{OUTSIDE}'"}
_NO_NOUN = {"in", "at", "a", "an"}
_NONE = {"ninguno", "ninguna"}  # the question's gender is not the surveyor's worry
_BEFORE_NUMBER = re.compile(r"(?<=[^\W\d_])[\s\-.#]+(?=\d)")
_NOUGHTS = re.compile(r"(?<![\d.,])0+(?=\d)")
_KEPT_AS_WRITTEN = {"remarks", "photo remarks"}  # "pending" too, for whoever reads the sheet


@dataclass(frozen=True, slots=True)
class Unusable:
    """What was expected of a cell that could not be read, and the choice most like it."""

    expected: str
    nearest: str | None = None


Read = str | float | dt.date | Missing | Unusable


class Labels:
    """The labels of a list, by the ways in which people refer to them."""

    def __init__(self, labels: Sequence[str]) -> None:
        self.labels = labels

    def named(self, text: str) -> list[str]:
        """The labels that a text may mean, by the first way of comparing that finds any."""
        if text in self.labels:
            return [text]
        return self._by_fold.get(folded(text)) or self._by_number.get(_numbered(text)) or []

    @cached_property
    def _by_fold(self) -> Mapping[str, list[str]]:
        return _grouped(self.labels, folded)

    @cached_property
    def _by_number(self) -> Mapping[str, list[str]]:
        return _grouped(self.labels, _numbered)


def _grouped(names: Iterable[str], key: Callable[[str], str]) -> Mapping[str, list[str]]:
    groups: dict[str, list[str]] = {}
    for name in names:
        groups.setdefault(key(name), []).append(name)
    return groups


def _numbered(label: str) -> str:
    """A label without what people put between letters and number: W 1, W-1, W01."""
    return _NOUGHTS.sub("", _BEFORE_NUMBER.sub("", folded(label)))


def reader(word: Word, units: Units) -> Callable[[object], Read]:
    """How the cells of a question are read on a form of these units.

    It keeps what it read last, as piers are much alike. References are read by
    :func:`read_reference`.
    """
    how = _reading(word, word.unit_in(units))
    longest = _LONGEST_TEXT if word.kind is Kind.TEXT else _LONGEST

    @lru_cache(maxsize=_MOST_KEPT, typed=True)  # typed: 1, 1.0 and yes are three answers
    def kept(cell: object) -> Read:
        return _read(cell, how, longest)

    def read(cell: object) -> Read:
        if isinstance(cell, str) and len(cell) > _LONGEST_KEPT:
            return _read(cell, how, longest)
        return kept(cell)

    return read


def read_reference(word: Word, cell: object, labels: Labels) -> Read:
    """Read a cell that names a row of a list by its label."""

    def pick(_cell: object, text: str) -> Read:
        found = labels.named(as_label(text))
        if len(found) == 1:
            return found[0]
        if not found and says_not_known(text):
            return NOT_KNOWN
        assert word.refers_to is not None
        known = _listed(labels.labels) if labels.labels else "none is listed"
        expected = f"the label of a {word.refers_to.value} ({known})"
        near = found or _having(text, labels.labels)
        hint = nearest(text, labels.labels) if not near else near[0] if len(near) == 1 else None
        return Unusable(expected, hint)

    return _read(cell, pick)


def as_label(text: str) -> str:
    """The label that a text gives to a row; empty if it gives none."""
    line = tidy(text)
    return "" if line.lower() in _SPREADSHEET_ERRORS else line


def _read(cell: object, how: Callable[[object, str], Read], longest: int = _LONGEST) -> Read:
    text = tidy(as_text(cell))
    if len(text) > longest:
        return Unusable(f"at most {longest} characters")
    lower = text.lower()
    if lower in ALWAYS_NOT_KNOWN:
        return NOT_KNOWN
    if says_does_not_apply(text):
        return DOES_NOT_APPLY
    if lower in _SPREADSHEET_ERRORS:
        return Unusable("an answer; the spreadsheet could not work this cell out")
    return how(cell, text)


def _reading(word: Word, unit: str | None) -> Callable[[object, str], Read]:
    match word.kind:
        case Kind.CHOICE:
            table = _choice_table(word)
            return lambda _cell, text: _read_choice(word, table, text)
        case Kind.YES_NO:
            return lambda _cell, text: _read_yes_no(text)
        case Kind.DATE:
            return _read_date
        case Kind.TEXT:
            if word.subject is Subject.RELEASE or word.name in _KEPT_AS_WRITTEN:
                return lambda _cell, text: text  # a release quotes it as why it does not hold
            return lambda _cell, text: NOT_KNOWN if says_not_known(text) else text
        case _:
            return lambda cell, text: _read_measured(word, unit, cell, text)


def _choice_table(word: Word) -> Mapping[str, list[str]]:
    """The choices by every folded spelling that is read: English, other and Spanish."""
    table = {key: list(names) for key, names in _grouped(word.choices, folded).items()}
    for spelling, choice in _ALSO.get(word.name, {}).items():
        table.setdefault(folded(spelling), [choice])
    for choice, spanish in choices_in_spanish(word).items():
        key = folded(spanish)
        for spelling in _NONE if key in _NONE else {key}:
            if choice not in table.setdefault(spelling, []):
                table[spelling].append(choice)
    return table


def _read_choice(word: Word, table: Mapping[str, list[str]], text: str) -> Read:
    if text in word.choices:
        return text
    key = folded(text)
    if len(alike := table.get(key, [])) == 1:
        return alike[0]
    if says_not_known(text):
        return NOT_KNOWN
    near = _having(text, word.choices)
    if not near:
        alike = _having(key, table) or [nearest(key, table) or ""]
        near = sorted({choice for one in alike for choice in table.get(one, [])})
    expected = _EXPECTED.get(word.name) or f"one of: {_listed(word.choices)}"
    return Unusable(expected, near[0] if len(near) == 1 else None)


def _having(text: str, choices: Iterable[str]) -> list[str]:
    """The choices that have the text at the beginning of a word.

    A text of one or two letters must be the first word: a 'no' within a choice says little.
    """
    begins = rf"\b{re.escape(text)}" if len(text) >= _SHORTEST_PART else rf"^{re.escape(text)}\b"
    return [choice for choice in choices if re.search(begins, choice, re.IGNORECASE)]


def _listed(choices: Iterable[str]) -> str:
    """Choices in a sentence; some hold commas of their own."""
    return " | ".join(f"'{choice}'" for choice in choices)


def _read_yes_no(text: str) -> Read:
    if said := yes_or_no(text):
        return said
    if says_not_known(text):
        return NOT_KNOWN
    return Unusable("yes, no or not known", nearest(text, ("yes", "no", "not known")))


def _read_date(cell: object, text: str) -> Read:
    if isinstance(cell, dt.date):
        day = cell.date() if isinstance(cell, dt.datetime) else cell
        in_time = FIRST_YEAR <= day.year <= LAST_YEAR
        return day if in_time else Unusable(f"a date from {FIRST_YEAR} to {LAST_YEAR}")
    if isinstance(cell, (bool, dt.time, dt.timedelta)):
        return Unusable(A_DAY)
    if says_not_known(text):
        return NOT_KNOWN
    try:
        return read_day(text)
    except DayError as fault:
        return Unusable(str(fault))


def _read_measured(word: Word, unit: str | None, cell: object, text: str) -> Read:
    unit = "" if word.kind is Kind.COUNT else unit  # a bare number is all that it can be
    if isinstance(cell, (bool, dt.date, dt.time, dt.timedelta)):
        expected = f"{word.kind.one} in {unit}" if unit else "a whole number"
        return Unusable(f"{expected}, not a date, time or yes/no")
    if says_not_known(text):
        return NOT_KNOWN
    try:
        counted = _counted(word, text) if word.kind is Kind.COUNT else text
        value = read_quantity(counted, word.kind, unit)
    except QuantityError as fault:
        return Unusable(str(fault))
    if word.kind is Kind.COUNT and value != round(value):
        return Unusable("a whole number")
    low = -math.inf if word.low is None else word.low
    high = math.inf if word.high is None else word.high
    return value if low <= value <= high else Unusable(f"{word.name} {_span(word, unit)}")


def _counted(word: Word, text: str) -> str:
    """The number in a count, which may be a word, and may have what is counted after it."""
    found = _NUMBER_AND_NOUN.fullmatch(text)
    nouns = {noun.removesuffix("s") for noun in folded(word.name).split() if noun not in _NO_NOUN}
    number = found[1] if found and folded(found[2]).removesuffix("s") in nouns else text
    named = number_word(number)
    return number if named is None else str(named)


def _span(word: Word, unit: str | None) -> str:
    low, high = (
        None if end is None else write_quantity(end, word.kind, unit)
        for end in (word.low, word.high)
    )
    if low is None:
        return f"of at most {high}"
    return f"from {low} to {high}" if high is not None else f"of at least {low}"


def as_text(read: object) -> str:
    """What stands in a cell, as a person would type it; empty if nothing does."""
    if isinstance(read, bool):
        return "yes" if read else "no"
    if isinstance(read, float) and math.isfinite(read):
        return plain_number(read)
    return "" if read is None else str(read)
