"""What the sheet of sixty piers costs to write, as a ratio to what openpyxl needs to load them.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import openpyxl
import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.rulebook.book import load_book
from survey.sheets.html import render
from survey.workbook import open_survey, write_form
from tests.benchmarks.test_calculations import site
from tests.demo_surveys import careful_house, pier, survey_of

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


@pytest.fixture(scope="module")
def workbook(tmp_path_factory):
    document = careful_house()
    document["piers"] = [
        pier(f"P{n + 1}", "South" if n < 30 else "North", f"{3 + 1.2 * (n % 30):.1f} ft")
        for n in range(60)
    ]
    path = tmp_path_factory.mktemp("workbook") / "sixty.xlsx"
    write_form(path, survey_of(document, "sixty"))
    return path


@pytest.mark.benchmark(group="sheet of 60 piers", disable_gc=True)
def test_openpyxl_loads_the_workbook(benchmark, workbook):
    assert "Piers" in benchmark(openpyxl.load_workbook, workbook).sheetnames


@pytest.mark.benchmark(group="sheet of 60 piers", disable_gc=True)
def test_sheet(benchmark, workbook):
    survey, problems = read_survey(open_survey(workbook))
    made = assess(survey, problems, load_book())
    assert "P60" in benchmark(render, made)


@pytest.mark.benchmark(group="sheet of 60 piers", disable_gc=True)
def test_sheet_with_thousands_of_findings(benchmark):
    made = assess(site(60), (), load_book())
    assert len(made.findings) > 3000
    assert "P59" in benchmark(render, made)
