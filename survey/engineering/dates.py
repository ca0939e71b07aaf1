"""Days between two days of the calendar, and working days among them."""

from __future__ import annotations

import datetime as dt
from functools import cache

from survey.engineering._steps import noted, number
from survey.engineering.working import Line, Result, Working

_FRIDAY = 5  # fifth day of the week, and number of working days in one without holidays


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


def working_days_between(first: dt.date, last: dt.date) -> int:
    """Working days after one day, up to and with another.

    The day that is counted from, such as that of a request, does not count. A working day is a
    day from Monday to Friday that is no :func:`federal holiday <federal_holidays>`; a state may
    have holidays of its own, so where they count, there are fewer.

    Args:
        first: the day that is counted from, in the years 2000 to 2100.
        last: the day that is counted to, in the same years.

    Returns:
        Whole days; where ``last`` comes before ``first``, minus those after ``last`` up to and
        with ``first``.

    Not known when:
        Never.

    Source:
        One-call laws count so: common practice.

    >>> working_days_between(dt.date(2026, 7, 1), dt.date(2026, 7, 6))  # Fri 3 July is observed
    2
    """
    if last < first:
        return -working_days_between(last, first)
    years = range(first.year, last.year + 1)
    off = sum(first < day <= last for year in years for day in federal_holidays(year))
    return _weekdays_to(last) - _weekdays_to(first) - off


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


def _weekdays_to(day: dt.date) -> int:
    """Days from Monday to Friday since the calendar began, on a Monday, up to and with a day."""
    weeks, rest = divmod(day.toordinal(), 7)
    return _FRIDAY * weeks + min(rest, _FRIDAY)
