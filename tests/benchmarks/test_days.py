"""What a span of days costs, beside one day judged in full. Nothing here fails by the clock."""

from __future__ import annotations

import datetime as dt

import pytest

from survey.assessment import assess
from survey.assessment.days import on_day, span
from survey.rulebook.book import load_book
from tests.demo_surveys import careful_house, survey_of

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")
FIRST = dt.date(2026, 11, 25)


@pytest.mark.benchmark(group="days of 5 piers", disable_gc=True)
def test_one_day_in_full(benchmark):
    survey, book = survey_of(careful_house()), load_book()
    moved, _ = on_day(survey, (), FIRST)
    assert benchmark(assess, moved, (), book).piers


@pytest.mark.benchmark(group="days of 5 piers", disable_gc=True)
def test_a_span_of_120_days(benchmark):
    survey, book = survey_of(careful_house()), load_book()
    last = FIRST + dt.timedelta(119)
    assert len(benchmark(span, survey, (), book, FIRST, last).runs) == 7
