"""One-call laws: zone, notice and life of a ticket as published, and by examples of counting.

Each row stands with its law; "from memory" marks what was not found in a stored text.
"""

import datetime as dt

import pytest

from survey.engineering.tickets import (
    CALENDAR,
    HOURS,
    MEMORY,
    PARTLY,
    STATES,
    VERIFIED,
    WORKING,
    Span,
    ticket_end_check,
    usual_ticket,
    usual_tolerance_zone,
)

DAY = dt.date.fromisoformat


@pytest.mark.parametrize(
    ("state", "zone"),
    [
        ("CA", 24.0),  # Gov. Code 4216
        ("FL", 24.0),  # Fla. Stat. 556.102
        ("NY", 24.0),  # 16 NYCRR 753
        ("CO", 18.0),  # C.R.S. 9-1.5-102
        ("TN", 24.0),  # TCA 65-31-101 et seq.
        ("MS", 18.0),  # Miss. Code 77-13
        ("MA", 18.0),  # MGL c.82 s.40
        ("RI", 18.0),
    ],
)
def test_zones_that_were_verified(state, zone):
    assert usual_tolerance_zone(state).value == zone
    assert STATES[state].zone.status == VERIFIED


@pytest.mark.parametrize(
    ("state", "notice"),
    [
        ("CA", Span(2, WORKING, VERIFIED)),  # Gov. Code 4216.2
        ("FL", Span(2, WORKING, VERIFIED)),  # Fla. Stat. 556.105
        ("KS", Span(2, WORKING, VERIFIED)),  # K.S.A. 66-1804(a)
        ("NC", Span(3, WORKING, VERIFIED)),  # G.S. 87-122
        ("TX", Span(48, HOURS, VERIFIED)),  # Util. Code 251.151
        ("TN", Span(3, WORKING, VERIFIED)),
        ("MS", Span(3, WORKING, VERIFIED)),  # from 1 July 2023
        ("MI", Span(3, WORKING, VERIFIED)),  # 2013 PA 174
        ("IL", Span(48, HOURS, PARTLY)),  # 220 ILCS 50/4(d) before P.A. 103-614
        ("PA", Span(3, WORKING, MEMORY)),  # 73 P.S. 176
    ],
)
def test_notices(state, notice):
    assert STATES[state].notice == notice


@pytest.mark.parametrize(
    ("state", "life"),
    [
        ("CA", Span(28, CALENDAR, VERIFIED)),  # Gov. Code 4216.2
        ("KS", Span(20, CALENDAR, VERIFIED)),  # K.S.A. 66-1804(c), after the start date
        ("CO", Span(30, CALENDAR, VERIFIED)),  # C.R.S. 9-1.5-103
        ("TN", Span(15, CALENDAR, VERIFIED)),  # from the start date
        ("GA", Span(21, CALENDAR, PARTLY)),  # OCGA 25-9-6, second hand
        ("TX", Span(14, WORKING, MEMORY)),  # 16 TAC ch. 18
        ("WA", Span(45, CALENDAR, MEMORY)),  # RCW 19.122
        ("OH", None), ("PA", None), ("MO", None), ("NY", None), ("RI", None),
    ],
)  # fmt: skip
def test_lives(state, life):
    assert STATES[state].life == life


@pytest.mark.parametrize(
    ("state", "requested", "start"),
    [
        # Two full working days, the day of the request not counted, so asked on Monday and dug on
        # Thursday: the counting example of several one-call centres, from memory.
        ("FL", "2026-09-14", "2026-09-17"), ("CO", "2026-09-14", "2026-09-17"),
        ("KS", "2026-09-14", "2026-09-17"), ("CA", "2026-09-14", "2026-09-17"),
        # 48 hours, to 7 a.m. of the third working day. Va. Code 56-265.17, from memory.
        ("VA", "2026-09-14", "2026-09-17"),
        # Over a weekend: asked on Thursday, Friday and Monday in full, dug on Tuesday.
        ("FL", "2026-09-17", "2026-09-22"),
        # Asked on a Saturday: as if on the Friday before.
        ("FL", "2026-09-19", "2026-09-23"),
        # Three full working days: asked on Monday, dug on Friday. G.S. 87-122, example from memory.
        ("NC", "2026-09-14", "2026-09-18"),
        # Labor Day, 7 September 2026, is no working day.
        ("CO", "2026-09-04", "2026-09-10"),
    ],
)  # fmt: skip
def test_first_day_of_digging_by_the_counting_of_one_call_laws(state, requested, start):
    assert usual_ticket(state, requested=DAY(requested)).start.value == DAY(start)


def test_kansas_ticket_of_20_calendar_days_after_the_start():
    # K.S.A. 66-1804(c): 20 calendar days after the start date.
    start = DAY("2026-09-17")
    assert usual_ticket("KS", ticket_start=start).end.value == DAY("2026-10-07")
    assert ticket_end_check("KS", start, DAY("2026-10-07")).value == 0.0


def test_california_ticket_of_28_calendar_days():
    # Gov. Code 4216.2: 28 calendar days; from the day the ticket is made, from memory.
    found = usual_ticket("CA", requested=DAY("2026-09-14"))
    assert found.end.value == DAY("2026-10-12")


def test_texas_zone_of_half_the_diameter_and_18_in():
    # 16 TAC ch. 18, from memory: an 8 in main has 22 in to each side of its middle.
    assert usual_tolerance_zone("TX", 8.0).value == 22.0
