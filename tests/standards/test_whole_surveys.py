"""Whole surveys of published accident types, and of what the standards allow: see each source."""

from __future__ import annotations

import functools
import re
from collections import Counter
from pathlib import Path

import pytest

from survey.answers import read_survey
from survey.assessment import Assessment, Finding, Verdict, assess
from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.sheets import render
from survey.workbook import open_survey, write_form
from tests.demo_surveys import survey_of
from tests.whole_surveys import ACCEPTABLE, ALL, WholeSurvey

BOOK = load_book()
MOST_BOXES = 15  # on the page that the crew reads in the rain


BY_NAME = {one.name: one for one in ALL}


@functools.cache
def assessment_of(name: str) -> Assessment:
    return assess(survey_of(BY_NAME[name].change.document(), "site"), (), BOOK)


def judged(one: WholeSurvey) -> Assessment:
    return assessment_of(one.name)


def met(assessment: Assessment) -> set[str]:
    """Codes of the rules that are met for certain and count."""
    of_findings = {f.rule.code for f in assessment.findings if f.counts and _for_certain(f)}
    return of_findings | {chained.rule.code for chained in assessment.chained}


def _for_certain(finding: Finding) -> bool:
    return finding.outcome is finding.rule.then and not finding.say.startswith("Can't tell")


def told(assessment: Assessment) -> set[tuple[str, str]]:
    """Code and place of whatever counts, for certain or not."""
    counted = {(f.rule.code, f.place) for f in assessment.findings if f.counts}
    return counted | {(chained.rule.code, chained.place) for chained in assessment.chained}


def named(what: str, code: str, place: str) -> bool:
    """Whether a code at a place is one of what must not be named."""
    said, _, pier = what.partition(" ")
    return said in (code, code.partition("-")[0]) and pier in ("", *place.split(" / "))


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_the_hazard_is_named_and_nothing_else_is_cried(one):
    assessment = judged(one)
    assert assessment.disagreement == ()
    assert assessment.evaluators == (2 if production.available() else 1)
    assert set(one.named) <= met(assessment)
    wrong = [f"{c} at {p}" for c, p in told(assessment) for w in one.not_named if named(w, c, p)]
    assert wrong == []
    assert assessment.verdict is one.verdict
    piers = {pier.label: pier.verdict for pier in assessment.piers}
    assert {label: piers[label] for label in one.piers} == one.piers


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_whoever_has_answered_everything_is_asked_nothing(one):
    assert [question.prompt for question in judged(one).questions] == []


@pytest.mark.parametrize("one", ALL[::9], ids=lambda one: one.name)
def test_the_same_on_the_form(one, tmp_path: Path):
    survey = survey_of(one.change.document(), "site")
    write_form(tmp_path / "site.xlsx", survey)
    back, problems = read_survey(open_survey(tmp_path / "site.xlsx"))
    assert problems == ()
    first, again = judged(one), assess(back, problems, BOOK)
    assert again.verdict is one.verdict
    assert again.disagreement == ()
    assert [printed(f) for f in again.findings] == [printed(f) for f in first.findings]
    assert first.findings


def printed(finding: Finding) -> tuple[str, str, Outcome, str, bool]:
    return (finding.rule.code, finding.place, finding.outcome, finding.say, finding.counts)


@pytest.mark.parametrize(
    "one", [one for one in ACCEPTABLE if one.verdict.may_start], ids=lambda one: one.name
)
def test_the_crew_of_a_site_in_order_ticks_few_boxes(one):
    crew_page, office = render(judged(one)).split('<div class="office">')
    assert 0 < crew_page.count('class="tick"') <= MOST_BOXES
    assert 'class="tick"' not in office


def test_the_surveys_are_many_and_each_says_where_it_comes_from():
    assert len(ALL) >= 36
    assert [name for name, times in Counter(one.name for one in ALL).items() if times > 1] == []
    assert len({repr(one.change) for one in ALL}) == len(ALL)
    for one in ALL:
        assert one.source, one.name
        assert one.happened.endswith("."), one.name
    assert {one.verdict for one in ALL} == set(Verdict) - {Verdict.GO}
    codes = {rule.code for rule in BOOK}
    for one in ALL:
        plain = {re.sub(" .*", "", what) for what in one.not_named}
        families = {code.partition("-")[0] for code in codes}
        assert set(one.named) <= codes, one.name
        assert plain <= codes | families, one.name
        assert one.named or one in ACCEPTABLE, one.name
