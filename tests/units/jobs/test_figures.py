"""Figures for the safety meeting: which surveys count, and every number counted by hand."""

import datetime as dt

import pytest

from survey.assessment.decision import Verdict
from survey.jobs.figures import (
    NO_SURVEY_DATE,
    NOT_GIVEN,
    AnswerFigure,
    OutcomeFigure,
    RuleFigure,
    Span,
    choose,
    figures,
)
from survey.jobs.job import NotKnown
from survey.vocabulary.walk import MAY_STAY_BLANK
from tests.made_figures import COUNTED, EVER, FIVE, UNREAD, fired, job

FIRST, LAST = dt.date(2026, 9, 1), dt.date(2026, 11, 19)
DAY = dt.timedelta(1)


def counted(*checked, span=EVER):
    return figures(choose(checked, span))


@pytest.mark.parametrize(
    ("span", "day", "holds"),
    [
        (Span(FIRST, LAST), FIRST, True), (Span(FIRST, LAST), LAST, True),
        (Span(FIRST, LAST), FIRST - DAY, False), (Span(FIRST, LAST), LAST + DAY, False),
        (Span(FIRST, None), dt.date(2099, 1, 1), True), (Span(FIRST, None), FIRST - DAY, False),
        (Span(None, LAST), dt.date(2000, 1, 1), True), (Span(None, LAST), LAST + DAY, False),
        (Span(FIRST, LAST), None, False), (Span(FIRST, None), None, False),
        (Span(None, LAST), None, False), (EVER, None, True), (EVER, LAST, True),
    ],
)  # fmt: skip
def test_a_day_lies_in_a_span_or_not_and_an_unknown_one_only_in_all_time(span, day, holds):
    assert span.holds(day) is holds


def test_every_survey_stands_in_one_list():
    undated = job("gum", day=None)
    odd = job("hazel", disagreement=True)
    chosen = choose((*FIVE, undated, odd, UNREAD), Span(dt.date(2026, 11, 1), None))
    assert [site.file for site in chosen.sites] == ["alder.xlsx", "cedar.xlsx", "elm.xlsx"]
    assert chosen.undated == ("gum.xlsx",)
    assert chosen.outside == ("birch.xlsx", "fir.xlsx")
    assert chosen.disagreeing == ("hazel.xlsx",)
    assert chosen.unread == ("torn.xlsx",)


def test_without_a_span_a_survey_without_a_date_counts_and_has_a_line_of_its_own():
    found = counted(job("gum", day=None), job("oak"))
    assert len(found.chosen.sites) == 2
    assert [(month.name, month.sites) for month in found.months] == [
        ("2026-11", 1), (NO_SURVEY_DATE, 1),
    ]  # fmt: skip


def test_rules_are_counted_by_sites_and_places_and_released_ones_apart():
    assert COUNTED.rules == (
        RuleFigure("DIG-3", "rule DIG-3", "condition", 2, 5, 0, 0, 0, 0),
        RuleFigure("DIG-1", "rule DIG-1", "stop", 2, 3, 1, 3, 0, 0),
        RuleFigure("LINE-3", "rule LINE-3", "note", 1, 9, 0, 0, 0, 0),
        RuleFigure("FOOT-1", "rule FOOT-1", "engineer", 1, 2, 0, 0, 1, 5),
    )


def test_a_rule_that_was_met_nowhere_has_no_outcome_and_stands_last():
    released = job("a", Verdict.GO, fired("A-1", "engineer", released=True), fired("A-2", "note"))
    open_ = job("b", Verdict.HOLD, fired("A-3", "can't be told", 7))
    assert [(one.code, one.outcome) for one in counted(released, open_).rules] == [
        ("A-2", "note"), ("A-3", ""), ("A-1", ""),
    ]  # fmt: skip


def test_outcomes_are_counted_worst_first_and_a_site_once():
    assert COUNTED.outcomes == (
        OutcomeFigure("stop", 1, 2, 3),
        OutcomeFigure("engineer", 1, 1, 2),
        OutcomeFigure("ask", 0, 0, 0),
        OutcomeFigure("condition", 1, 2, 5),
        OutcomeFigure("note", 1, 1, 9),
        OutcomeFigure("can't be told", 1, 1, 3),
        OutcomeFigure("released", 1, 1, 5),
    )
    two = counted(job("a", Verdict.NO_GO, fired("A-1", "stop"), fired("A-2", "stop")))
    assert two.outcomes[0] == OutcomeFigure("stop", 2, 1, 2)


def test_answers_that_findings_wait_for_stand_first():
    assert COUNTED.answers == (
        AnswerFigure("pit depth", 2, 6, 2, 4),
        AnswerFigure("spoil distance", 2, 8, 0, 0),
        AnswerFigure("town", 1, 1, 0, 0),
    )


def test_what_may_stay_blank_is_no_open_answer():
    asked = tuple(NotKnown(word, 1, 0) for word in sorted(MAY_STAY_BLANK))
    found = counted(job("a", asked=asked))
    assert found.answers == ()
    assert found.surveyors[0].rows == 0


def test_by_surveyor_however_the_name_is_spelt_and_most_sites_first():
    ode, vale, nobody = COUNTED.surveyors
    assert (ode.name, ode.sites, ode.rows, ode.waiting_rows) == ("R. Ode", 2, 8, 2)
    assert ode.verdicts[Verdict.NO_GO] == 2
    assert sum(ode.verdicts.values()) == 2
    assert ode.rules == (("DIG-1", "rule DIG-1", 2),)
    assert ode.answers == (("pit depth", 1),)
    assert (vale.name, vale.sites, vale.rules) == ("T. Vale", 2, (("FOOT-1", "rule FOOT-1", 1),))
    assert vale.verdicts[Verdict.GO_WITH_CONDITIONS] == vale.verdicts[Verdict.ENGINEER_REVIEW] == 1
    assert (nobody.name, nobody.sites, nobody.rows, nobody.rules) == (NOT_GIVEN, 1, 0, ())


def test_by_town_and_where_none_is_given():
    assert [(one.name, one.sites) for one in COUNTED.towns] == [
        ("Millbrook", 2), ("Quillmere", 2), (NOT_GIVEN, 1),
    ]  # fmt: skip


def test_a_group_names_its_three_most_frequent_rules_and_answers():
    rules = [fired(f"A-{i}", "stop") for i in range(1, 6)]
    asked = [NotKnown(word, 1, 1) for word in ("pit depth", "pit length", "pit width", "frost")]
    sites = [job(f"s{i}", Verdict.NO_GO, *rules[i:], asked=tuple(asked[i:])) for i in range(4)]
    (one,) = counted(*sites).surveyors
    assert one.rules == (
        ("A-4", "rule A-4", 4), ("A-5", "rule A-5", 4), ("A-3", "rule A-3", 3),
    )  # fmt: skip
    assert one.answers == (("frost", 4), ("pit width", 3), ("pit length", 2))


def test_months_without_a_survey_are_told_too():
    assert [(month.name, month.sites) for month in COUNTED.months] == [
        ("2026-09", 2), ("2026-10", 0), ("2026-11", 3),
    ]  # fmt: skip
    september, october, november = COUNTED.months
    assert september.verdicts[Verdict.NO_GO] == september.verdicts[Verdict.GO] == 1
    assert set(october.verdicts.values()) == {0}
    assert november.verdicts[Verdict.NO_GO] == 1


@pytest.mark.parametrize("checked", [(), (UNREAD,), (job("a"),)])
def test_nothing_to_count_is_counted_too(checked):
    found = counted(*checked)
    assert (found.rules, found.answers) == ((), ())
    assert len(found.months) == len(found.chosen.sites)
    assert [one.sites for one in found.outcomes] == [0] * 7


def test_the_same_surveys_in_another_order_give_the_same_figures():
    assert figures(choose(reversed((*FIVE, UNREAD)), EVER)) == COUNTED
