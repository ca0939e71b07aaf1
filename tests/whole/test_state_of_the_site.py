"""The State is read for sure or is not known: no spelling of it spares the checks that need it."""

import datetime as dt
import json

import pytest

from survey.answers import read_survey
from survey.assessment import Verdict, assess
from survey.document import read_document
from survey.rulebook.book import load_book
from survey.vocabulary import NOT_KNOWN
from survey.vocabulary.places import OUTSIDE
from tests.demo_surveys import careful_house, with_changes

BOOK = load_book()


def read(state, **site):
    document = with_changes(careful_house(), state=state, **site)
    return read_survey(read_document(json.dumps(document), "site.json"))


def judged(state, **site):
    survey, problems = read(state, **site)
    return assess(survey, problems, BOOK)


def told_of_the_ticket(found):
    return [f.say for f in found.findings if f.rule.code == "LINE-25"]


@pytest.mark.parametrize("state", ["Kansas", "KANSAS", "KS.", "K.S.", "ks"])
def test_a_state_is_the_same_however_it_is_written(state):
    """A ticket for half a year, which in Kansas holds for 20 days."""
    for end in ("2026-12-18", "2027-05-30"):
        wanted, found = judged("KS", ticket_end=end), judged(state, ticket_end=end)
        assert found.verdict is wanted.verdict
        assert told_of_the_ticket(found) == told_of_the_ticket(wanted)
        assert found.plan == wanted.plan
        assert not found.problems


@pytest.mark.parametrize("state", ["Kanzas", "XX", "KS/MO", "", None, "not known"])
@pytest.mark.parametrize("end", ["2026-12-18", "2027-05-30"])
def test_a_state_that_is_not_known_holds_the_site(state, end):
    survey, problems = read(state, ticket_end=end)
    assert survey.site.value("state") is NOT_KNOWN
    written = state not in {"", None, "not known"}
    assert len(problems) == written
    assert all("a State by its two letters" in str(problem) for problem in problems)
    found = assess(survey, problems, BOOK)
    assert found.verdict is Verdict.HOLD
    (told,) = told_of_the_ticket(found)
    assert told.startswith("Can't tell")
    # The days are still what federal holidays leave of them, and say so.
    for one in (found.plan.earliest, found.plan.latest):
        assert one.day is not None
        assert "the State is not known, and only federal holidays are left out" in one.why[-1]
    # Without the misspelling the site is free to start.
    assert judged("KS", ticket_end="2026-12-18").verdict is Verdict.GO_WITH_CONDITIONS


def test_outside_the_united_states_no_rule_or_holiday_of_a_state_is_taken():
    found = judged(OUTSIDE, ticket_end="2027-05-30")
    assert not told_of_the_ticket(found)
    assert found.verdict is Verdict.GO_WITH_CONDITIONS
    for one in (found.plan.earliest, found.plan.latest):
        assert "holidays outside the United States are not known" in one.why[-1]
        assert "in any case" in one.why[-1]


def test_federal_holidays_are_days_of_work_outside_the_united_states():
    # Thanksgiving Day is Thursday 26 November; five days of work from Monday 23.
    days = {
        "survey_date": "2026-11-16", "ticket_start": "2026-11-20", "crew_date": "2026-11-23",
        "last_crew_date": "2026-11-27", "ticket_end": "2026-11-27",
    }  # fmt: skip
    assert any("5 days" in clash for clash in judged("KS", **days).plan.clashes)
    assert not any("5 days" in clash for clash in judged(OUTSIDE, **days).plan.clashes)
    assert judged(OUTSIDE, **days).plan.latest.day == dt.date(2026, 11, 23)
    assert judged("KS", **days).plan.latest.day < dt.date(2026, 11, 23)
