"""Read days as people write them, in English and Spanish, whatever the machine's own language."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from contextlib import suppress

from survey.vocabulary.spelling import folded

FIRST_YEAR, LAST_YEAR = 2000, 2100
A_DAY = "a date such as 2026-04-03 or 3 Apr 2026"

_MONTHS = {
    name: number
    for number, names in enumerate(
        ("january jan enero ene", "february feb febrero", "march mar marzo",
         "april apr abril abr", "may mayo", "june jun junio", "july jul julio",
         "august aug agosto ago", "september sep sept septiembre setiembre set",
         "october oct octubre", "november nov noviembre", "december dec diciembre dic"),
        start=1,
    )
    for name in names.split()
}  # fmt: skip
_WEEKDAYS = {
    name: number
    for number, names in enumerate(
        ("monday mon lunes lun", "tuesday tue tues martes mar", "wednesday wed miercoles mie",
         "thursday thu thur thurs jueves jue", "friday fri viernes vie",
         "saturday sat sabado sab", "sunday sun domingo dom")
    )
    for name in names.split()
}  # fmt: skip
_RELATIVE = {"today", "tomorrow", "yesterday", "tonight", "now", "next", "last", "this", "week",
             "asap", "hoy", "manana", "ayer", "ahora", "proximo", "proxima", "semana", "este",
             "esta", "pasado", "pasada"}  # fmt: skip
_FILLING = {"of", "the", "de", "del", "el"}
_TIME = re.compile(
    r"(?:\s*,?\s+(?:at\s+|a las\s+)?|(?<=\d)t)\d{1,2}:\d\d(?::\d\d(?:\.\d+)?)?(?:\s?[ap]\.?m)?$"
)
_PARTS = re.compile(
    r"(?P<word>[a-z]+)|(?P<number>\d+)(?:(?:st|nd|rd|th|ro|er)\b|[ºª°])?|[\s,./'()-]+", re.ASCII
)
_FIGURES = re.compile(r"(\d{1,2}|\d{4})\s?([/.\s-])\s?(\d{1,2})\s?\2\s?(\d{4}|\d{1,2})", re.ASCII)
_RUN_TOGETHER = re.compile(r"(20\d\d)(\d\d)(\d\d)", re.ASCII)
_DAY_OR_YEAR = re.compile(r"(?<!\d)\d\d[\s.,/-]*[a-z]{3,}[\s.,/-]*\d\d(?!\d)", re.ASCII)
_WORDS = re.compile("[a-z]+")
_YEAR, _ONE_OR_TWO = re.compile(r"\d{4}|\d\d"), re.compile(r"\d{1,2}")
_CENTURY, _LAST_SHORT_YEAR = 2000, 99
_FIRST_BEFORE_MONTH = 20  # no survey is of a year before 2020, but it may hold such a date
_MOST_LETTERS = 60
_THREE_PARTS = 3


class DayError(ValueError):
    """A text that is no day, or could be several; says what was expected."""


def read_day(text: str) -> dt.date:
    """The one day that a text means.

    Raises:
        DayError: it means none, or could mean several.

    >>> read_day("Friday, April 3rd 2026") == read_day("3 de abril de 2026")
    True
    """
    plain = _TIME.sub("", folded(text))
    words, numbers = _parts(plain) if len(plain) <= _MOST_LETTERS else ([plain], [])
    months = [word for word in words if word in _MONTHS]
    weekdays = [word for word in words if word in _WEEKDAYS and word not in _MONTHS]
    if len(months) > 1 and months[0] in _WEEKDAYS:  # mar 3 mar: martes 3 de marzo
        weekdays, months = [*weekdays, months[0]], months[1:]
    if len(words) > len(months) + len(weekdays) or len(months) > 1 or len(weekdays) > 1:
        raise DayError(_why_none(words, numbers))
    if months:
        days = _by_month_name(numbers, _MONTHS[months[0]], _DAY_OR_YEAR.search(plain) is not None)
    else:
        days = _by_figures(_WORDS.sub("", plain).strip(" ,.()"))
    if days is None:
        raise DayError(_why_none(words, numbers))
    return _the_one(days, _WEEKDAYS[weekdays[0]] if weekdays else None)


def _parts(text: str) -> tuple[list[str], list[str]]:
    """The words and the numbers of a text; what is neither counts as a word that is no day."""
    words, numbers, position = [], [], 0
    while position < len(text):
        part = _PARTS.match(text, position)
        if part is None:
            return [text], []
        if part["word"] and part["word"] not in _FILLING:
            words.append(part["word"])
        elif part["number"]:
            numbers.append(part["number"])
        position = part.end()
    return words, numbers


def _the_one(found: Iterable[dt.date], weekday: int | None) -> dt.date:
    found = list(found)
    days = [day for day in found if FIRST_YEAR <= day.year <= LAST_YEAR]
    if not days:
        raise DayError(
            f"a date from {FIRST_YEAR} to {LAST_YEAR}"
            if found
            else "a day that is in the calendar, such as 2026-04-03 or 3 Apr 2026"
        )
    fitting = [day for day in days if weekday in (None, day.weekday())]
    if not fitting:
        are = " and ".join(f"{day.isoformat()} is a {_name_of(day)}" for day in days)
        raise DayError(f"a weekday and a date that fit: {are}")
    if len(fitting) > 1:
        *more, last = (day.isoformat() for day in fitting)
        offered = f"{', '.join(more)} or {last}"
        raise DayError(f"a date that can be read in one way only: {offered}")
    return fitting[0]


def _name_of(day: dt.date) -> str:
    return next(name for name, number in _WEEKDAYS.items() if number == day.weekday()).capitalize()


def _by_month_name(numbers: Sequence[str], month: int, between: bool) -> list[dt.date] | None:
    """Every day of a named month; none if a part is missing or there is one too many.

    Day and year, in this order unless the first is the year in full; either may be the year
    where the month stands between two figures of two digits.
    """
    match numbers:
        case (first, last) if between and int(first) >= _FIRST_BEFORE_MONTH:
            return _days([(last, str(month), first), (first, str(month), last)])
        case (day, year) if int(day) < FIRST_YEAR:
            return _days([(year, str(month), day)])
        case (year, day):
            return _days([(year, str(month), day)])
        case _:
            return None


def _by_figures(text: str) -> list[dt.date] | None:
    """Every day that figures alone may mean; none if they are laid out as no date is.

    >>> [day.isoformat() for day in _by_figures("3/4/26")]
    ['2026-03-04', '2026-04-03']
    """
    if together := _RUN_TOGETHER.fullmatch(text):
        return _days([together.groups()])
    figures = _FIGURES.fullmatch(text)
    if figures is None:
        return None
    first, between, middle, last = figures.groups()
    ways = [(last, first, middle), (last, middle, first)]  # year, month, day
    if between != "/" or int(first) >= FIRST_YEAR:
        ways.append((first, middle, last))  # nobody writes a year of two figures before a stroke
    return _days(ways)


def _days(ways: Iterable[Sequence[str]]) -> list[dt.date] | None:
    """The days of years, months and days; none if no way has a year and days in figures."""
    ways = [
        (year, month, day)
        for year, month, day in ways
        if _YEAR.fullmatch(year) and _ONE_OR_TWO.fullmatch(month) and _ONE_OR_TWO.fullmatch(day)
    ]
    found = []
    for year, month, day in ways:
        century = 0 if int(year) > _LAST_SHORT_YEAR else _CENTURY
        with suppress(ValueError):
            found.append(dt.date(int(year) + century, int(month), int(day)))
    return list(dict.fromkeys(found)) if ways else None


def _why_none(words: Sequence[str], numbers: Sequence[str]) -> str:
    if _RELATIVE & set(words):
        return "the date itself, such as 2026-04-03: this is read on another day"
    if any(word not in _MONTHS and word not in _WEEKDAYS for word in words):
        return A_DAY
    if len(numbers) == 1 and words == []:
        return f"{A_DAY}; a number alone is none"
    if len(numbers) < _THREE_PARTS and not (words and len(numbers) == _THREE_PARTS - 1):
        return "a date with day, month and year, such as 2026-04-03 or 3 Apr 2026"
    return A_DAY
