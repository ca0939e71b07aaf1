"""What the calculations of sixty piers cost, as ratios to judging them and to openpyxl.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import itertools

import openpyxl
import pytest

from survey.facts import gather
from survey.quantities import work_out
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.vocabulary import Subject
from survey.workbook import write_form
from tests.units.engineering.sites import UNTESTED, survey

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")

WALLS = {"front": 80, "right": 60, "back": 80, "left": 60}


def site(piers: int, first_ft: float = 2.0):
    """Piers on four walls, some deeper than others; lines, neighbours, layers; all answered."""
    names = list(WALLS)
    stations = {i: {"wall_of_pier": names[i % 4], "station": first_ft + 3.5 * (i // 4)}
                for i in range(piers)}  # fmt: skip
    return survey(
        walls={label: {"wall_length": length} for label, length in WALLS.items()},
        piers={
            f"P{i}": {**at, "pit_depth": f"{5 + 0.5 * (i % 3)} ft"} if i % 5 == 0 else at
            for i, at in stations.items()
        },
        utilities={
            f"U{i}": {"wall_of_utility": name, "utility_start_offset": 4 + i}
            for i, name in enumerate(names)
        },
        neighbours={
            f"N{i}": {"wall_of_neighbour": names[i], "neighbour_offset": 8 + 3 * i}
            for i in range(2)
        },
        layers={
            "top": {"layer_bottom": 4},
            "middle": {"layer_top": 4, "layer_bottom": 8},
            "deep": {"layer_top": 8, "soil_group": "silt", **UNTESTED},
        },
    )  # fmt: skip


@pytest.fixture(scope="module")
def sixty():
    return site(60)


@pytest.fixture(scope="module")
def workbook(tmp_path_factory, sixty):
    path = tmp_path_factory.mktemp("workbook") / "sixty.xlsx"
    write_form(path, sixty)
    return path


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_calculations(benchmark, sixty):
    assert len(benchmark(work_out, sixty).by_place) > 4000


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_calculations_of_another_site_like_it(benchmark):
    """No pit stands where one stood before, so that nothing of where it stands was kept."""
    sites = (((site(60, 2 + 0.001 * n),), {}) for n in itertools.count(1))
    found = benchmark.pedantic(work_out, setup=lambda: next(sites), rounds=10)
    assert len(found.by_place) > 4000


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_calculations_with_every_pair_of_piers(benchmark, sixty):
    assert len(benchmark(work_out, sixty, frozenset(Subject)).by_place) > 11000


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_judging_by_the_direct_evaluator(benchmark, sixty):
    book, facts = load_book(), gather(sixty, work_out(sixty))
    assert benchmark(lambda: DirectEvaluator(book, facts).judge())


@pytest.mark.benchmark(group="60 piers", disable_gc=True)
def test_openpyxl_loads_the_workbook(benchmark, workbook):
    assert "Piers" in benchmark(openpyxl.load_workbook, workbook).sheetnames
