"""The verdict day by day, as a terminal prints it."""

import dataclasses
import datetime as dt

from survey.assessment.days import span
from survey.errors import Problem
from survey.rulebook.book import load_book
from survey.sheets.days import say_days
from tests.demo_surveys import DEMO, careful_house, survey_of, with_changes

BOOK = load_book()
FIRST = dt.date(2026, 12, 7)


def said(document, days=1, first=FIRST):
    survey = survey_of(document)
    return say_days(survey, span(survey, (), BOOK, first, first + dt.timedelta(days - 1)))


def plain(text):
    return " ".join(text.split())


def test_a_day_with_nothing_against_it():
    assert said(careful_house()).splitlines() == [
        "2026-114 Fennel House (site): 2026-12-07 to 2026-12-07",
        "  For each day as the crew's first; the form says 2026-12-07.",
        "  How long the crew is there: as many working days as booked, 5.",
        "",
        "2026-12-07: GO WITH CONDITIONS",
        "",
        "Days on which the crew may start: 2026-12-07.",
    ]


def test_what_stands_against_the_first_day_is_told_up_to_a_number():
    text = said(DEMO["03-tallow-court"]())
    told = [line for line in text.splitlines() if line.startswith("  because: ")]
    assert len(told) == 8
    survey = survey_of(DEMO["03-tallow-court"]())
    (run,) = span(survey, (), BOOK, FIRST, FIRST).runs
    alike = {(one.rule.code, one.outcome) for one in run.blocking}
    assert f"  and {len(alike) - 8} other findings; the sheet of a check has all" in text
    assert max(map(len, text.splitlines())) <= 100


def test_places_of_a_change_are_drawn_together():
    document = careful_house()
    document["site"]["ticket_end"] = "2027-03-01"
    text = plain(said(document, 12, dt.date(2027, 1, 4)))
    assert (
        "now: engineer, before: released: FOOT-1 pit dug below our own footing (P1 to P5)" in text
    )


def test_the_gravest_change_comes_first():
    document = with_changes(careful_house(), crew_date="2026-12-14", last_crew_date="2026-12-18")
    text = said(document, 2, dt.date(2026, 12, 14))
    stop, weather = text.index("now: stop: LINE-3"), text.index("now: can't be told: CREW-13")
    assert stop < weather


def test_a_clash_is_told_where_no_day_fits():
    text = plain(said(with_changes(careful_house(), last_crew_date="2026-12-09")))
    assert "2026-12-07: HOLD because: no day fits: the work takes 5 days" in text
    assert text.endswith("Days on which the crew may start: none of these.")


def test_holidays_are_named_and_weekends_are_not_listed():
    text = plain(said(careful_house(), 21, dt.date(2026, 12, 18)))
    off = text[text.index("Nobody works on") :]
    assert off.startswith(
        "Nobody works on: Saturdays and Sundays, 2026-12-24 (Christmas Eve), 2026-12-25 "
        "(Christmas Day), 2027-01-01 (New Year's Day)."
    )


def test_a_disagreement_of_the_evaluators_is_told():
    survey = survey_of(careful_house())
    days = span(survey, (), BOOK, FIRST, FIRST)
    (run,) = days.runs
    differ = dataclasses.replace(run, disagreement=("LINE-2 at site: met by one only",))
    text = say_days(survey, dataclasses.replace(days, runs=(differ,)))
    assert "  internal disagreement: LINE-2 at site: met by one only" in text


def test_a_last_day_that_is_not_booked_is_not_known():
    text = plain(said(with_changes(careful_house(), last_crew_date="not known")))
    assert (
        "How long the crew is there: not known, for the form does not give both the crew's first "
        "day and its last."
    ) in text
    assert text.endswith("Days on which the crew may start: none of these.")


def test_a_length_that_is_not_known_is_told():
    text = plain(said(with_changes(careful_house(), state="not known")))
    assert "How long the crew is there: not known, for the holidays are not known" in text


def test_problems_can_not_lead_a_terminal_astray():
    survey = survey_of(careful_house())
    problem = Problem("Site!B4", "\x1b[2J" + "word " * 40, "yes or no")
    text = say_days(survey, span(survey, (problem,), BOOK, FIRST, FIRST))
    assert "To put right on every day: Site!B4: read" in text
    assert "\x1b" not in text
    assert max(map(len, text.splitlines())) <= 100
