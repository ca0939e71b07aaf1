"""What is left of a rule says what the answers will make of it, whatever they turn out to be."""

from __future__ import annotations

import bisect
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from survey.facts import Facts, Thing, fact_value, gather
from survey.model import Row, Survey, Value
from survey.quantities import work_out
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.residual import left_in, rest_of, thresholds, truth_of
from survey.rulebook.rules import Count
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, NOT_KNOWN, Word
from tests.random_sites import change, complete, random_survey, random_value

SEEDS = st.integers(0, 2**32)
BOOK = load_book()


def judged(survey: Survey) -> tuple[Facts, DirectEvaluator]:
    wanted = BOOK.subjects
    facts = gather(survey, work_out(survey, wanted), BOOK.vocabulary, wanted)
    return facts, DirectEvaluator(BOOK, facts)


def closed(survey: Survey, rng: random.Random) -> Survey:
    """Every question answered anyhow; nothing was left out of any list."""

    def new(row: Row, word: Word, value: Value) -> Value:
        if word.name in CLOSED_BY.values():
            return "yes"
        return value if value is not NOT_KNOWN else random_value(word, rng)

    return change(survey, new)


def by_place(facts: Facts) -> dict[tuple[object, str], Thing]:
    return {(thing.subject, thing.label): thing for thing in facts.things}


def left_open(evaluator: DirectEvaluator):
    for one in evaluator.judge():
        if one.truth is Truth.UNKNOWN:
            yield one.rule, one.thing, rest_of(one.rule, one.thing, evaluator)


@settings(max_examples=12, deadline=None)
@given(SEEDS)
def test_the_rule_is_met_where_what_was_left_holds_and_nowhere_else(seed):
    rng = random.Random(seed)
    before = random_survey(rng, rate=rng.choice([0.02, 0.1, 0.3]))
    _, evaluator = judged(before)
    facts, after = judged(closed(before, rng))
    now = by_place(facts)

    def moved(thing: Thing) -> Thing | None:
        return now.get((thing.subject, thing.label))

    for rule, thing, rest in left_open(evaluator):
        assert not isinstance(rest, Truth), f"{rule.code}: nothing is left, and yet not told"
        there = moved(thing)
        truth = Truth.FALSE if there is None else after.truth(rule, there)
        assert truth_of(rest, after, moved) is truth, f"{rule.code} at {thing.label}"


@settings(max_examples=6, deadline=None)
@given(SEEDS)
def test_what_was_left_holds_of_a_row_that_is_found_where_the_rule_is_met(seed):
    rng = random.Random(seed)
    before = random_survey(rng, rate=0.1)
    _, evaluator = judged(before)
    facts, after = judged(complete(before, rng))
    old = by_place(gather(before, work_out(before), BOOK.vocabulary))
    for rule, thing, rest in left_open(evaluator):
        for found in () if thing.listed else facts.of(thing.subject):
            if (found.subject, found.label) not in old:
                truth = truth_of(rest, after, lambda _, here=found: here)
                assert truth is after.truth(rule, found), f"{rule.code} at {found.label}"


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_what_one_answer_alone_decides_no_other_answer_changes(seed):
    rng = random.Random(seed)
    before = random_survey(rng, rate=rng.choice([0.02, 0.1]))
    full = closed(before, rng)
    _, evaluator = judged(before)
    facts, after = judged(full)
    now = by_place(facts)
    rows = {row.label: row for row in full.every_row()}
    for rule, thing, rest in left_open(evaluator):
        there = now.get((thing.subject, thing.label))
        truth = Truth.FALSE if there is None else after.truth(rule, there)
        for word, label in asked_in(rest):
            if label not in rows:
                continue
            value = fact_value(word, rows[label].answers[word.name].value)
            if value is DOES_NOT_APPLY:
                continue
            supposed = truth_of(rest, evaluator.supposing({(word.name, label): value}))
            assert supposed in (Truth.UNKNOWN, truth), f"{rule.code}: {word} of {label} {value}"
            if word.choices or not isinstance(value, int):
                continue
            turns = thresholds(rest, word, label, evaluator)
            if turns is not None and value not in turns:
                beside = value + rng.choice([-1, 1]) * gap(sorted(turns), value)
                again = truth_of(rest, evaluator.supposing({(word.name, label): beside}))
                assert again is supposed, f"{rule.code}: {word} of {label}, {value} and {beside}"


def asked_in(rest) -> set[tuple[Word, str]]:
    return {
        (word.itself, left.thing.part(word.subject).label)
        for left in left_in(rest)
        if not isinstance(left.clause, Count)
        for word in left.clause.words
        if word.itself.asked
    }


def gap(turns: list[int], value: int) -> int:
    """How far a figure may go either way without reaching a turn."""
    at = bisect.bisect(turns, value)
    near = [abs(turn - value) for turn in turns[max(at - 1, 0) : at + 1]]
    return min([*near, 1000]) - 1
