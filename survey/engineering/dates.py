"""Days of the calendar, and working days among them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from functools import cache
from typing import overload

from survey.engineering._steps import kept, noted, number
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Missing
from survey.vocabulary.places import OUTSIDE

_FRIDAY = 5  # fifth day of the week, and number of working days in one without holidays
_FIRST, _LAST = dt.date(2000, 1, 1), dt.date(2100, 12, 31)
_ONE_DAY = dt.timedelta(1)
_COUNTED = "one-call laws count so: common practice"


@kept
def days_between(earlier: dt.date, later: dt.date) -> Result:
    """Calendar days from one day to another.

    n = later - earlier; holds for every day of the calendar.

    Args:
        earlier: the day that is counted from.
        later: the day that is counted to.

    Returns:
        Days; negative where the second day comes before the first.

    Not known when:
        Never.

    Source:
        Calendar arithmetic.

    >>> days_between(dt.date(2026, 2, 27), dt.date(2026, 3, 2)).value
    3.0
    """
    days = float((later - earlier).days)
    counted = Line("n", "days between", "d2 - d1", f"{later} - {earlier}", f"{number(days)} days")
    lines = (
        noted("d1", "counted from", str(earlier)),
        noted("d2", "counted to", str(later)),
        counted,
    )
    working = Working("Days between two dates", "calendar", "every day of the calendar", lines)
    return Result(days, working=working)


@overload
def working_days_between(first: dt.date, last: dt.date) -> int: ...
@overload
def working_days_between(first: dt.date, last: dt.date, state: str | None) -> int | Missing: ...
def working_days_between(first: dt.date, last: dt.date, state: str | None = None) -> int | Missing:
    """Working days after one day, up to and with another.

    The day that is counted from, such as that of a request, does not count. A working day is a
    day from Monday to Friday that is no :func:`federal holiday <federal_holidays>` and, if a
    State is named, no :func:`holiday of that State <state_holidays>` either: a day that is kept
    by one of the two only counts as a day off, so that naming a State never counts more days.

    Args:
        first: the day that is counted from, in the years 2000 to 2100.
        last: the day that is counted to, in the same years.
        state: postal code of a State, such as ``CA``; ``None`` for the federal holidays alone;
            :data:`~survey.vocabulary.places.OUTSIDE` for none, so that at most so many are found.

    Returns:
        Whole days; where ``last`` comes before ``first``, minus those after ``last`` up to and
        with ``first``.

    Not known when:
        The holidays of the State are not known.

    Source:
        One-call laws count so: common practice.

    >>> working_days_between(dt.date(2026, 7, 1), dt.date(2026, 7, 6))  # Fri 3 July is observed
    2
    >>> working_days_between(dt.date(2026, 3, 30), dt.date(2026, 4, 1), "CA")  # 31 March is kept
    1
    """
    if last < first:
        back = _working_days_after(last, first, state)
        return back if isinstance(back, Missing) else -back
    return _working_days_after(first, last, state)


def _working_days_after(first: dt.date, last: dt.date, state: str | None) -> int | Missing:
    off = 0
    for year in range(first.year, last.year + 1):
        kept = _days_off(year, state)
        if isinstance(kept, Missing):
            return kept
        off += sum(first < day <= last for day in kept)
    return _weekdays_to(last) - _weekdays_to(first) - off


def working_days(first: Value, last: Value, state: Value) -> Result:
    """Working days after one day, up to and with another, in one State.

    n = days from Monday to Friday, less the holidays among them that are kept by the federal
    government or by the State.

    Args:
        first: the day that is counted from, in the years 2000 to 2100.
        last: the day that is counted to, in the same years.
        state: postal code, such as ``CA``.

    Returns:
        Days; negative where the second day comes before the first.

    Not known when:
        A day or the State is not known, or a day lies outside those years.

    Source:
        One-call laws count so: common practice. The State's holidays are those of its public
        offices, as a list kept for general use has them: a State may change them any year.

    >>> working_days(dt.date(2026, 3, 30), dt.date(2026, 4, 1), "CA").value
    1.0
    """
    one, other = in_calendar(first), in_calendar(last)
    if isinstance(one, Missing) or isinstance(other, Missing):
        return not_known(f"the days are {first} and {last}; they must lie in 2000 to 2100")
    if state == OUTSIDE:
        return not_known(f"the holidays {OUTSIDE} are not known")
    counted = NOT_KNOWN if not isinstance(state, str) else working_days_between(one, other, state)
    if isinstance(counted, Missing):
        return not_known(f"the holidays of the State '{state}' are not known")
    weekdays = _weekdays_to(other) - _weekdays_to(one)
    off = abs(weekdays) - abs(counted)
    between = sorted((one, other))
    lines = (
        noted("d1", "counted from, itself not counted", str(one)),
        noted("d2", "counted to, itself counted", str(other)),
        noted("w", "days from Monday to Friday", str(weekdays)),
        noted("h", f"holidays among them, federal or of {state}: {_names(between, str(state))}",
              str(off)),
        Line("n", "working days", "w - h" if counted >= 0 else "w + h",
             f"{weekdays} {'-' if counted >= 0 else '+'} {off}", f"{number(float(counted))} days",
             _COUNTED),
    )  # fmt: skip
    valid = "2000 to 2100; holidays of public offices, which a State may change"
    return Result(float(counted), working=Working("Working days", _COUNTED, valid, lines))


def _names(between: Sequence[dt.date], state: str) -> str:
    first, last = between
    off = [
        day
        for year in range(first.year, last.year + 1)
        for day in sorted(_known_off(year, state))
        if first < day <= last
    ]
    few = ", ".join(map(str, off[:6]))
    return few + (" and more" if len(off) > 6 else "") if off else "none"


def _known_off(year: int, state: str | None) -> frozenset[dt.date]:
    kept = _days_off(year, state)
    return frozenset() if isinstance(kept, Missing) else kept


def add_working_days(
    day: dt.date, count: int, state: str | None = None, *, sure_holidays: bool = False
) -> dt.date | Missing:
    """The day on which so many working days after a day have passed.

    Args:
        day: the day that is counted from, in the years 2000 to 2100.
        count: working days, -2,000 to 2,000; 0 gives the day itself, less than 0 counts back.
        state: as for :func:`working_days_between`.
        sure_holidays: leave out only days that both the federal government and the State keep,
            so that the day that is found is the earliest it can be.

    Returns:
        A working day, unless the count is 0.

    Not known when:
        The holidays of the State are not known, or a figure is out of its range.

    Source:
        As for :func:`working_days_between`.

    >>> add_working_days(dt.date(2026, 7, 1), 2)
    datetime.date(2026, 7, 6)
    """
    if isinstance(in_calendar(day), Missing) or abs(count) > 2000:
        return NOT_KNOWN
    step = _ONE_DAY if count > 0 else -_ONE_DAY
    for _ in range(abs(count)):
        day += step
        while (off := is_off(day, state, sure_holidays)) is True:
            day += step
        if isinstance(off, Missing):
            return off
    return day


def is_off(day: dt.date, state: str | None, sure: bool = False) -> bool | Missing:
    """Whether nobody works on a day: a weekend or a holiday of the State or the whole country."""
    if state is not None and isinstance(_days_off(day.year, state), Missing):
        return NOT_KNOWN
    if day.isoweekday() > _FRIDAY:
        return True
    if sure and state is not None:
        kept = state_holidays(day.year, state)
        return day in federal_holidays(day.year) and not isinstance(kept, Missing) and day in kept
    return day in _known_off(day.year, state)


def name_of_day_off(day: dt.date, state: Value) -> str:
    """What a day is on which nobody works: ``Saturday``, ``Sunday`` or the name of a holiday.

    Args:
        day: in the years 2000 to 2100.
        state: the answer on the form; while it is no State that is known, the federal holidays
            alone are named, and :data:`~survey.vocabulary.places.OUTSIDE` none.

    Returns:
        The name; of a day of work, and of a holiday that is not known, an empty text.

    Not known when:
        Never.

    Source:
        As for :func:`federal_holidays` and :func:`state_holidays`.

    >>> name_of_day_off(dt.date(2026, 12, 25), "KS")
    'Christmas Day'
    """
    if day.isoweekday() > _FRIDAY:
        return f"{day:%A}"
    code = state if isinstance(state, str) else None
    off = _days_off(day.year, code)
    if isinstance(off, Missing):
        off, code = federal_holidays(day.year), None
    if day not in off:
        return ""
    import holidays  # takes long to load

    names = [holidays.country_holidays("US", subdiv=code, years=day.year).get(day)]
    names.append(holidays.country_holidays("US", years=day.year).get(day))
    return next((name for name in names if name), "holiday")


@cache
def federal_holidays(year: int) -> frozenset[dt.date]:
    """Days from Monday to Friday on which a federal holiday is kept.

    A holiday on a Saturday is kept on the Friday before, one on a Sunday on the Monday after; New
    Year's Day may so be kept in the year before.

    Args:
        year: in which the days lie, 2000 to 2100.

    Returns:
        The days; what is closed for one occasion, or in one district only, is not among them.

    Not known when:
        Never.

    Source:
        5 U.S.C. 6103(a) and (b); Executive Order 11582.

    >>> dt.date(2026, 7, 3) in federal_holidays(2026)
    True
    """
    import holidays  # takes long to load

    kept = holidays.country_holidays("US", years=year)
    return frozenset(day for day in kept if day.isoweekday() <= _FRIDAY)


@cache
def state_holidays(year: int, state: str) -> frozenset[dt.date] | Missing:
    """Days from Monday to Friday on which a State keeps a holiday, a federal one or its own.

    Args:
        year: in which the days lie, 2000 to 2100.
        state: postal code of a State, district or territory, such as ``CA``.

    Returns:
        The days. A State may not keep a federal holiday, which then is not among them.

    Not known when:
        No State has this code.

    Source:
        The holidays of public offices as a list kept for general use has them; a State's one-call
        law may name others: confirm with the one-call centre.

    >>> sorted(state_holidays(2026, "MA") - federal_holidays(2026))  # Patriots' Day
    [datetime.date(2026, 4, 20)]
    """
    import holidays  # takes long to load

    if not (len(state) == 2 and state.isupper()):
        return NOT_KNOWN
    try:
        kept = holidays.country_holidays("US", subdiv=state, years=year)
    except NotImplementedError:
        return NOT_KNOWN
    return frozenset(day for day in kept if day.isoweekday() <= _FRIDAY)


@cache
def _days_off(year: int, state: str | None) -> frozenset[dt.date] | Missing:
    """Every day from Monday to Friday that the federal government or the State keeps.

    Neither is kept outside the United States, and what is kept there is not known.
    """
    if state is None:
        return federal_holidays(year)
    if state == OUTSIDE:
        return frozenset()
    kept = state_holidays(year, state)
    return kept if isinstance(kept, Missing) else kept | federal_holidays(year)


def _weekdays_to(day: dt.date) -> int:
    """Days from Monday to Friday since the calendar began, on a Monday, up to and with a day."""
    weeks, rest = divmod(day.toordinal(), 7)
    return _FRIDAY * weeks + min(rest, _FRIDAY)


def in_calendar(value: Value) -> dt.date | Missing:
    """A day that can be counted with."""
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value if _FIRST <= value <= _LAST else NOT_KNOWN
    return DOES_NOT_APPLY if value is DOES_NOT_APPLY else NOT_KNOWN
