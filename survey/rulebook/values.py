"""Values as a rules file writes them: figures with their units, dates and choices."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable

from survey.rulebook.syntax import Phrase, unquoted, wrong
from survey.vocabulary import (
    MEASURES,
    Kind,
    QuantityError,
    Word,
    nearest,
    read_quantity,
    steps,
    tidy,
)

_LARGEST_FIGURE = 10**9
_FIGURE = "Write it like 5 ft, 1.5H:1V, 25 %, 10 days or 3."
_FIRST_YEAR, _LAST_YEAR = 2000, 2100
_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_NUMBER_AND_UNIT = re.compile(r"(-?\.?\d[\d.,/]*(?: \d+/\d+)?)\s*(.*)", re.ASCII)


def any_quantity(text: str) -> tuple[Kind, int] | None:
    """The kind that the unit tells, and the figure in whole steps; counts need no unit."""
    for kind in MEASURES:
        try:
            return kind, _steps(kind, text)
        except QuantityError:
            continue
    return None


def read_any_figure(value: Phrase) -> tuple[Kind, int]:
    """A figure of any kind, in whole steps.

    Raises:
        MistakeError: it is none.
    """
    text = unquoted(value.text)
    found = any_quantity(text)
    if found is not None:
        return found
    what, help = f"'{text}' is no figure with a unit", _FIGURE
    parts = _NUMBER_AND_UNIT.fullmatch(text)
    if parts and (as_if := any_quantity(f"1 {parts[2]}".strip())):
        what = f"'{text}' is too large or too small a figure"
        help = f"Write one below {_LARGEST_FIGURE:,}, and no finer than it can be measured."
        if as_if[0] is Kind.COUNT and not parts[1].isdecimal():
            what = f"'{text}' has no unit, and only whole numbers stand without one"
            help = "Give it a unit; a factor of 1.5 is written 150 %."
    raise wrong(value, what, help, _with_unit(text, MEASURES))


def read_figure(word: Word, value: Phrase, names: Iterable[str] = ()) -> int:
    """A quantity with its unit, or a date, in whole steps.

    Raises:
        MistakeError: no such quantity; or a word that is neither word nor limit.
    """
    text = unquoted(value.text)
    if word.kind is Kind.DATE:
        return read_day(value, names).toordinal()
    try:
        return _steps(word.kind, text)
    except QuantityError as fault:
        if not _NUMBER_AND_UNIT.match(text):
            what = f"'{text}' is no {word.kind.value}, no limit and no word that the form knows"
            raise wrong(value, what, near=nearest(text, names)) from None
        what = f"'{text}' does not fit '{word.name}'; expected {fault}"
        near = _with_unit(text, [word.kind])
        if word.unit and _NUMBER_AND_UNIT.sub(r"\2", text) == "":
            near = f"{text} {word.unit}"
        raise wrong(value, what, near=near) from None


def read_day(value: Phrase, names: Iterable[str] = ()) -> dt.date:
    """A day of the calendar.

    Raises:
        MistakeError: there is none, or it lies far from any job.
    """
    text = unquoted(value.text)
    if not _DAY.fullmatch(text):
        what = f"'{text}' is no date"
        raise wrong(value, what, "Write year, month and day: 2026-04-03.", nearest(text, names))
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        raise wrong(value, f"the calendar has no day '{text}'") from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        help = f"The years are {_FIRST_YEAR} to {_LAST_YEAR}."
        raise wrong(value, f"the day '{text}' lies far from any job", help)
    return day


def any_day(text: str) -> int | None:
    """The number of a day, if the text is one."""
    try:
        return dt.date.fromisoformat(text).toordinal() if _DAY.fullmatch(text) else None
    except ValueError:
        return None


def read_choice(word: Word, value: Phrase) -> str:
    """One of the word's choices.

    Raises:
        MistakeError: it is none of them.
    """
    text = tidy(unquoted(value.text))
    if text in word.choices:
        return text
    what = f"'{text}' is not a choice of '{word.name}'"
    cut = [choice for choice in word.choices if choice.startswith(f"{text},")]
    if cut:
        raise wrong(value, what, f'Put an answer with a comma in quotes: "{cut[0]}".')
    help = f"Its choices are: {listed(word)}."
    raise wrong(value, what, help, nearest(text, word.choices))


def listed(word: Word) -> str:
    """The choices of a word, as a rule writes them."""
    return ", ".join(f'"{c}"' if _needs_quotes(c) else c for c in word.choices)


def _needs_quotes(choice: str) -> bool:
    return "," in choice or choice.startswith("not ") or bool(
        {"and", "or", "is", "as"} & set(choice.split())
    )  # fmt: skip


def _steps(kind: Kind, text: str) -> int:
    value = read_quantity(text, kind, "" if kind is Kind.COUNT else None)
    if abs(value) > _LARGEST_FIGURE:
        raise QuantityError("a smaller figure")
    if kind is Kind.COUNT and value != round(value):
        raise QuantityError("a whole number; write a factor of 1.5 as 150 %")
    if steps(kind, value) == 0 and re.search(r"[1-9]", text.partition(":")[0]):
        raise QuantityError("a figure that can be measured")
    return steps(kind, value)


def _with_unit(text: str, kinds: Iterable[Kind]) -> str | None:
    """The figure with the unit that was probably meant."""
    parts = _NUMBER_AND_UNIT.fullmatch(text)
    units = [unit for kind in kinds for unit in MEASURES[kind].units if unit]
    near = nearest(parts[2], units) if parts and parts[2] else None
    if parts is None or near is None or near == parts[2]:
        return None
    near = "H:1V" if near == "h:1v" else near
    return text.removesuffix(parts[2]) + near
