"""A span of days says of each day what judging that day in full says."""

from __future__ import annotations

import datetime as dt
import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.assessment import Assessment, assess
from survey.assessment.days import on_day, span
from survey.model import Answer, Survey
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome, RuleBook
from survey.vocabulary import NOT_KNOWN
from tests.demo_surveys import careful_house, survey_of
from tests.random_sites import random_survey

SEEDS = st.integers(0, 2**63)
CREW_DATE = dt.date(2026, 12, 7)
SPAN = 12
# A firm's rules that tie the crew's days to what a pier has and to the weather, a conclusion that
# rests on those days, a standing release that begins and ends, and one with a day in its condition.
FIRM = """\
topic Our own days

rule DAYS-1 deep pit late in the year
  for   each pier
  when  crew date is after 2026-12-09 and pit depth is more than 3 ft and frost is none expected
  then  condition
  say   Pit {pier} is dug late in the year.
  do    Cover it at night.
  who   crew
  from  common practice
  release nobody
  case  crew date 2026-12-10, pit depth 4 ft, frost none expected gives condition
  case  crew date 2026-12-09, pit depth 4 ft, frost none expected gives nothing
  case  crew date 2026-12-10, pit depth 3 ft, frost none expected gives nothing
  case  crew date 2026-12-10, pit depth 4 ft, frost ground frozen gives nothing
  case  crew date not known, pit depth 4 ft, frost none expected gives ask

rule DAYS-2 ground late in the year
  for   each pier
  when  crew date is after 2026-12-05 and survey age is more than 3 days
  then  count soil class as C
  say   Pit {pier} is dug late in the year, so its ground counts as C.
  from  common practice
  case  crew date 2026-12-06, survey age 4 days gives C
  case  crew date 2026-12-05, survey age 4 days gives nothing
  case  crew date 2026-12-06, survey age 3 days gives nothing
  case  crew date not known, survey age 4 days gives ask

standing release DAYS-3 narrow pits before the winter
  lifts    FOOT-1
  when     wall material is poured concrete
  engineer E. Dunnock
  licence  PE 00000 (invented)
  given    2026-12-03
  until    2026-12-16
  note     One pit open at a time
  case     wall material poured concrete gives lifted
  case     wall material brick gives nothing

standing release DAYS-4 light walls before the winter
  lifts    PIER-2
  when     crew date is before 2026-12-09 and wall material is poured concrete
  engineer E. Dunnock
  licence  PE 00000 (invented)
  given    2026-03-02
  until    2027-12-31
  note     One pit open at a time
  case     crew date 2026-12-08, wall material poured concrete gives lifted
  case     crew date 2026-12-09, wall material poured concrete gives nothing
  case     crew date 2026-12-08, wall material brick gives nothing
"""
NOTICE = """\
topic Notice

rule NOTICE-1 neighbour who was told late
  for   the site
  when  any neighbour where notice given is less than 21 days
  then  stop
  say   A neighbour was told late.
  do    Wait.
  who   scheduler
  from  common practice
  release nobody
  case  all neighbours listed yes, neighbour (notice given 20 days) gives stop
  case  all neighbours listed yes, neighbour (notice given 21 days) gives nothing
  case  all neighbours listed yes, neighbour (notice given not known) gives ask
"""
SHIPPED = load_book()


@pytest.fixture(scope="module")
def firm(tmp_path_factory) -> RuleBook:
    folder: Path = tmp_path_factory.mktemp("firm")
    (folder / "days.rules").write_text(FIRM, "utf-8")
    return load_book(folder)


def judged(found: Assessment):
    given = {
        (one.rule.code, one.place, one.outcome, one.counts)
        for one in found.findings
        if one.outcome is not Outcome.NOTE
    }
    return found.verdict, given, bool(found.plan.clashes)


def site_with_dates(rng: random.Random) -> Survey:
    """A random site whose dates lie so that something turns within the span."""

    def near(before: int, after: int) -> dt.date:
        return CREW_DATE + dt.timedelta(rng.randint(before, after))

    survey = random_survey(rng, rate=rng.choice([0.0, 0.002, 0.01, 0.05]))
    first = near(-6, 10)
    dates = {
        "crew date": rng.choice([first, first, NOT_KNOWN]),
        "last crew date": rng.choice([first + dt.timedelta(rng.randint(-1, 9)), NOT_KNOWN]),
        "survey date": near(-40, 0),
        "ticket start": near(-10, 6),
        "ticket end": near(3, 20),
    }
    kept = rng.sample(sorted(dates), rng.randint(0, 3))
    answers = {
        word: Answer(value, survey.site.answers[word].where)
        for word, value in dates.items()
        if word not in kept
    }
    state = rng.choice(["KS", "KS", "KS", "CA", "TX", "outside the United States", NOT_KNOWN])
    answers["state"] = Answer(state, "site.state")
    site = replace(survey.site, answers={**survey.site.answers, **answers})
    releases = tuple(
        replace(row, answers={
            **row.answers,
            "release date": Answer(near(-20, 4), row.where),
            "release end": Answer(near(2, 20), row.where),
        })
        for row in survey.releases
    )  # fmt: skip
    neighbours = tuple(
        replace(row, answers={**row.answers, "notice date": Answer(near(-20, 0), row.where)})
        for row in survey.neighbours
    )
    return replace(survey, site=site, releases=releases, neighbours=neighbours)


@settings(max_examples=12, deadline=None)
@given(SEEDS)
def test_a_span_is_as_every_day_judged_in_full(firm, seed):
    rng = random.Random(seed)
    survey, book = site_with_dates(rng), rng.choice([SHIPPED, firm])
    first = CREW_DATE + dt.timedelta(rng.randint(-5, 5))
    found = span(survey, (), book, first, first + dt.timedelta(SPAN - 1))
    alone = {}
    for passed in range(SPAN):
        day = first + dt.timedelta(passed)
        moved, problems = on_day(survey, (), day)
        full = assess(moved, problems, book)
        alone[day] = judged(full)
        run = found.on(day)
        assert run.verdict is full.verdict
        blocking = {(one.rule.code, one.place, one.outcome) for one in run.blocking}
        assert blocking == {
            (code, place, outcome)
            for code, place, outcome, counts in alone[day][1]
            if counts and outcome is not Outcome.CONDITION
        }
        assert bool(run.clashes) == alone[day][2]
    # A run is as long as it can be, and tells what changed since the run before.
    for before, after in zip(found.runs, found.runs[1:], strict=False):
        assert after.first == before.last + dt.timedelta(1)
        assert alone[before.last] != alone[after.first]
        assert after.changes
        assert all(change.why for change in after.changes)
    for run in found.runs:
        days = [day for day in alone if run.first <= day <= run.last]
        assert all(alone[day] == alone[run.first] for day in days)


def test_the_random_sites_turn_often_enough_to_prove_something(firm):
    rng = random.Random(4)
    turned, changed = 0, Counter()
    for _ in range(12):
        survey = site_with_dates(rng)
        runs = span(survey, (), firm, CREW_DATE, CREW_DATE + dt.timedelta(SPAN)).runs
        turned += len(runs) > 1
        changed.update(change.code for run in runs for change in run.changes)
    assert turned >= 8
    assert {"LINE-3", "DAYS-1", "FOOT-1"} <= changed.keys()


def test_each_of_the_firm_s_rules_turns_on_its_own_day(firm):
    document = careful_house()
    document["site"]["ticket_start"] = "2026-11-20"
    document["releases"] = []
    first, last = dt.date(2026, 12, 1), dt.date(2026, 12, 13)
    runs = span(survey_of(document), (), firm, first, last).runs
    turned = {
        run.first.day: {(one.code, one.before, one.after) for one in run.changes} for run in runs
    }
    assert list(turned) == [1, 3, 6, 7, 8, 9, 10, 11]
    assert turned[3] == {("FOOT-1", "engineer", "released")}
    assert turned[6]  # of the ground that now counts as C
    assert not {code for code, _, _ in turned[6]} & {"FOOT-1", "PIER-2", "LINE-2"}
    # The form's own day and its weather; then PIER-2 is not lifted any more, then FOOT-1 is not.
    assert ("PIER-2", "released", "engineer") in turned[9]
    assert ("FOOT-1", "released", "engineer") in turned[11]
    whys = {one.code: one.why for run in runs for one in run.changes if run.first.day in {3, 9}}
    assert (
        "standing release DAYS-3 (E. Dunnock) holds from 2026-12-03 to 2026-12-16" in whys["FOOT-1"]
    )
    assert all(one.why for run in runs for one in run.changes)


def test_a_rule_of_the_whole_site_about_the_notice_to_any_neighbour_gives_a_reason(tmp_path):
    (tmp_path / "notice.rules").write_text(NOTICE, "utf-8")
    document = careful_house()
    document["site"]["ticket_start"] = "2026-11-20"
    document["neighbours"][0] |= {"other_owner": "yes", "notice_date": "2026-11-10"}
    book = load_book(tmp_path)
    first = dt.date(2026, 11, 28)
    _, after = span(survey_of(document), (), book, first, first + dt.timedelta(4)).runs
    assert after.first == dt.date(2026, 12, 1)
    (change,) = after.changes
    assert (change.code, change.before, change.after) == ("NOTICE-1", "stop", "nothing")
    assert change.why == "the crew would be there from 2026-12-01 to 2026-12-07"


def test_the_weather_of_the_form_s_own_day_is_no_measure_for_the_days_after_it(firm):
    document = careful_house()
    document["site"]["frost"] = "ground frozen"  # so DAYS-1 is not met on that day, nor might be
    first = CREW_DATE
    runs = span(survey_of(document), (), firm, first, first + dt.timedelta(6)).runs
    begun = {run.first: one.after for run in runs for one in run.changes if one.code == "DAYS-1"}
    assert begun == {dt.date(2026, 12, 10): "can't be told"}
