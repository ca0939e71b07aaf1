"""Days between two days of the calendar."""

from __future__ import annotations

import datetime as dt

from survey.engineering._steps import noted, number
from survey.engineering.working import Line, Result, Working


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
