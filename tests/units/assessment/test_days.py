"""The crew on another day than the form's: what moves with it, and what turns from day to day."""

import copy
import datetime as dt
import json
import random
from dataclasses import replace

import pytest

from survey.answers import read_survey
from survey.assessment import Verdict, assess
from survey.assessment import assessment as judging
from survey.assessment.days import on_day, span
from survey.assessment.turning import WITH_DAYS, Turning, rests_on_days
from survey.assessment.why_turned import WEATHER
from survey.document import read_document
from survey.errors import Problem
from survey.facts import gather
from survey.model import ASKED_FOR, Answer
from survey.quantities import work_out
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Subject
from tests.demo_surveys import careful_house, survey_of
from tests.effort import counted
from tests.random_sites import random_survey

BOOK = load_book()


def day(text):
    return dt.date.fromisoformat(text)


def house(**site):
    """The careful house, with other answers of the site; its crew is there 7 to 11 December."""
    document = copy.deepcopy(careful_house())
    document["site"] |= site
    return document


def put(document, on):
    """The survey moved to a day, without problems."""
    moved, problems = on_day(survey_of(document), (), day(on))
    assert not problems
    return moved


def last_day(document, on):
    return put(document, on).site.value("last crew date")


def runs(document, first, last):
    found = span(survey_of(document), (), BOOK, day(first), day(last))
    return {
        str(run.first): {
            (change.code, change.before, change.after): change.why for change in run.changes
        }
        for run in found.runs
    }


# The survey on another day


@pytest.mark.parametrize(
    ("on", "last"),
    [
        ("2026-12-14", "2026-12-18"),
        ("2026-12-16", "2026-12-22"),  # over a weekend
        ("2026-12-12", "2026-12-18"),  # nobody works on a Saturday
        ("2026-12-21", "2026-12-29"),  # the offices of Kansas keep 24 and 25 December in 2026
        ("2026-11-23", "2026-11-30"),  # Thanksgiving
    ],
)
def test_the_last_day_stays_as_many_working_days_after_the_first(on, last):
    moved = put(house(), on)
    assert moved.site.value("crew date") == day(on)
    assert moved.site.value("last crew date") == day(last)


def test_holidays_are_those_of_the_state():
    # California keeps 31 March, Kansas does not.
    assert last_day(house(state="CA"), "2027-03-29") == day("2027-04-05")
    assert last_day(house(state="KS"), "2027-03-29") == day("2027-04-02")


def test_days_off_at_the_end_of_a_booking_are_kept():
    booked_to_sunday = house(last_crew_date="2026-12-13")
    assert last_day(booked_to_sunday, "2026-12-09") == day("2026-12-17")
    assert last_day(booked_to_sunday, "2026-12-14") == day("2026-12-20")


def test_a_last_day_before_the_first_stays_a_contradiction():
    moved = put(house(last_crew_date="2026-12-04"), "2026-12-14")
    assert moved.site.value("last crew date") == day("2026-12-11")
    assert "SURVEY-11" in {finding.rule.code for finding in assess(moved, (), BOOK).findings}


@pytest.mark.parametrize(
    ("site", "why"),
    [
        ({"state": "not known"}, "the State is: not known"),
        ({"state": "outside the United States"}, "outside the United States"),
        # The plan says that the work takes five days at least, but not how long the crew stays.
        ({"crew_date": "not known"}, "does not give both the crew's first day and its last"),
        ({"last_crew_date": "not known"}, "does not give both the crew's first day and its last"),
        ({"crew_date": "2000-01-03", "last_crew_date": "2100-12-30"}, "more days are booked"),
    ],
)
def test_a_last_day_that_nothing_tells_is_never_guessed(site, why):
    moved = put(house(**site), "2026-12-14")
    assert moved.site.answers["last crew date"] == Answer(NOT_KNOWN, ASKED_FOR)
    assert any(why in note for note in moved.notes)
    assert not assess(moved, (), BOOK).verdict.may_start


@pytest.mark.parametrize("last", ["2026-12-11", "not known"])
def test_on_the_form_s_own_day_nothing_moves(last):
    survey = survey_of(house(last_crew_date=last))
    assert on_day(survey, (), day("2026-12-07")) == (survey, ())


def test_no_day_may_start_while_the_last_one_is_not_known():
    survey = survey_of(house(last_crew_date="not known"))
    found = span(survey, (), BOOK, day("2026-12-04"), day("2026-12-11"))
    assert not any(run.but_for_weather.may_start for run in found.runs)
    assert found.length.working_days is NOT_KNOWN


def test_the_notes_tell_the_form_s_day_and_its_place():
    moved = put(house(), "2026-12-14")
    assert moved.site.answers["crew date"] == Answer(day("2026-12-14"), ASKED_FOR)
    first, last, weather = moved.notes
    assert "2026-12-14" in first
    assert "the form says 2026-12-07 (site.crew_date)" in first
    assert "2026-12-18: as many working days as booked, 5" in last
    assert all(word in weather for word in WEATHER)
    unsaid, *_ = put(house(crew_date="not known"), "2026-12-14").notes
    assert "the form gives none (site.crew_date)" in unsaid


def test_the_weather_of_other_days_is_not_known():
    moved = put(house(frost="ground frozen"), "2026-12-08")
    assert all(moved.site.value(word) is NOT_KNOWN for word in WEATHER)
    # Other answers about the site are those of the form.
    others = [w.name for w in VOCABULARY.asked_of(Subject.SITE) if w.name not in WEATHER]
    form = survey_of(house(frost="ground frozen")).site
    assert {word for word in others if moved.site.value(word) != form.value(word)} == {
        "crew date", "last crew date",
    }  # fmt: skip


def test_every_question_about_a_forecast_is_of_the_weather():
    told = {
        word.name
        for word in VOCABULARY.words
        if "forecast" in f"{word.prompt} {word.help}" or "Look again on the day before" in word.help
    }
    assert told == set(WEATHER)


def test_a_problem_in_the_first_day_s_own_cell_is_answered_and_others_stay():
    document = house(crew_date="soon", last_crew_date="later")
    survey, problems = read_survey(read_document(json.dumps(document), "site.json"))
    assert {problem.where for problem in problems} == {"site.crew_date", "site.last_crew_date"}
    moved, left = on_day(survey, problems, day("2026-12-14"))
    assert [problem.where for problem in left] == ["site.last_crew_date"]
    assert moved.site.value("last crew date") is NOT_KNOWN
    assert not assess(moved, left, BOOK).verdict.may_start


def test_a_problem_at_a_place_that_stands_for_many_questions_stays():
    survey = survey_of(house())
    answers = {
        word: Answer(answer.value, "site") if word in {"crew date", "state"} else answer
        for word, answer in survey.site.answers.items()
    }
    problem = Problem("site", "?", "something else")
    shared = replace(survey, site=replace(survey.site, answers=answers))
    assert on_day(shared, (problem,), day("2026-12-14"))[1] == (problem,)


# What turns


def test_only_figures_of_the_site_and_of_neighbours_rest_on_the_crew_s_days():
    rng = random.Random(8)
    rested = set()
    for _ in range(10):
        survey = random_survey(rng)
        for thing in gather(survey, work_out(survey, BOOK.subjects), wanted=BOOK.subjects).things:
            for word, fact in thing.facts.items():
                if rests_on_days(fact):
                    assert thing.subject in WITH_DAYS, word
                    rested.add(word)
    assert {"survey age", "notice given", "crew date", "last crew date"} == rested


def test_the_rules_that_turn_are_those_that_look_at_the_days():
    moved = put(house(), "2026-12-14")
    codes = {rule.code for rule in Turning.of_survey(moved, BOOK).rules}
    assert {"LINE-2", "LINE-3", "SURVEY-1", "SURVEY-2"} <= codes
    assert not {code for code in codes if code.startswith(("DIG", "SOIL", "FOOT", "WATER"))}


# The span


def test_the_ticket_begins_and_ends():
    found = runs(house(), "2026-11-28", "2026-12-18")
    assert list(found) == ["2026-11-28", "2026-11-30", "2026-12-07", "2026-12-08", "2026-12-15"]
    assert found["2026-11-30"] == {
        ("LINE-2", "stop", "nothing"): "the locate ticket holds from 2026-11-30"
    }
    ((code, before, after), why), *_ = found["2026-12-15"].items()
    assert (code, before, after) == ("LINE-3", "nothing", "stop")
    assert "the locate ticket ends on 2026-12-18" in why
    assert "from 2026-12-15 to 2026-12-21" in why


def test_on_other_days_than_the_form_s_the_weather_is_open():
    survey = survey_of(house())
    before, own, after = span(survey, (), BOOK, day("2026-12-06"), day("2026-12-08")).runs
    assert [before.verdict, own.verdict, after.verdict] == [
        Verdict.HOLD, Verdict.GO_WITH_CONDITIONS, Verdict.HOLD,
    ]  # fmt: skip
    assert {run.but_for_weather for run in (before, own, after)} == {Verdict.GO_WITH_CONDITIONS}
    assert all("weather of these days is not told" in change.why for change in after.changes)
    assert all("tells the weather of its own days" in change.why for change in own.changes)
    assert {change.code for change in after.changes} >= {"SOIL-8", "WATER-6", "CREW-13"}


def test_days_that_are_judged_apart_but_alike_are_one_run():
    unsaid = {word.replace(" ", "_"): "not known" for word in WEATHER}
    survey = survey_of(house(**unsaid))  # its own day tells no more than the others
    (run,) = span(survey, (), BOOK, day("2026-12-06"), day("2026-12-08")).runs
    assert (run.first, run.last) == (day("2026-12-06"), day("2026-12-08"))


def test_what_else_is_open_is_no_matter_of_the_weather():
    survey = survey_of(house(gas_odour="not known"))
    (run,) = span(survey, (), BOOK, day("2026-12-08"), day("2026-12-09")).runs
    assert run.but_for_weather is Verdict.HOLD


def test_a_survey_that_grows_too_old():
    site = house(ticket_end="2027-03-01", survey_date="2026-11-20")
    found = runs(site, "2026-12-18", "2026-12-23")
    assert found == {
        "2026-12-18": {},
        "2026-12-21": {
            ("SURVEY-1", "nothing", "ask"): "survey age of site would be 31 days "
            "(survey date 2026-11-20); limit 30 days"
        },
    }


def test_a_day_before_the_site_was_walked():
    found = runs(house(ticket_start="2026-11-10"), "2026-11-15", "2026-11-20")
    why = found["2026-11-18"]["SURVEY-2", "ask", "nothing"]
    assert why == "survey age of site would be 0 days (survey date 2026-11-18); limit 0 days"


def test_notice_to_a_neighbour():
    document = house(ticket_start="2026-11-20")
    document["neighbours"][0] |= {
        "neighbour_kind": "house", "other_owner": "yes", "notice_date": "2026-11-20",
    }  # fmt: skip
    found = runs(document, "2026-11-27", "2026-12-02")
    (code, before, after), why = next(
        (key, why) for key, why in found["2026-11-30"].items() if key[0].startswith("NEAR")
    )
    assert (before, after) == ("stop", "nothing"), code
    assert why == (
        "notice given of garden shed would be 10 days (notice date 2026-11-20); limit 10 days"
    )


def test_a_release_that_is_not_yet_signed_and_one_that_ends():
    document = house(ticket_start="2026-11-20", ticket_end="2027-02-26")
    for release in document["releases"]:
        release |= {"release_date": "2026-11-25", "release_end": "2026-12-16"}
    found = runs(document, "2026-11-23", "2026-12-15")
    signed = found["2026-11-25"]["FOOT-1", "engineer", "released"]
    ended = found["2026-12-11"]["FOOT-1", "released", "engineer"]
    for why in (signed, ended):
        assert "(T. Aldermoor) holds from 2026-11-25 to 2026-12-16" in why
    assert "from 2026-12-11 to 2026-12-17" in ended


def test_a_clash_of_the_plan_holds_a_day_whatever_the_weather():
    survey = survey_of(house(last_crew_date="2026-12-08"))  # two days, and the work takes five
    (run,) = span(survey, (), BOOK, day("2026-12-08"), day("2026-12-09")).runs
    assert "the work takes 5 days" in run.clashes[0]
    assert run.but_for_weather is Verdict.HOLD


def test_a_clash_that_begins_is_a_change_of_its_own():
    # Five working days are booked by the State's holidays. Over 24 December, which the country
    # does not keep, there may be a sixth, and the work takes five and a half.
    site = house(
        crew_date="2026-12-21", last_crew_date="2026-12-29", days_for_a_round_of_pits="1.1 days",
        ticket_end="2027-02-26", survey_date="2026-12-01",
    )  # fmt: skip
    found = runs(site, "2026-12-22", "2026-12-28")
    assert list(found) == ["2026-12-22", "2026-12-25"]
    ((change, why),) = found["2026-12-25"].items()
    assert change == ("", "nothing", "ask")
    assert "the work takes 5.5 days" in why
    assert "there are only 5 working days" in why


def test_days_on_which_nobody_works_have_names_and_are_no_days_to_start():
    survey = survey_of(house(crew_date="2026-12-05", last_crew_date="2026-12-10"))
    found = span(survey, (), BOOK, day("2026-12-04"), day("2026-12-25"))
    assert found.off[day("2026-12-05")] == "Saturday"
    assert found.off[day("2026-12-25")] == "Christmas Day"
    assert day("2026-12-07") not in found.off
    assert found.on(day("2026-12-05")).verdict is Verdict.HOLD  # one day too few for the work
    assert found.may_start == ()
    longer = survey_of(house(crew_date="2026-12-07"))
    assert span(longer, (), BOOK, day("2026-12-04"), day("2026-12-25")).may_start == (
        day("2026-12-07"),
    )


def test_a_saturday_that_the_form_itself_gives_is_a_day_to_start():
    survey = survey_of(house(crew_date="2026-12-05"))
    found = span(survey, (), BOOK, day("2026-12-04"), day("2026-12-06"))
    assert found.off.keys() == {day("2026-12-05"), day("2026-12-06")}
    assert found.may_start == (day("2026-12-05"),)


def test_other_days_on_which_nobody_works_are_no_days_to_start():
    found = span(survey_of(house()), (), BOOK, day("2026-12-10"), day("2026-12-14"))
    (run,) = found.runs
    told = replace(found, runs=(replace(run, verdict=run.but_for_weather),))  # the weather is told
    assert told.may_start == (day("2026-12-10"), day("2026-12-11"), day("2026-12-14"))


def test_problems_hold_every_day():
    document = house(gas_odour="perhaps")
    survey, problems = read_survey(read_document(json.dumps(document), "site.json"))
    found = span(survey, problems, BOOK, day("2026-12-07"), day("2026-12-08"))
    assert found.problems == tuple(problems)
    assert not any(run.but_for_weather.may_start for run in found.runs)


def test_what_the_evaluators_disagree_on_is_told(monkeypatch):
    monkeypatch.setattr(judging, "_second_opinion", lambda book, facts: ("made to differ",))
    found = span(survey_of(house()), (), BOOK, day("2026-12-07"), day("2026-12-07"))
    (run,) = found.runs
    assert run.disagreement == ("made to differ",)
    assert run.verdict is run.but_for_weather is Verdict.NO_GO


def test_blocking_findings_are_those_that_keep_the_crew_away():
    (run,) = span(survey_of(house()), (), BOOK, day("2026-12-15"), day("2026-12-15")).runs
    outcomes = {finding.outcome for finding in run.blocking}
    assert outcomes == {Outcome.STOP, Outcome.ASK}


def test_a_day_on_which_nothing_turns_costs_a_small_part_of_a_judgement():
    survey, first = survey_of(house()), day("2026-11-25")
    moved = put(house(), "2026-12-14")
    assess(moved, (), BOOK)
    span(survey, (), BOOK, first, first + dt.timedelta(400))  # holidays are kept
    _, one = counted(lambda: assess(moved, (), BOOK))
    short, few = counted(lambda: span(survey, (), BOOK, first, first + dt.timedelta(100)))
    long, many = counted(lambda: span(survey, (), BOOK, first, first + dt.timedelta(300)))
    assert len(short.runs) == len(long.runs)
    assert many - few < 200 * one / 10
