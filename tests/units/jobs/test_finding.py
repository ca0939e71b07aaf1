"""Which files below a folder are surveys: none that the program itself wrote."""

import datetime as dt
import os

import pytest

from survey.errors import UserError
from survey.jobs.finding import OUR_WORKBOOKS, surveys_in
from survey.jobs.job import job_of
from survey.jobs.judging import Checked, Kept, _write_kept
from survey.sheets import write_sheet
from survey.sheets.table_workbook import Made, Table, write_tables
from survey.workbook import write_form
from tests.made_assessments import go

TABLES = (Table("About", {"What": 20}, [["this"]]),)


def names(folder):
    return [file.relative_to(folder).as_posix() for file in surveys_in(folder)]


def test_every_workbook_and_json_below_a_folder_is_a_survey(tmp_path):
    (tmp_path / "deep" / "er").mkdir(parents=True)
    for name in ("b.xlsx", "a.JSON", "c.xlsm", "deep/er/d.ods", "notes.txt", "~$b.xlsx", ".x.json"):
        (tmp_path / name).write_text("{}", "utf-8")
    assert names(tmp_path) == ["a.JSON", "b.xlsx", "c.xlsm", "deep/er/d.ods"]


@pytest.mark.parametrize("ending", OUR_WORKBOOKS)
def test_our_own_workbooks_are_none_whatever_folder_they_stand_in(tmp_path, ending):
    (tmp_path / "out").mkdir()
    made = Made(OUR_WORKBOOKS[ending], "A title", "workbook")
    write_form(tmp_path / "site.xlsx")
    write_tables(TABLES, tmp_path / "out" / f"01{ending}", made)
    assert names(tmp_path) == ["site.xlsx"]


@pytest.mark.parametrize("ending", OUR_WORKBOOKS)
def test_a_survey_that_is_named_like_one_of_ours_is_a_survey(tmp_path, ending):
    write_form(tmp_path / f"01{ending}")
    (tmp_path / f"02{ending}").write_bytes(b"spoilt")  # it is told that it can't be read
    other = next(mark for name, mark in OUR_WORKBOOKS.items() if name != ending)
    write_tables(TABLES, tmp_path / f"03{ending}", Made(f"{other} of another program", "", "x"))
    assert len(names(tmp_path)) == 3


def test_what_a_check_and_a_board_leave_is_none(tmp_path):
    made = go()
    write_sheet(made, tmp_path / "sheets", today=dt.date(2026, 11, 30))
    _write_kept(
        tmp_path / "board" / "checked" / "0.kept",
        Kept("x", (), "", {}, Checked("site.xlsx", "", job_of(made))),
    )
    (tmp_path / "site.json").write_text("{}", "utf-8")
    assert len(list(tmp_path.rglob("*.json"))) >= 2
    assert names(tmp_path) == ["site.json"]


def test_a_folder_without_surveys_is_told(tmp_path):
    with pytest.raises(UserError, match="no survey here"):
        surveys_in(tmp_path)
    with pytest.raises(UserError, match="no such folder"):
        surveys_in(tmp_path / "none")


@pytest.mark.skipif(not hasattr(os, "getuid") or os.getuid() == 0, reason="root reads everything")
def test_a_file_that_can_not_be_read_is_left_to_whoever_reads_it(tmp_path):
    file = tmp_path / "site.json"
    file.write_text("{}", "utf-8")
    file.chmod(0)
    assert names(tmp_path) == ["site.json"]


@pytest.mark.skipif(os.name == "nt", reason="needs a link")
def test_a_link_to_nothing_is_left_to_whoever_reads_it(tmp_path):
    (tmp_path / "site.json").symlink_to(tmp_path / "gone.json")
    assert names(tmp_path) == ["site.json"]
