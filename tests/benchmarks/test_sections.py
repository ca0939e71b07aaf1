"""What the sections of a site cost. Nothing here fails by the clock."""

from __future__ import annotations

import pytest

from survey.assessment import assess
from survey.drawings.sections import section_drawings
from survey.rulebook.book import load_book
from tests.benchmarks.test_calculations import site

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_sections_of_three_kinds_of_pit(benchmark):
    assessment = assess(site(60), (), load_book())
    assert len(benchmark(section_drawings, assessment)) == 3
