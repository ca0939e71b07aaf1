"""Random rules that look round, reckon and look up, on random small sites.

The evaluators agree, and no later answer, closed list or named wall proves them wrong.
"""

from __future__ import annotations

import itertools
import random
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.facts import Facts
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    LookUp,
    Negation,
    Operation,
    Operator,
    Outcome,
    Reckoning,
    ReleaseBy,
    Rule,
    RuleBook,
    Table,
    TableRow,
    Term,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Kind, Subject, Word
from tests.small_sites import small_site

ORDERED = [o for o in Operator if o is not Operator.IS]
V = VOCABULARY
OTHERS = V.scope(Subject.PIER_PIER)
PICKED = {
    Subject.PIER: [V["side protection"], V["cave-in signs"]],
    Subject.UTILITY: [V["utility kind"]],
    Subject.PIER_UTILITY: [V["utility kind"]],
    Subject.PIER_PIER: [
        OTHERS["cave-in signs of other pier"],
        OTHERS["cave-in signs of this pier"],
    ],
    Subject.SITE: [V["gas odour"]],
}
FIGURES = {
    Subject.PIER: [V["pit depth"], V["footing depth"]],
    Subject.UTILITY: [V["depth to utility"], V["utility diameter"]],
    Subject.PIER_UTILITY: [V["clearance to utility"], V["pit depth"], V["depth to utility"]],
    Subject.PIER_PIER: [OTHERS["pit depth of other pier"], OTHERS["pit depth of this pier"]],
    Subject.SITE: [V["clear spacing of open pits"], V["test hole depth"]],
}
LOOKED_AT = {
    Subject.SITE: [Subject.PIER, Subject.UTILITY],
    Subject.WALL: [Subject.PIER],
    Subject.PIER: [Subject.PIER_UTILITY, Subject.PIER_PIER],
    Subject.UTILITY: [Subject.PIER_UTILITY],
}
FEW = st.integers(0, 3)
TABLE = Table(
    "t", False, (V["cave-in signs"], V["pit depth"]), "length",
    tuple(TableRow((signs, most), gives, "x")
          for signs, rows in (("no", [(1, 1), (2, 3)]), ("yes", [(2, 1)])) for most, gives in rows),
    "test", "test:1",
)  # fmt: skip


def values(word: Word) -> st.SearchStrategy[object]:
    known = st.sampled_from(word.choices[:2]) if word.choices else FEW
    return known | st.sampled_from([NOT_KNOWN, NOT_KNOWN, DOES_NOT_APPLY])


def answers(*subjects: Subject) -> st.SearchStrategy[dict[str, object]]:
    words = [w for s in subjects for w in (*PICKED.get(s, ()), *FIGURES.get(s, ()))]
    own = {w.name: w for w in words if w.subject in subjects and w.base is None}
    return st.fixed_dictionaries({name: values(word) for name, word in own.items()})


def comparisons(subject: Subject) -> st.SearchStrategy[Comparison]:
    figures = FIGURES[subject]
    return st.one_of(
        st.sampled_from(PICKED[subject]).flatmap(
            lambda w: st.sampled_from(w.choices[:2]).map(lambda c: Comparison(w, Operator.IS, c, c))
        ),
        st.tuples(
            st.sampled_from(figures), st.sampled_from(ORDERED), FEW | st.sampled_from(figures)
        ).map(lambda t: Comparison(*t, str(t[2]))),
    )


def terms(subject: Subject) -> st.SearchStrategy[Term]:
    figure = FEW.map(lambda n: Figure(Fraction(n, 1000), str(n), Kind.LENGTH))
    leaf: st.SearchStrategy[Term] = st.sampled_from(FIGURES[subject]) | figure
    if subject in (Subject.PIER, Subject.PIER_UTILITY):
        leaf |= st.just(LookUp(TABLE))
    sums = [Operation.PLUS, Operation.MINUS]
    return st.recursive(
        leaf,
        lambda inner: st.builds(Arithmetic, st.sampled_from(sums), inner, inner),
        max_leaves=3,
    )


def conditions(
    clauses: st.SearchStrategy[Condition], max_leaves: int = 4
) -> st.SearchStrategy[Condition]:
    return st.recursive(
        clauses,
        lambda inner: st.one_of(
            inner.map(Negation),
            st.lists(inner, min_size=2, max_size=3).map(lambda p: Every(tuple(p))),
            st.lists(inner, min_size=2, max_size=3).map(lambda p: Either(tuple(p))),
        ),
        max_leaves=max_leaves,
    )


def plain(subject: Subject) -> st.SearchStrategy[Condition]:
    reckoned = st.builds(
        Reckoning, terms(subject), st.sampled_from(ORDERED), terms(subject)
    ).filter(lambda r: r.words)
    return comparisons(subject) | reckoned


def counts(subject: Subject) -> st.SearchStrategy[Count]:
    return st.sampled_from(LOOKED_AT[subject]).flatmap(
        lambda of: st.builds(
            lambda where, op, n: Count(of, where, op, n, f"{of.value} {where} {op.value} {n}"),
            st.none() | conditions(plain(of), 3), st.sampled_from(ORDERED), FEW,
        )
    )  # fmt: skip


@st.composite
def books(draw: st.DrawFn) -> RuleBook:
    rules = []
    for number in range(draw(st.integers(1, 4))):
        subject = draw(st.sampled_from(list(LOOKED_AT)))
        clauses = counts(subject)
        if subject in FIGURES:
            clauses |= plain(subject)
        condition = draw(conditions(clauses))
        rules.append(
            Rule(
                f"A-{number}", "fault", "test", subject, condition, Outcome.STOP, "so", "do",
                "crew", "test", ReleaseBy.NOBODY, (), "test:1",
            )
        )  # fmt: skip
    return RuleBook({}, {"t": TABLE}, (tuple(rules),), VOCABULARY, "test")


@st.composite
def sites(draw: st.DrawFn) -> dict[str, Any]:
    piers = draw(st.lists(answers(Subject.PIER), min_size=1, max_size=3))
    utilities = draw(st.lists(answers(Subject.UTILITY), max_size=2))
    pairs = {
        f"P{p} / U{u}": draw(answers(Subject.PIER_UTILITY))
        for p in range(1, len(piers) + 1)
        for u in range(1, len(utilities) + 1)
    }
    walls = draw(st.sampled_from([1, 2]))
    at_wall = {n: draw(st.sampled_from([1, walls, None])) for n in range(1, len(piers) + 1)}
    return {
        "piers": piers, "utilities": utilities, "pairs": pairs, "walls": [{}] * walls,
        "site": draw(answers(Subject.SITE)), "at_wall": at_wall,
        "unlisted": draw(st.sampled_from([[], [Subject.UTILITY]])),
    }  # fmt: skip


def direct(book: RuleBook, facts: Facts) -> Judgement:
    evaluator = DirectEvaluator(book, facts)
    return evaluator.summary(evaluator.judge())


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@settings(max_examples=150, deadline=None)
@given(books(), sites())
def test_both_evaluators_agree_on_rules_that_look_round_and_reckon(book, site):
    facts = small_site(**site)
    assert direct(book, facts) == production.ProductionEvaluator(book).judge(facts)


def known(given: dict[str, object], rng: random.Random) -> dict[str, object]:
    """The same answers, with the open ones answered."""

    def answer(word: Word) -> object:
        return rng.choice([*(word.choices[:2] or range(4)), DOES_NOT_APPLY])

    return {
        name: answer(VOCABULARY[name]) if value is NOT_KNOWN else value
        for name, value in given.items()
    }


def completed(site: dict[str, Any], rng: random.Random) -> dict[str, Any]:
    """The same site, with every answer, every line and every pier's wall."""
    blank = dict.fromkeys(
        (w.name for w in (*PICKED[Subject.UTILITY], *FIGURES[Subject.UTILITY])), NOT_KNOWN
    )
    left_out = [blank] * rng.randint(0, 2) if site["unlisted"] else []
    utilities = [known(one, rng) for one in (*site["utilities"], *left_out)]
    numbers = itertools.product(range(1, len(site["piers"]) + 1), range(1, len(utilities) + 1))
    labels = [f"P{pier} / U{utility}" for pier, utility in numbers]
    unseen = {"clearance to utility": NOT_KNOWN}
    return {
        "piers": [known(one, rng) for one in site["piers"]],
        "utilities": utilities,
        "pairs": {label: known(site["pairs"].get(label, unseen), rng) for label in labels},
        "walls": site["walls"],
        "site": known(site["site"], rng),
        "at_wall": {
            number: rng.randint(1, len(site["walls"])) if wall is None else wall
            for number, wall in site["at_wall"].items()
        },
    }


@settings(max_examples=200, deadline=None)
@given(books(), sites(), st.randoms(use_true_random=False))
def test_no_completion_proves_a_told_rule_wrong(book, site, rng):
    before = direct(book, small_site(**site))
    after = direct(book, small_site(**completed(site, rng)))
    listed = {f"U{number}" for number in range(1, len(site["utilities"]) + 1)}
    old = {(code, at) for code, at in after.met if not at.startswith("U") or at in listed}
    assert before.met <= after.met
    assert old <= before.met | before.cannot_tell
