"""Whatever a survey says, the form says it too, and reading the form gives it back."""

import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings

from survey.answers import read_survey
from survey.document import read_document, write_document
from survey.model import LISTS
from survey.vocabulary import NOT_KNOWN
from survey.workbook import open_survey, write_form
from tests.forms import blank_form, edited, filled_form, full_survey, row_of
from tests.strategies import plain, surveys

SOFFICE = shutil.which("soffice")


def test_a_blank_form_reads_as_nothing_known_and_nothing_listed(tmp_path):
    path = tmp_path / "Elm Street 12.xlsx"
    path.write_bytes(blank_form())
    survey, problems = read_survey(open_survey(path))
    assert problems == ()
    assert {answer.value for answer in survey.site.answers.values()} == {NOT_KNOWN}
    assert [survey.rows(subject) for subject in LISTS] == [()] * len(LISTS)
    assert survey.name == "Elm Street 12"


def test_a_form_filled_throughout_gives_the_same_answers_back(tmp_path):
    path = tmp_path / "full.xlsx"
    path.write_bytes(filled_form())
    survey, problems = read_survey(open_survey(path))
    assert problems == ()
    assert plain(survey) == plain(full_survey())


@settings(max_examples=15, deadline=None)
@given(survey=surveys())
def test_any_filled_form_gives_the_same_answers_back(survey):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.xlsx"
        write_form(path, survey)
        back, problems = read_survey(open_survey(path))
    assert problems == ()
    assert plain(back) == plain(survey)


@settings(max_examples=50, deadline=None)
@given(survey=surveys())
def test_any_json_survey_gives_the_same_answers_back(survey):
    back, problems = read_survey(read_document(write_document(survey), "drawn.json"))
    assert problems == ()
    assert plain(back) == plain(survey)


def _calculated(content):
    """A blank form with two formulas that no program has worked out yet."""

    def write(book):
        site = book["Site"]
        site.cell(row_of(site, "tolerance_zone"), 2).value = "=20+4"
        site.cell(row_of(site, "test_hole_depth"), 2).value = "=1/0"

    return edited(content, write)


@pytest.mark.skipif(SOFFICE is None, reason="no other spreadsheet program is installed")
def test_another_spreadsheet_program_works_it_out_and_saves_it_unchanged(tmp_path):
    (tmp_path / "full.xlsx").write_bytes(filled_form())
    (tmp_path / "formulas.xlsx").write_bytes(_calculated(blank_form()))
    assert SOFFICE is not None
    subprocess.run(
        [SOFFICE, f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless",
         "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", tmp_path / "saved",
         tmp_path / "full.xlsx", tmp_path / "formulas.xlsx"],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip
    saved = tmp_path / "saved" / "full.xlsx"
    assert saved.read_bytes() != filled_form()
    survey, problems = read_survey(open_survey(saved))
    assert problems == ()
    assert plain(survey) == plain(full_survey())

    survey, problems = read_survey(open_survey(tmp_path / "saved" / "formulas.xlsx"))
    assert survey.site.value("tolerance zone") == 24
    assert survey.site.value("test hole depth") is NOT_KNOWN
    assert [problem.read for problem in problems] == ["#DIV/0!"]
