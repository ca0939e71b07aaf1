"""Truth values of the book's conditions against two libraries that share no line with it.

The Common Expression Language is an open standard with implementations in many languages; the
other is an expression engine. Both are two-valued, so they are asked where all is known.
"""

from __future__ import annotations

import functools

import pytest

from survey.facts import gather
from survey.quantities import work_out
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from tests.demo_surveys import survey_of
from tests.other_engines import (
    Known,
    for_cel,
    in_cel,
    in_rule_engine,
    known_places,
    plain_rules,
)
from tests.smallest_changes import MEETS
from tests.whole_surveys import ALL, Change

BOOK = load_book()
PLAIN = {rule.code: rule for rule in plain_rules(BOOK)}
# Every rule on the careful house and some others; each rule on the survey made to meet it, too.
ASKED = (
    (Change(), tuple(PLAIN)),
    *((one.change, tuple(PLAIN)) for one in ALL[::10]),
    *((smallest.change, (code,)) for code, smallest in MEETS.items() if code in PLAIN),
)


@functools.cache
def told() -> list[tuple[Known, bool]]:
    """Every place at which all is known, on whole surveys, with what the book says there."""
    found = []
    for change, codes in ASKED:
        survey = survey_of(change.document(), "site")
        facts = gather(survey, work_out(survey, BOOK.subjects), BOOK.vocabulary, BOOK.subjects)
        evaluator = DirectEvaluator(BOOK, facts)
        for known in known_places((PLAIN[code] for code in codes), facts, evaluator):
            truth = evaluator.holds(known.rule.condition, known.thing)
            assert truth is not Truth.UNKNOWN
            found.append((known, truth is Truth.TRUE))
    return found


def test_the_common_expression_language_says_the_same():
    programs = {code: in_cel(rule.condition) for code, rule in PLAIN.items()}
    for known, truth in told():
        found = programs[known.rule.code](for_cel(known.values))
        assert found is truth, f"{known.rule.code} of {known.thing.label}: {known.values}"


def test_an_expression_engine_says_the_same():
    rules = {code: in_rule_engine(rule.condition) for code, rule in PLAIN.items()}
    for known, truth in told():
        found = rules[known.rule.code](known.values)
        assert found is truth, f"{known.rule.code} of {known.thing.label}: {known.values}"


@pytest.mark.parametrize(("truth", "most"), [(True, 0.5), (False, 0.95)])
def test_most_rules_were_asked_both_ways(truth, most):
    """Guards the tests above against proving nothing."""
    codes = {known.rule.code for known, found in told() if found is truth}
    assert len(codes) > most * len(PLAIN), sorted(PLAIN.keys() - codes)
    assert len(PLAIN) > 0.8 * len(tuple(BOOK))
