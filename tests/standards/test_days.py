"""The crew's days against outside references: business days, holidays by name, written days."""

import datetime as dt
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.assessment import assess
from survey.assessment.days import Stay, on_day, span, stay
from survey.cli_parts import read_days
from survey.engineering import tickets
from survey.engineering.dates import is_off, name_of_day_off
from survey.errors import UserError
from survey.rulebook.book import load_book
from tests.demo_surveys import careful_house, survey_of, with_changes

BOOK = load_book()
STATES = ("CA", "KS", "MA", "NY", "OH", "TX")
recent_days = st.dates(dt.date(2021, 1, 1), dt.date(2032, 12, 31))


def kept(state):
    """Every day that the federal government or a State keeps, straight from the package."""
    import holidays

    years = range(2019, 2036)
    country = holidays.country_holidays("US", years=years)
    return {**country, **holidays.country_holidays("US", subdiv=state, years=years)}


KEPT = {state: kept(state) for state in STATES}


def business_days(state, count=1):
    pandas = pytest.importorskip("pandas")
    return pandas.offsets.CustomBusinessDay(count, holidays=sorted(KEPT[state]))


@given(recent_days, st.integers(1, 40), recent_days, st.sampled_from(STATES))
def test_the_last_day_is_as_many_business_days_on_as_pandas_has_it(first, booked, on, state):
    pandas = pytest.importorskip("pandas")
    last = (pandas.Timestamp(first) - dt.timedelta(1) + business_days(state, booked)).date()
    document = with_changes(
        careful_house(), state=state, crew_date=first.isoformat(), last_crew_date=last.isoformat()
    )
    length = stay(survey_of(document))
    assert length == Stay(booked, 0, length.why, state)
    expected = pandas.Timestamp(on) - dt.timedelta(1) + business_days(state, booked)
    assert length.last_day(on) == expected.date()
    assert length.last_day(first) == last


@given(recent_days, st.sampled_from(STATES))
def test_days_off_and_their_names_are_those_of_the_package(day, state):
    pandas = pytest.importorskip("pandas")
    name = name_of_day_off(day, state)
    assert bool(name) is not business_days(state).is_on_offset(pandas.Timestamp(day))
    assert bool(name) is is_off(day, state)
    if day.isoweekday() > 5:
        assert name == f"{pandas.Timestamp(day).day_name()}"
    elif name:
        import holidays

        country = holidays.country_holidays("US", years=day.year)
        assert name in {KEPT[state][day], country.get(day)}


@pytest.mark.parametrize(
    ("day", "name"),
    # 5 U.S.C. 6103(a), in 2026.
    [
        ("2026-01-01", "New Year's Day"), ("2026-01-19", "Martin Luther King Jr. Day"),
        ("2026-05-25", "Memorial Day"), ("2026-06-19", "Juneteenth National Independence Day"),
        ("2026-09-07", "Labor Day"), ("2026-11-11", "Veterans Day"),
        ("2026-11-26", "Thanksgiving Day"), ("2026-12-25", "Christmas Day"),
        ("2026-12-26", "Saturday"), ("2026-12-27", "Sunday"), ("2026-12-28", ""),
    ],
)  # fmt: skip
def test_federal_holidays_by_name(day, name):
    assert name_of_day_off(dt.date.fromisoformat(day), "OH") == name


@pytest.mark.parametrize("state", sorted(code for code, r in tickets.STATES.items() if r.life))
def test_a_crew_may_come_while_a_usual_ticket_of_the_state_lasts(state):
    # The life of a ticket by each State's rule as published; its last day is the last day of work.
    start = dt.date(2026, 6, 1)
    end = tickets.usual_ticket(state, ticket_start=start).end.value
    assert isinstance(end, dt.date)
    site = with_changes(
        careful_house(), state=state, ticket_start=str(start), ticket_end=str(end),
        crew_date=str(start), last_crew_date=str(start), survey_date="2026-05-29",
    )  # fmt: skip
    survey = survey_of(site)
    first, last = end - dt.timedelta(4), end + dt.timedelta(4)
    found = span(survey, (), BOOK, first, last)
    for passed in range((last - first).days + 1):
        day = first + dt.timedelta(passed)
        worked = day
        while is_off(worked, state):
            worked += dt.timedelta(1)
        stops = {one.rule.code for one in found.on(day).blocking if one.outcome.value == "stop"}
        assert ("LINE-3" in stops) is (worked > end), day


@given(recent_days)
def test_days_are_read_as_iso_8601_writes_them(day):
    assert read_days({"--on": day.isoformat(), "--from": None}) == [day, None]
    assert read_days({"--on": f"{day:%Y%m%d}"}) == [day]  # its basic format


@pytest.mark.parametrize(
    "text",
    ["2026-02-29", "2026-13-01", "2026-W50-1", "2026-345", "26-12-01", "12/11/26", "", "today"],
)
def test_what_is_no_single_day_of_the_calendar_is_refused(text):
    with pytest.raises(UserError) as told:
        read_days({"--from": text, "--to": "2026-12-32"})
    first, second = str(told.value).splitlines()
    assert first.startswith(f"--from: read '{text}', expected ")
    assert second.startswith("--to: read '2026-12-32', expected ")


@settings(max_examples=20, deadline=None)
@given(st.dates(dt.date(2026, 11, 20), dt.date(2027, 2, 1)))
def test_the_moved_survey_written_and_read_again_is_judged_alike(day):
    """What --on judges is what the form would say with these days and no weather told."""
    from survey.answers import read_survey
    from survey.document import read_document, write_document

    moved, _ = on_day(survey_of(careful_house()), (), day)
    written = json.loads(write_document(moved))
    again, problems = read_survey(read_document(json.dumps(written), "site.json"))
    assert not problems
    one, other = (assess(survey, (), BOOK) for survey in (moved, again))
    assert one.verdict is other.verdict
    assert [(f.rule.code, f.place, f.say) for f in one.findings] == [
        (f.rule.code, f.place, f.say) for f in other.findings
    ]
