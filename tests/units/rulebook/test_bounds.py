"""Figures known only within bounds: both evaluators against every figure between."""

from __future__ import annotations

import itertools

import pytest

from survey.facts import Fact, shown_fact
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.rulebook.reading import read_book
from survey.vocabulary import NOT_KNOWN, VOCABULARY
from tests.small_sites import small_site

KIP = 10_000  # steps of a tenth of a pound
REST = """
  then    stop
  say     It is so.
  do      Mend it.
  who     crew
  from    common practice
  release nobody
  case    gas odour yes gives ask
"""
OPERATORS = ("is at least", "is more than", "is at most", "is less than")
BOUNDS = [(0, 1), (1, 2), (2, 2), (2, 3), (1, 3), (3, 4)]


def judgements(when: str, facts) -> list[Judgement]:
    book = read_book({"own.rules": f"rule OWN-1 fault\n  for pier\n  when {when}{REST}"})
    direct = DirectEvaluator(book, facts)
    found = [direct.summary(direct.judge())]
    if production.available():
        found.append(production.ProductionEvaluator(book).judge(facts))
    return found


def told(when: str, load: object, **others: object) -> list[str]:
    """What each evaluator makes of a load on the one pier, in kips or within bounds."""
    facts = small_site(piers=[{"pier load": load, **others}])
    return [
        "yes" if one.met else "open" if one.cannot_tell else "no" for one in judgements(when, facts)
    ]


def within(least: int, most: int) -> Fact:
    return Fact(NOT_KNOWN, bounds=(least * KIP, most * KIP))


@pytest.mark.parametrize("not_", ["", "not "])
@pytest.mark.parametrize("operator", OPERATORS)
@pytest.mark.parametrize("bounds", BOUNDS)
def test_it_is_told_where_every_figure_between_tells_the_same(not_, operator, bounds):
    when = f"{not_}(pier load {operator} 2 kip)"
    least, most = bounds
    found = set(itertools.chain.from_iterable(
        told(when, load * KIP // 2) for load in range(2 * least, 2 * most + 1)
    ))  # fmt: skip
    expected = "open" if len(found) > 1 else found.pop()
    assert set(told(when, within(*bounds))) == {expected}


def test_without_bounds_it_is_open():
    assert set(told("pier load is at least 2 kip", NOT_KNOWN)) == {"open"}


def test_bounds_that_clear_one_clause_clear_the_rule():
    when = "pier load is at least 5 kip and cave-in signs is yes"
    assert set(told(when, within(1, 4))) == {"no"}
    assert set(told(when, within(1, 6), **{"cave-in signs": "yes"})) == {"open"}
    assert set(told(when, within(5, 6), **{"cave-in signs": "yes"})) == {"yes"}


def test_against_another_figure_bounds_are_not_used():
    when = "pier load is at least dead load to push against"
    other = {"dead load to push against": 100 * KIP}
    assert set(told(when, within(1, 2), **other)) == {"open"}


def test_they_are_shown():
    said = shown_fact(VOCABULARY["pier load"], within(9, 14))
    assert said == "not known, but from 9,000 lb to 14,000 lb"
