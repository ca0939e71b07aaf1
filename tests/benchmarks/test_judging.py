"""What judging costs: our evaluators against each other, and conditions against other engines.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock. Each
group does the same work on the same facts, and says first that it comes to the same.
"""

from __future__ import annotations

import pytest

from survey.facts import gather
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from tests.benchmarks.test_whole_check import thirty_piers
from tests.demo_surveys import survey_of
from tests.other_engines import for_cel, in_cel, in_rule_engine, known_places, plain_rules

ROUNDS = 10
pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


@pytest.fixture(scope="module")
def book():
    return load_book()


@pytest.fixture(scope="module")
def facts(book):
    survey = survey_of(thirty_piers(), "thirty")
    return gather(survey, work_out(survey, book.subjects), book.vocabulary, book.subjects)


def judged(book, facts):
    evaluator = DirectEvaluator(book, facts)
    return evaluator.summary(evaluator.judge())


def other_facts(book):
    """Facts of sites that differ from one another, for the evaluators keep what they saw."""
    for n in range(ROUNDS):
        document = thirty_piers()
        for m, pier in enumerate(document["piers"]):
            pier |= {"spoil_distance": f"{30 + n + m} in", "working_room": f"{50 + n + m} in"}
            pier |= {"clear_ground_out_from_wall": f"{240 + n + m} in"}
            pier |= {"pit_depth": f"{62 + (n + m) / 10} in"}
        survey = survey_of(document, "thirty")
        yield gather(survey, work_out(survey, book.subjects), book.vocabulary, book.subjects)


def test_the_evaluators_agree_on_these_facts(book):
    if production.available():
        evaluator = production.evaluator_for(book)
        for facts in other_facts(book):
            assert evaluator.judge(facts) == judged(book, facts)


@pytest.mark.benchmark(group="the whole book on 30 piers, each time other ones")
def test_direct_evaluator(benchmark, book):
    facts = list(other_facts(book))
    found = benchmark.pedantic(judged, setup=lambda: ((book, facts.pop()), {}), rounds=ROUNDS)
    assert found.met


@pytest.mark.benchmark(group="the whole book on 30 piers, each time other ones")
@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
def test_durable_rules(benchmark, book):
    facts, evaluator = list(other_facts(book)), production.ProductionEvaluator(book)
    found = benchmark.pedantic(evaluator.judge, setup=lambda: ((facts.pop(),), {}), rounds=ROUNDS)
    assert found.met


# Conditions that only compare, where all is known: what the other engines can say, too.


@pytest.fixture(scope="module")
def evaluator(book, facts):
    """One that has worked out every conclusion: the other engines are given them."""
    evaluator = DirectEvaluator(book, facts)
    evaluator.summary(evaluator.judge())
    return evaluator


@pytest.fixture(scope="module")
def places(book, facts, evaluator):
    return list(known_places(plain_rules(book), facts, evaluator))


@pytest.fixture(scope="module")
def truths(places, evaluator):
    found = [evaluator.holds(one.rule.condition, one.thing) is Truth.TRUE for one in places]
    assert {True, False} == set(found)
    assert len(found) > 5000
    return found


@pytest.mark.benchmark(group="conditions that compare")
def test_our_conditions(benchmark, places, evaluator, truths):
    asked = [(one.rule.condition, one.thing) for one in places]
    holds = evaluator.holds
    assert benchmark(lambda: [holds(*one) is Truth.TRUE for one in asked]) == truths


@pytest.mark.benchmark(group="conditions that compare")
def test_common_expression_language(benchmark, book, places, truths):
    programs = {rule.code: in_cel(rule.condition) for rule in plain_rules(book)}
    asked = [(programs[one.rule.code], for_cel(one.values)) for one in places]
    assert benchmark(lambda: [program(values) for program, values in asked]) == truths


@pytest.mark.benchmark(group="conditions that compare")
def test_expression_engine(benchmark, book, places, truths):
    rules = {rule.code: in_rule_engine(rule.condition) for rule in plain_rules(book)}
    asked = [(rules[one.rule.code], one.values) for one in places]
    assert benchmark(lambda: [matches(values) for matches, values in asked]) == truths
