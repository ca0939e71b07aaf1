"""Working days, holidays and curing against published dates, the law, numpy and pandas."""

import calendar
import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.curing import days_to_strength, strength_at
from survey.engineering.dates import (
    add_working_days,
    federal_holidays,
    state_holidays,
    working_days,
    working_days_between,
)
from survey.engineering.window import neighbour_notice_bound

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


def test_federal_holidays_as_pandas_has_them():
    # Its calendar of federal holidays keeps 19 June from 2021 and moves weekends as the law does.
    pytest.importorskip("pandas")
    from pandas.tseries.holiday import USFederalHolidayCalendar

    found = USFederalHolidayCalendar().holidays("2012-01-01", "2050-12-31").date
    ours = {day for year in range(2012, 2051) for day in federal_holidays(year)}
    assert {day for day in found if day.weekday() < calendar.SATURDAY} == ours


STATES = ("CA", "MA", "MO", "NY", "OH", "PA", "TX", "VA")
recent_days = st.dates(dt.date(2021, 1, 1), dt.date(2032, 12, 31))


def kept_somewhere(state):
    """Every weekday that the federal government or a State keeps, straight from the package."""
    import holidays

    years = range(2019, 2036)
    found = set(holidays.country_holidays("US", subdiv=state, years=years))
    return sorted(found | set(holidays.country_holidays("US", years=years)))


KEPT = {state: kept_somewhere(state) for state in STATES}


@given(recent_days, recent_days, st.sampled_from(STATES))
def test_working_days_of_a_state_as_numpy_counts_them(first, last, state):
    counted = counted_by_numpy(first, last, KEPT[state])
    assert working_days_between(first, last, state) == counted
    assert working_days(first, last, state).value == counted


@given(recent_days, st.integers(-300, 300).filter(bool), st.sampled_from(STATES))
def test_a_day_so_many_working_days_away_as_pandas_has_it(day, count, state):
    pandas = pytest.importorskip("pandas")
    offset = pandas.offsets.CustomBusinessDay(abs(count), holidays=KEPT[state])
    start = pandas.Timestamp(day)
    expected = start + offset if count > 0 else start - offset
    assert add_working_days(day, count, state) == expected.date()


@pytest.mark.parametrize(
    ("state", "day"),
    [
        # From memory, each by the State's own law, in 2026.
        ("MA", "2026-04-20"),  # Patriots' Day, third Monday of April
        ("MO", "2026-05-08"),  # Truman Day, 8 May
        ("CA", "2026-03-31"),  # Cesar Chavez Day, 31 March
        ("TX", "2026-03-02"),  # Texas Independence Day, 2 March
        ("NY", "2026-02-12"),  # Lincoln's Birthday, 12 February
        ("PA", "2026-11-27"),  # the day after Thanksgiving
    ],
)
def test_holidays_of_states(state, day):
    kept = dt.date.fromisoformat(day)
    assert kept in state_holidays(2026, state)
    assert kept not in federal_holidays(2026)


@pytest.mark.parametrize(
    ("days", "share"),
    # ACI 209R-92, table of the ratio to the strength at 28 days, moist-cured, Type I cement;
    # from memory. The table has 1.0 at 28 days, where the formula has 1.007.
    [(3.0, 0.46), (7.0, 0.70), (14.0, 0.88), (21.0, 0.96), (28.0, 1.00)],
)
def test_aci_209_strength_by_days(days, share):
    strength = 3000 * 144.0
    assert strength_at(days, strength, "ordinary", "yes").value / strength == pytest.approx(
        share, abs=0.005
    )


@pytest.mark.parametrize(("share", "days"), [(46.0, 4), (70.0, 7), (88.0, 14), (96.0, 21)])
def test_aci_209_days_to_a_share(share, days):
    # The same table read backwards; 0.46 at 3 days is 0.458 before it is rounded, so 4 days.
    assert days_to_strength(share, "ordinary", "yes").value == days


def test_ibc_3307_1_ten_days_of_notice():
    # Written notice at least 10 days before the excavation starts.
    given_on = dt.date(2026, 5, 4)
    assert neighbour_notice_bound(given_on, 10.0).day - given_on == dt.timedelta(10)
