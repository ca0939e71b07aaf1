"""What reading costs, as a ratio to what openpyxl needs to load the same 60-pier workbook.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import time
from pathlib import Path

import openpyxl
import pytest

from survey.answers import read_survey
from survey.errors import UserError
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house, pier, survey_of
from tests.forms import as_ods
from tests.hostile_workbooks import REFUSED, SETTLED

WORST = {name: make for name, (make, _message) in REFUSED.items()} | SETTLED
IN_A_ROW = pytest.mark.benchmark(group="60-pier workbook", timer=time.process_time, warmup=True)


def sixty_piers() -> dict:
    """The careful house with piers all along its long walls."""
    document = careful_house()
    document["piers"] = [
        pier(f"P{n + 1}", "South" if n < 30 else "North", f"{3 + 1.2 * (n % 30):.1f} ft")
        for n in range(60)
    ]
    return document


@pytest.fixture(scope="module")
def workbook(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("workbook") / "sixty.xlsx"
    write_form(path, survey_of(sixty_piers(), "sixty"))
    return path


@IN_A_ROW
def test_openpyxl_loads_it(benchmark, workbook):
    assert "Piers" in benchmark(openpyxl.load_workbook, workbook).sheetnames


@IN_A_ROW
def test_it_is_read_into_a_survey(benchmark, workbook):
    survey, problems = benchmark(lambda: read_survey(open_survey(workbook)))
    assert len(survey.piers) == 60
    assert not problems


@IN_A_ROW
def test_its_cells_are_read(benchmark, workbook):
    assert not benchmark(open_survey, workbook).stray


@IN_A_ROW
def test_its_cells_become_answers(benchmark, workbook):
    raw = open_survey(workbook)
    assert not benchmark(read_survey, raw)[1]


@IN_A_ROW
def test_it_is_read_as_open_document(benchmark, workbook):
    path = workbook.with_suffix(".ods")
    path.write_bytes(as_ods(workbook.read_bytes()))
    assert not benchmark(lambda: read_survey(open_survey(path)))[1]


@pytest.mark.benchmark(group="hostile workbooks", timer=time.process_time)
@pytest.mark.parametrize("name", WORST)
def test_a_hostile_workbook_is_settled(benchmark, tmp_path, name):
    path = tmp_path / "hostile.xlsx"
    path.write_bytes(WORST[name]())

    def settle() -> bool:
        try:
            read_survey(open_survey(path))
        except UserError:
            return True
        return True

    assert benchmark.pedantic(settle, rounds=2)
