"""Random rules on random facts: the evaluators agree, and no later answer proves them wrong."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.facts import Fact, Facts, Thing
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.rulebook.rules import (
    Comparison,
    Conclusion,
    Condition,
    Either,
    Every,
    Negation,
    Operator,
    Outcome,
    ReleaseBy,
    Rule,
    RuleBook,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Missing, Origin, Subject, Word

PICKED = [VOCABULARY[n] for n in ("side protection", "cave-in signs", "gas odour", "wall material")]
FIGURES = [
    VOCABULARY[n] for n in ("pit depth", "footing depth", "spoil distance", "test hole depth")
]
CONCLUDED = [VOCABULARY[n] for n in ("soil class", "cave-in protection", "seats that suit")]
BASE = VOCABULARY["tested soil class"]
FEW = st.integers(0, 3)

clauses = st.one_of(
    st.sampled_from(PICKED).flatmap(
        lambda w: st.sampled_from(w.choices).map(lambda c: Comparison(w, Operator.IS, c, c))
    ),
    st.tuples(
        st.sampled_from(FIGURES),
        st.sampled_from([o for o in Operator if o is not Operator.IS]),
        FEW | st.sampled_from(FIGURES),
    ).map(lambda t: Comparison(*t, str(t[2]))),
)
concluded_clauses = st.sampled_from(CONCLUDED).flatmap(
    lambda w: st.sampled_from(w.choices).map(lambda c: Comparison(w, Operator.IS, c, c))
)


def conditions(
    leaves: st.SearchStrategy[Comparison], max_leaves: int = 6
) -> st.SearchStrategy[Condition]:
    return st.recursive(
        leaves,
        lambda inner: st.one_of(
            inner.map(Negation),
            st.lists(inner, min_size=2, max_size=3).map(lambda p: Every(tuple(p))),
            st.lists(inner, min_size=2, max_size=3).map(lambda p: Either(tuple(p))),
        ),
        max_leaves=max_leaves,
    )


def make_rule(code: str, condition: Condition, then: Outcome | Conclusion) -> Rule:
    return Rule(
        code, "fault", "test", Subject.PIER, condition, then, "so", "do", "crew", "test",
        ReleaseBy.NOBODY, (), "test:1",
    )  # fmt: skip


@st.composite
def books(draw: st.DrawFn) -> RuleBook:
    first = [
        make_rule(
            f"A-{n}",
            draw(conditions(clauses)),
            Conclusion(word, draw(st.sampled_from(word.choices))),
        )
        for n, word in enumerate(draw(st.lists(st.sampled_from(CONCLUDED), max_size=4)))
    ]
    second = [
        make_rule(f"B-{n}", draw(conditions(clauses | concluded_clauses)), Outcome.STOP)
        for n in range(draw(st.integers(1, 4)))
    ]
    return RuleBook({}, {}, (tuple(first), tuple(second)), VOCABULARY, "test")


def values(word: Word) -> st.SearchStrategy[object]:
    known = st.sampled_from(word.choices) if word.choices else FEW
    if word == BASE:  # every pit is in some ground: its calculation never gives "does not apply"
        return known | st.just(NOT_KNOWN)
    return known | st.sampled_from([NOT_KNOWN, NOT_KNOWN, DOES_NOT_APPLY])


ANSWERS = st.fixed_dictionaries({w.name: values(w) for w in (*PICKED, *FIGURES, BASE)})


def site(*piers: dict[str, object], listed: bool = True) -> Facts:
    """A site with a pier for each set of answers; the first is the site and wall too."""

    def thing(
        subject: Subject,
        label: str,
        answers: dict[str, object],
        parts: dict[Subject, Thing],
        listed: bool = True,
    ) -> Thing:
        facts = {
            w.name: Fact(answers.get(w.name, NOT_KNOWN))
            for w in VOCABULARY.of(subject)
            if w.origin is not Origin.CONCLUDED
        }
        return Thing(subject, label, facts, parts, listed, "here")

    ground = thing(Subject.SITE, "site", piers[0], {})
    wall = thing(Subject.WALL, "wall", piers[0], {Subject.SITE: ground})
    parts = {Subject.SITE: ground, Subject.WALL: wall}
    things = [
        thing(Subject.PIER, f"P{n}", answers, parts, listed or n == 0)
        for n, answers in enumerate(piers)
    ]
    return Facts((ground, wall, *things))


def direct(book: RuleBook, facts: Facts) -> Judgement:
    evaluator = DirectEvaluator(book, facts)
    return evaluator.summary(evaluator.judge())


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@settings(max_examples=300, deadline=None)
@given(books(), st.lists(ANSWERS, min_size=1, max_size=3), st.booleans())
def test_both_evaluators_agree_on_any_rules_and_answers(book, piers, listed):
    facts = site(*piers, listed=listed)
    assert direct(book, facts) == production.ProductionEvaluator(book).judge(facts)


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@settings(max_examples=50, deadline=None)
@given(conditions(clauses, max_leaves=60), st.lists(ANSWERS, min_size=2, max_size=2))
def test_both_evaluators_agree_on_large_conditions(condition, piers):
    book = RuleBook({}, {}, ((make_rule("B-1", condition, Outcome.STOP),),), VOCABULARY, "test")
    facts = site(*piers)
    assert direct(book, facts) == production.ProductionEvaluator(book).judge(facts)


@settings(max_examples=500, deadline=None)
@given(books(), ANSWERS, ANSWERS)
def test_no_completion_proves_a_told_rule_wrong(book, answers, more):
    def complete(name: str, value: object) -> object:
        if value is not NOT_KNOWN:
            return value
        choices = VOCABULARY[name].choices
        later = more[name]
        return later if later is not NOT_KNOWN else (choices[0] if choices else 0)

    before = direct(book, site(answers))
    after = direct(book, site({name: complete(name, value) for name, value in answers.items()}))
    assert not after.cannot_tell
    assert before.met <= after.met
    assert after.met <= before.met | before.cannot_tell
    for place, value in before.concluded.items():
        assert isinstance(value, Missing) or after.concluded[place] == value
