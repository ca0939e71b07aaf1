"""What a check costs, as a ratio to what openpyxl needs to load the same workbook.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.facts import gather
from survey.quantities import work_out
from survey.resources import folder
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.direct import DirectEvaluator
from survey.sheets import write_sheet
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house, pier, survey_of
from tests.made_assessments import TODAY

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


def thirty_piers() -> dict:
    """The careful house with piers all along its long walls, and more lines and neighbours."""
    document = careful_house()
    document["piers"] = [
        pier(f"P{n + 1}", "South" if n < 15 else "North", f"{3 + 2.4 * (n % 15):.1f} ft")
        for n in range(30)
    ]
    (water,), (shed,) = document["utilities"], document["neighbours"]
    document["utilities"] = [
        water | {"label": f"water {n}", "utility_start_station": f"{5 * n} ft"} for n in range(6)
    ]
    document["neighbours"] = [shed | {"label": f"shed {n}"} for n in range(3)]
    return document


@pytest.fixture(scope="module")
def workbook(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("workbook") / "thirty.xlsx"
    write_form(path, survey_of(thirty_piers(), "thirty"))
    return path


@pytest.fixture(scope="module")
def book():
    return load_book()


@pytest.mark.benchmark(group="30-pier workbook")
def test_openpyxl_loads_it(benchmark, workbook):
    loaded = benchmark(openpyxl.load_workbook, workbook)
    assert "Piers" in loaded.sheetnames


@pytest.mark.benchmark(group="30-pier workbook")
def test_whole_check_read_to_written_sheet(benchmark, workbook, book, tmp_path):
    def check() -> Path:
        survey, problems = read_survey(open_survey(workbook))
        return write_sheet(assess(survey, problems, book), tmp_path, today=TODAY)[0]

    assert benchmark(check).is_file()


@pytest.mark.benchmark(group="30-pier workbook")
def test_reading_alone(benchmark, workbook):
    survey, problems = benchmark(lambda: read_survey(open_survey(workbook)))
    assert len(survey.piers) == 30
    assert not problems


@pytest.mark.benchmark(group="judging 30 piers")
def test_calculations(benchmark):
    survey = survey_of(thirty_piers(), "thirty")
    assert benchmark(work_out, survey).by_place


@pytest.mark.benchmark(group="rule book")
def test_reading_the_rule_book(benchmark):
    assert benchmark(load_book).levels


@pytest.mark.benchmark(group="rule book")
def test_reading_and_trying_every_case_without_the_cache(benchmark):
    texts = {file.name: file.read_text("utf-8") for file in folder("rules").glob("*.rules")}
    assert benchmark(read_and_try, texts, {}).levels


@pytest.mark.benchmark(group="judging 30 piers")
def test_direct_evaluator_with_the_firm_s_rule_that_looks_at_every_pair(benchmark):
    firm = load_book(folder("demo_sites") / "firm_rules")
    survey = survey_of(thirty_piers(), "thirty")
    facts = gather(survey, work_out(survey, firm.subjects), firm.vocabulary, firm.subjects)
    assert benchmark(DirectEvaluator(firm, facts).judge)
