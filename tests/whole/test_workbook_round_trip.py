"""Whatever a survey says, the form says it too, and reading the form gives it back."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings

from survey.answers import read_survey
from survey.document import read_document, write_document
from survey.model import LISTS
from survey.vocabulary import NOT_KNOWN
from survey.workbook import open_survey, write_form
from tests.forms import blank_form, edited, filled_form, full_survey, site_answer
from tests.office import ODS, SOFFICE, XLSX, convert
from tests.strategies import plain, surveys


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
    """A form with two formulas that no program has worked out yet."""

    def write(book):
        site_answer(book, "tolerance_zone").value = "=20+4"
        site_answer(book, "test_hole_depth").value = "=1/0"

    return edited(content, write)


@pytest.mark.skipif(SOFFICE is None, reason="no other spreadsheet program is installed")
@pytest.mark.parametrize("sort", [XLSX, ODS], ids=["xlsx", "ods"])
def test_another_spreadsheet_program_works_it_out_and_saves_it_unchanged(tmp_path, sort):
    (tmp_path / "full.xlsx").write_bytes(filled_form())
    (tmp_path / "formulas.xlsx").write_bytes(_calculated(blank_form()))
    (tmp_path / "merged.xlsx").write_bytes(
        edited(filled_form(), lambda book: book["Piers"].merge_cells("C6:C9"))
    )
    (tmp_path / "saved").mkdir()
    full, formulas, merged = convert(
        [tmp_path / "full.xlsx", tmp_path / "formulas.xlsx", tmp_path / "merged.xlsx"],
        sort,
        tmp_path / "saved",
    )
    assert full.read_bytes() != filled_form()
    for saved in (full, merged):
        raw = open_survey(saved)
        assert raw.notes == ()
        survey, problems = read_survey(raw)
        assert problems == ()
        assert plain(survey) == plain(full_survey())

    survey, problems = read_survey(open_survey(formulas))
    assert survey.site.value("tolerance zone") == 24
    assert survey.site.value("test hole depth") is NOT_KNOWN
    assert [problem.read for problem in problems] == ["#DIV/0!"]
