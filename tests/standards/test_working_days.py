"""Working days and federal holidays against published dates, the text of the law and numpy."""

import calendar
import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.dates import federal_holidays, working_days_between

# Days off as the Office of Personnel Management lists them for each year, from memory.
PUBLISHED = {
    2020: "1-1 1-20 2-17 5-25 7-3 9-7 10-12 11-11 11-26 12-25",
    2021: "1-1 1-18 2-15 5-31 6-18 7-5 9-6 10-11 11-11 11-25 12-24 12-31",
    2022: "1-17 2-21 5-30 6-20 7-4 9-5 10-10 11-11 11-24 12-26",
    2023: "1-2 1-16 2-20 5-29 6-19 7-4 9-4 10-9 11-10 11-23 12-25",
    2024: "1-1 1-15 2-19 5-27 6-19 7-4 9-2 10-14 11-11 11-28 12-25",
    2025: "1-1 1-20 2-17 5-26 6-19 7-4 9-1 10-13 11-11 11-27 12-25",
    2026: "1-1 1-19 2-16 5-25 6-19 7-3 9-7 10-12 11-11 11-26 12-25",
    2027: "1-1 1-18 2-15 5-31 6-18 7-5 9-6 10-11 11-11 11-25 12-24 12-31",
}
LISTED = {
    year: {dt.date(year, *map(int, day.split("-"))) for day in days.split()}
    for year, days in PUBLISHED.items()
}


def by_the_law(year):
    """5 U.S.C. 6103(a) word by word, without regard to the day of the week it falls on."""

    def monday(month, which):
        weeks = calendar.monthcalendar(year, month)
        mondays = [week[calendar.MONDAY] for week in weeks if week[calendar.MONDAY]]
        return dt.date(year, month, mondays[which])

    thursdays = [week[calendar.THURSDAY] for week in calendar.monthcalendar(year, 11)]
    yield from (dt.date(year, 1, 1), dt.date(year, 7, 4))
    yield from (dt.date(year, 11, 11), dt.date(year, 12, 25))
    yield from (monday(1, 2), monday(2, 2), monday(5, -1), monday(9, 0), monday(10, 1))
    yield dt.date(year, 11, [day for day in thursdays if day][3])
    if year >= 2021:  # Pub. L. 117-17
        yield dt.date(year, 6, 19)


def kept(day):
    """6103(b)(1) moves a Saturday to the day before, E.O. 11582 a Sunday to the day after."""
    return day + dt.timedelta({calendar.SATURDAY: -1, calendar.SUNDAY: 1}.get(day.weekday(), 0))


BY_THE_LAW = sorted(kept(day) for year in range(1999, 2102) for day in by_the_law(year))


def counted_by_numpy(first, last, days_off):
    """Working days after ``first`` up to and with ``last``; numpy counts with, up to."""
    if last < first:
        return -counted_by_numpy(last, first, days_off)
    after, end = (day + dt.timedelta(1) for day in (first, last))
    return int(np.busday_count(after, end, holidays=[np.datetime64(day) for day in days_off]))


@pytest.mark.parametrize("year", LISTED)
def test_holidays_as_published(year):
    assert federal_holidays(year) == LISTED[year]


@pytest.mark.parametrize("year", range(2000, 2101))
def test_holidays_as_the_law_has_them(year):
    assert federal_holidays(year) == {day for day in BY_THE_LAW if day.year == year}


published_days = st.dates(dt.date(2020, 1, 1), dt.date(2027, 12, 31))


@given(published_days, published_days)
def test_working_days_as_numpy_counts_them_round_the_published_holidays(first, last):
    days_off = set().union(*LISTED.values())
    assert working_days_between(first, last) == counted_by_numpy(first, last, days_off)


FIRST, LAST = dt.date(2000, 1, 1), dt.date(2100, 12, 31)
days = st.dates(FIRST, LAST)


@given(days, days)
def test_working_days_of_any_two_days_of_a_survey_as_numpy_counts_them(first, last):
    assert working_days_between(first, last) == counted_by_numpy(first, last, BY_THE_LAW)


def test_the_whole_hundred_years_there_and_back():
    assert working_days_between(FIRST, LAST) == counted_by_numpy(FIRST, LAST, BY_THE_LAW)
    assert working_days_between(LAST, FIRST) == -working_days_between(FIRST, LAST)


@pytest.mark.parametrize(
    ("first", "last", "working"),
    [
        # The day of the request does not count, the last day does.
        ("2026-09-08", "2026-09-08", 0), ("2026-09-08", "2026-09-09", 1),
        ("2026-09-11", "2026-09-14", 1),  # Friday to Monday
        ("2026-09-12", "2026-09-13", 0), ("2026-09-12", "2026-09-14", 1),  # from a Saturday
        ("2026-09-04", "2026-09-07", 0), ("2026-09-04", "2026-09-08", 1),  # Labor Day
        ("2021-12-30", "2022-01-03", 1),  # New Year's Day on a Saturday, kept in the old year
        ("2100-12-30", "2100-12-31", 0),  # the same at the end of the calendar of a survey
        ("2022-12-23", "2022-12-27", 1),  # Christmas on a Sunday
        ("2020-06-18", "2020-06-19", 1), ("2023-06-16", "2023-06-19", 0),  # 19 June since 2021
        # Backwards: the later day counts, the earlier one does not.
        ("2026-09-09", "2026-09-08", -1), ("2026-09-14", "2026-09-11", -1),
        ("2026-09-13", "2026-09-11", 0), ("2026-09-08", "2026-09-04", -1),
    ],
)  # fmt: skip
def test_working_days_by_the_calendar_on_the_wall(first, last, working):
    assert working_days_between(*map(dt.date.fromisoformat, (first, last))) == working
