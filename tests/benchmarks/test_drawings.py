"""What the plan drawing of sixty piers costs, beside working out the same site.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import pytest

from survey.drawings.plan import plan_drawing
from survey.quantities import work_out
from survey.quantities.outlines import outlines
from tests.benchmarks.test_calculations import site
from tests.drawn import judged_quickly

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


@pytest.fixture(scope="module")
def sixty():
    return judged_quickly(site(60))


@pytest.mark.benchmark(group="plan of 60 piers", disable_gc=True)
def test_calculations_beside_it(benchmark, sixty):
    assert benchmark(work_out, sixty.survey).by_place


@pytest.mark.benchmark(group="plan of 60 piers", disable_gc=True)
def test_outlines(benchmark, sixty):
    (run,) = benchmark(outlines, sixty.survey).runs
    assert len(run.piers) == 60


@pytest.mark.benchmark(group="plan of 60 piers", disable_gc=True)
def test_plan(benchmark, sixty):
    assert benchmark(plan_drawing, sixty).startswith("<svg")
