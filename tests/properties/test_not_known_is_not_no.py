"""The property we would bet our lives on, over the shipped rules and whole sites.

A site is GO or GO WITH CONDITIONS only if it is so however its open questions are answered.
"""

from __future__ import annotations

import random
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.assessment import Verdict, assess
from survey.facts import gather
from survey.model import Survey
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.vocabulary import NOT_KNOWN, Missing
from tests.random_sites import ORDINARY, change, complete, random_survey, worsen
from tests.strategies import surveys

BOOK = load_book()
SEEDS = st.integers(0, 2**63)
SITES_A_SEED = 10
RANK = list(Verdict)


def judge(survey: Survey) -> Judgement:
    evaluator = DirectEvaluator(BOOK, gather(survey, work_out(survey)))
    return evaluator.summary(evaluator.judge())


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_what_was_told_stays_so_however_the_open_questions_are_answered(seed):
    rng = random.Random(seed)
    for _ in range(SITES_A_SEED):
        survey = random_survey(rng)
        before, after = judge(survey), judge(complete(survey, rng))
        assert before.met <= after.met
        listed = {row.label for row in survey.every_row()}
        told_before = {code for code, _ in before.met | before.cannot_tell}
        for code, place in after.met | after.cannot_tell:
            parts = place.split(" / ")
            if all(part in listed for part in parts):
                assert (code, place) in before.met | before.cannot_tell
            else:  # of a row that an open list had left out
                assert code in told_before
        for place, value in before.concluded.items():
            assert isinstance(value, Missing) or after.concluded[place] == value


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_a_go_survives_every_completion(seed):
    rng = random.Random(seed)
    for _ in range(SITES_A_SEED):
        survey = random_survey(rng, rate=0.01)
        if assess(survey, (), BOOK).verdict.may_start:
            for _ in range(3):
                assert assess(complete(survey, rng), (), BOOK).verdict.may_start


def test_random_sites_reach_every_verdict_and_many_a_go_has_open_questions():
    """Guards the two tests above against proving nothing."""
    rng = random.Random(1)
    verdicts: Counter[Verdict] = Counter()
    open_and_go = 0
    for _ in range(300):
        survey = random_survey(rng, rate=0.01)
        assessment = assess(survey, (), BOOK)
        verdicts[assessment.verdict] += 1
        unknown = any(
            a.value is Missing.NOT_KNOWN for row in survey.every_row() for a in row.answers.values()
        )
        open_and_go += unknown and assessment.verdict.may_start
    assert set(verdicts) >= set(Verdict) - {Verdict.GO}
    assert open_and_go >= 5


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_a_worse_answer_never_makes_a_verdict_better(seed):
    rng = random.Random(seed)
    for _ in range(SITES_A_SEED):
        survey = random_survey(rng)
        worse, changed = worsen(survey, rng)
        before, after = assess(survey, (), BOOK), assess(worse, (), BOOK)
        assert RANK.index(after.verdict) >= RANK.index(before.verdict), changed
        for one, other in zip(before.piers, after.piers, strict=True):
            assert RANK.index(other.verdict) >= RANK.index(one.verdict), (changed, one.label)


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@settings(max_examples=200, deadline=None)
@given(SEEDS)
def test_both_evaluators_agree_on_thousands_of_random_sites(seed):
    rng = random.Random(seed)
    evaluator = production.evaluator_for(BOOK)
    for _ in range(SITES_A_SEED):
        survey = random_survey(rng)
        facts = gather(survey, work_out(survey))
        direct = DirectEvaluator(BOOK, facts)
        assert direct.summary(direct.judge()) == evaluator.judge(facts)


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@settings(max_examples=50, deadline=None)
@given(surveys())
def test_both_evaluators_agree_on_surveys_of_any_answers(survey):
    assert assess(survey, (), BOOK).disagreement == ()


def test_blanking_any_one_answer_of_a_go_never_adds_a_go_that_depends_on_it():
    """Each answer of the careful house: without it the site is held, or it never mattered."""
    rng = random.Random(7)
    assert assess(ORDINARY, (), BOOK).verdict.may_start
    held = 0
    for row in ORDINARY.every_row():
        for name in row.answers:

            def blank(one, word, value, row=row, name=name):
                same = (one.subject, one.label, word.name) == (row.subject, row.label, name)
                return NOT_KNOWN if same else value

            survey = change(ORDINARY, blank)
            if not assess(survey, (), BOOK).verdict.may_start:
                held += 1
                continue
            for _ in range(2):
                assert assess(complete(survey, rng), (), BOOK).verdict.may_start, (row.label, name)
    assert held > 100
