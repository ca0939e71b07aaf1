"""What is usual for a ticket in a State: only for States of the table, never more than a check."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import tickets
from survey.engineering.dates import federal_holidays, state_holidays, working_days_between
from survey.engineering.tickets import STATES, ticket_end_check, usual_ticket, usual_tolerance_zone
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

DAY = dt.date.fromisoformat
CODES = sorted(STATES)
WITH_LIFE = [code for code in CODES if STATES[code].life is not None]
REQUESTED, START = DAY("2026-09-14"), DAY("2026-09-17")


@pytest.mark.parametrize("state", ["NV", "", "XX", "New", NOT_KNOWN, DOES_NOT_APPLY, 48.0])
def test_a_state_that_is_not_in_the_table_is_not_known(state):
    assert tickets.state_code(state) is NOT_KNOWN
    found = usual_ticket(state, requested=REQUESTED, ticket_start=START)
    for result in (
        found.start, found.end, ticket_end_check(state, START, START), usual_tolerance_zone(state),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN
        assert "confirm with the one-call centre" in result.reason


@pytest.mark.parametrize("state", ["KS", "ks", "Kansas", " kansas ", "KANSAS"])
def test_a_state_by_its_code_or_its_name(state):
    assert tickets.state_code(state) == "KS"
    assert usual_ticket(state, requested=REQUESTED).start.value == START


@pytest.mark.parametrize("code", CODES)
def test_every_row_of_the_table_is_whole(code):
    rules = STATES[code]
    assert state_holidays(2026, code) is not NOT_KNOWN
    assert rules.source
    assert rules.life_from in (tickets.REQUEST, tickets.START)
    assert 12 <= rules.zone.width_in <= 60
    statuses = (tickets.VERIFIED, tickets.PARTLY, tickets.MEMORY)
    assert rules.zone.status in statuses
    assert 2 <= rules.notice.full_working_days <= 3
    for span in (rules.notice, rules.life, rules.most_ahead):
        if span is not None:
            assert span.unit in (tickets.CALENDAR, tickets.WORKING, tickets.HOURS)
            assert span.status in statuses
            assert span.amount > 0


@pytest.mark.parametrize(("amount", "days"), [(24, 1), (25, 2), (48, 2), (72, 3)])
def test_hours_count_as_full_working_days(amount, days):
    assert tickets.Span(amount, tickets.HOURS, tickets.MEMORY).full_working_days == days


@pytest.mark.parametrize("code", CODES)
def test_every_line_says_to_confirm_and_how_sure_it_is(code):
    found = usual_ticket(code, requested=REQUESTED, ticket_start=START)
    zone = usual_tolerance_zone(code, 4.0)
    for result in (found.start, found.end, zone):
        if result.known:
            assert "sanity check only" in result.working.validity
            assert "confirm with the one-call centre" in result.working.source
            assert "confirm with the one-call centre" in result.working.lines[-1].source
    told = zone.working.lines[0].source
    assert ("from memory" in told) is (STATES[code].zone.status == tickets.MEMORY)
    assert ("partly verified" in told) is (STATES[code].zone.status == tickets.PARTLY)


@pytest.mark.parametrize("code", sorted(set(CODES) - set(WITH_LIFE)))
def test_where_no_life_is_known_no_end_is_made_up(code):
    found = usual_ticket(code, requested=REQUESTED, ticket_start=START)
    assert found.start.known
    assert found.end.value is NOT_KNOWN
    assert "no life of a ticket is known" in found.end.reason
    assert ticket_end_check(code, START, START).value is NOT_KNOWN


def test_only_the_days_that_a_figure_needs_are_needed():
    nothing = usual_ticket("KS")
    assert nothing.start.value is NOT_KNOWN
    assert "neither" in nothing.end.reason
    by_start = usual_ticket("KS", ticket_start=START)
    assert by_start.start.value is NOT_KNOWN
    assert by_start.end.value == DAY("2026-10-07")
    assert usual_ticket("KS", requested=REQUESTED).end.value == DAY("2026-10-07")
    # The printed start counts before the usual one.
    later = usual_ticket("KS", requested=REQUESTED, ticket_start=DAY("2026-09-20"))
    assert later.end.value == DAY("2026-10-10")


def test_a_life_from_the_request_ends_sooner_than_one_from_the_start():
    by_request = usual_ticket("CA", requested=REQUESTED, ticket_start=START)
    assert by_request.end.value == REQUESTED + dt.timedelta(28)
    assert usual_ticket("CA", ticket_start=START).end.value == by_request.end.value
    early = usual_ticket("CA", requested=DAY("2026-09-10"), ticket_start=START)
    assert early.end.value == DAY("2026-10-08")


def test_the_start_waits_for_all_holidays_and_the_end_for_those_that_both_keep():
    # California keeps 31 March, which the federal government does not.
    assert usual_ticket("CA", requested=DAY("2026-03-27")).start.value == DAY("2026-04-02")
    # Texas does not keep 12 October: the 14 working days from 1 October may count it.
    assert DAY("2026-10-12") not in state_holidays(2026, "TX")
    assert usual_ticket("TX", requested=DAY("2026-10-01")).end.value == DAY("2026-10-21")
    # Virginia keeps it: the 15 working days don't.
    assert DAY("2026-10-12") in state_holidays(2026, "VA")
    assert usual_ticket("VA", requested=DAY("2026-10-01")).end.value == DAY("2026-10-23")


@pytest.mark.parametrize(("end", "beyond"), [("2026-10-08", 1), ("2026-10-07", 0),
                                             ("2026-09-30", -7)])  # fmt: skip
def test_days_beyond_the_usual_end(end, beyond):
    found = ticket_end_check("KS", START, DAY(end))
    assert found.value == beyond
    last = found.working.lines[-1]
    assert read_quantity(last.result, Kind.DAYS, None) == beyond
    assert last.numbers == f"{end} - 2026-10-07"


@pytest.mark.parametrize("day", [NOT_KNOWN, DOES_NOT_APPLY, "soon", 4.0, DAY("2000-12-31"),
                                 DAY("2100-01-01"), dt.datetime(2026, 5, 4)])  # fmt: skip # noqa: DTZ001
def test_what_is_no_day_of_the_survey_is_not_known(day):
    assert ticket_end_check("KS", day, START).value is NOT_KNOWN
    assert ticket_end_check("KS", START, day).value is NOT_KNOWN
    found = usual_ticket("KS", requested=day, ticket_start=day)
    assert (found.start.value, found.end.value) == (NOT_KNOWN, NOT_KNOWN)


@pytest.mark.parametrize("day", ["2001-01-01", "2099-12-31"])
@pytest.mark.parametrize("code", WITH_LIFE)
def test_the_first_and_the_last_day_can_be_counted_with(code, day):
    assert ticket_end_check(code, DAY(day), DAY(day)).known
    found = usual_ticket(code, requested=DAY(day))
    assert found.start.known
    assert found.end.known


def test_the_diameter_is_needed_only_where_it_is_added():
    assert usual_tolerance_zone("CA").value == 24.0
    for low_or_high in (0.0, 600.0):
        assert usual_tolerance_zone("TX", low_or_high).value == 18.0 + low_or_high / 2
    for past in (NOT_KNOWN, DOES_NOT_APPLY, -0.001, 600.001, math.nan, math.inf):
        assert usual_tolerance_zone("TX", past).value is NOT_KNOWN
        assert usual_tolerance_zone("CA", past).value == 24.0
    last = usual_tolerance_zone("TX", 4.0).working.lines[-1]
    assert (last.numbers, last.result) == ("18 + 4 / 2", "20 in")


recent = st.dates(dt.date(2020, 1, 1), dt.date(2032, 12, 31))


@given(st.sampled_from(CODES), recent)
def test_the_full_working_days_of_the_notice_lie_between_request_and_start(code, requested):
    start = usual_ticket(code, requested=requested).start.value
    days = STATES[code].notice.full_working_days
    assert working_days_between(requested, start - dt.timedelta(1), code) == days
    assert working_days_between(requested, start, code) == days + 1
    assert start.weekday() < 5
    assert start not in federal_holidays(start.year)


@given(st.sampled_from(WITH_LIFE), recent)
def test_an_end_from_the_printed_start_is_never_sooner_than_from_the_request(code, requested):
    found = usual_ticket(code, requested=requested)
    by_start = usual_ticket(code, ticket_start=found.start.value)
    assert found.end.value <= by_start.end.value


anything = st.one_of(
    st.just(NOT_KNOWN), st.just(DOES_NOT_APPLY), st.dates(), recent, st.text(),
    st.floats(allow_nan=True, allow_infinity=True),
)  # fmt: skip


@given(st.one_of(st.sampled_from(CODES), anything), anything, anything)
def test_no_answer_makes_it_fail(state, first, second):
    found = usual_ticket(state, requested=first, ticket_start=second)
    for result in (
        found.start, found.end, ticket_end_check(state, first, second),
        usual_tolerance_zone(state, first),
    ):  # fmt: skip
        assert result.reason or result.working
