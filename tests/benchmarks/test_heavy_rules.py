"""What the heaviest rules that are still allowed cost on sixty piers, beside the shipped book.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import pytest

from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.reading import read_book
from tests.properties.test_heavy_rules import GOOD, many_piers

SHIPPED = "the shipped book"
pytestmark = pytest.mark.benchmark(group="judging 60 piers", min_rounds=2, max_time=0.5)


def book_of(name: str):
    return load_book() if name == SHIPPED else read_book({"own.rules": GOOD[name]})


@pytest.mark.parametrize("name", [SHIPPED, *GOOD])
def test_direct_evaluator(benchmark, name):
    book = book_of(name)
    facts = many_piers(book, known=True)
    assert benchmark(lambda: DirectEvaluator(book, facts).judge()) is not None


@pytest.mark.parametrize("name", [SHIPPED, *GOOD])
@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
def test_durable_rules(benchmark, name):
    book = book_of(name)
    facts = many_piers(book, known=True)
    evaluator = production.evaluator_for(book)
    assert benchmark(lambda: evaluator.judge(facts)) is not None
