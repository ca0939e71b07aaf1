"""The shipped rules: their cases, by both evaluators, and what every rule must have."""

import pytest

from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.cases import (
    case_facts,
    given_when_met,
    outcome_of,
    read_cases,
    stand_alone,
)

BOOK = load_book()
CASES, MISTAKES = read_cases(BOOK)


def test_every_case_can_be_read():
    assert [str(mistake) for mistake in MISTAKES] == []


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c.rule.code}-{c.span.line}")
def test_case_by_the_direct_evaluator(case):
    assert outcome_of(case) == case.gives, f"{case.span.file}:{case.span.line}"


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
def test_cases_by_durable_rules():
    wrong = []
    for rule in BOOK:
        cases = [case for case in CASES if case.rule is rule]
        evaluator = production.ProductionEvaluator(stand_alone(cases[0]))
        for case in cases:
            told = evaluator.judge(case_facts(case))
            met = given_when_met(rule)
            gives = met if told.met else "ask" if told.cannot_tell else "nothing"
            if gives != case.gives:
                wrong.append(f"{case.span.file}:{case.span.line} gives {gives}")
    assert wrong == []


@pytest.mark.parametrize("rule", list(BOOK), ids=lambda r: r.code)
def test_every_rule_has_a_case_met_one_not_met_and_one_not_known(rule):
    given = [case.gives for case in CASES if case.rule is rule]
    assert len(given) >= 3
    assert "nothing" in given
    assert "ask" in given
    assert given_when_met(rule) in given


@pytest.mark.parametrize("rule", list(BOOK), ids=lambda r: r.code)
def test_every_rule_cites_a_clause_or_says_that_it_is_common_practice(rule):
    said = rule.source.lower()
    assert "common practice" in said or any(character.isdigit() for character in said)


def test_the_job_s_hazards_each_have_a_rule():
    topics = {rule.code.partition("-")[0] for rule in BOOK}
    assert topics >= {"DIG", "SOIL", "LINE", "FOOT", "NEAR", "WATER", "ACCESS", "CREW", "SEAT"}
    assert sum(1 for _ in BOOK) >= 40
