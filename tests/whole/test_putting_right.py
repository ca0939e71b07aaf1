"""Cells to put right: told, marked in a copy, refused if one is strict, and kept on the way."""

from __future__ import annotations

import csv
import json

import openpyxl
import pytest

from survey.rewriting import read_whole
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house, survey_of
from tests.forms import column_of, edited
from tests.strategies import plain
from tests.whole.test_commands import run


@pytest.fixture
def spoilt(tmp_path):
    """The careful house with two cells that can't be read, and a note beside the form."""
    form = tmp_path / "house.xlsx"
    write_form(form, survey_of(careful_house(), "house"))

    def spoil(book):
        piers = book["Piers"]
        first = next(row for row in range(1, 20) if piers.cell(row, 1).value == "P1")
        piers.cell(first, column_of(piers, "pit_depth")).value = "five feet"
        piers.cell(first + 1, column_of(piers, "cave_in_signs")).value = "maybe"
        piers.cell(first, 110).value = "ring the owner"

    form.write_bytes(edited(form.read_bytes(), spoil))
    return form


def test_a_marked_copy_has_a_comment_at_each_cell_and_reads_as_the_workbook_does(spoilt, tmp_path):
    before = spoilt.read_bytes()
    ran = run("check", spoilt, "--out", tmp_path / "sheets", "--mark")
    copy = tmp_path / "sheets" / "house marked.xlsx"
    assert ran.returncode == 1
    assert f"Marked copy: {copy}" in ran.stdout
    assert spoilt.read_bytes() == before
    told = read_whole(open_survey(spoilt))
    assert len(told.problems) == 3
    book = openpyxl.load_workbook(copy)
    for problem in told.problems:
        sheet, cell = problem.where.split("!")
        assert book[sheet][cell].comment.text == f"pier-survey: {problem.message}"
    again = read_whole(open_survey(copy))
    assert again.problems == told.problems
    assert plain(again.survey) == plain(told.survey)


def test_a_marked_copy_is_made_again_and_nothing_else_is_written_over(spoilt, tmp_path):
    out = tmp_path / "sheets"
    for _ in range(2):
        assert run("check", spoilt, "--out", out, "--mark").returncode == 1
    copy = out / "house marked.xlsx"
    copy.write_bytes(spoilt.read_bytes())
    ran = run("check", spoilt, "--out", out, "--mark")
    assert ran.returncode == 2
    assert "it is not written over" in " ".join(ran.stderr.split())
    assert copy.read_bytes() == spoilt.read_bytes()


def test_no_copy_is_made_of_a_survey_without_problems(tmp_path):
    form = tmp_path / "house.xlsx"
    write_form(form, survey_of(careful_house(), "house"))
    assert run("check", form, "--out", tmp_path / "sheets", "--mark").returncode == 0
    assert not list((tmp_path / "sheets").glob("*.xlsx"))


def test_strict_judges_no_survey_with_cells_to_put_right_and_lists_them_all(spoilt, tmp_path):
    ran = run("check", spoilt, "--out", tmp_path / "sheets", "--strict")
    assert ran.returncode == 2
    for problem in read_whole(open_survey(spoilt)).problems:
        assert str(problem) in ran.stderr
    assert "without '--strict'" in ran.stderr
    assert not (tmp_path / "sheets").exists()


def test_without_strict_it_is_judged_with_these_answers_not_known(spoilt, tmp_path):
    ran = run("check", spoilt, "--out", tmp_path)
    assert ran.returncode == 1
    assert ran.stdout.startswith("HOLD: ")
    assert "five feet" in (tmp_path / "house.html").read_text("utf-8")


def test_workbook_to_json_and_back_loses_nothing(spoilt, tmp_path):
    there, back = tmp_path / "there.json", tmp_path / "back.xlsx"
    assert run("convert", spoilt, there).returncode == 0
    assert run("convert", there, back).returncode == 0
    first, last = read_whole(open_survey(spoilt)), read_whole(open_survey(back))
    assert plain(last.survey) == plain(first.survey)
    assert set(first.unread.items()) == set(last.unread.items())
    assert any("ring the owner" in str(problem) for problem in last.problems)
    for file in (there, back):
        ran = run("convert", spoilt, file)
        assert ran.returncode == 2
        assert "exists already" in ran.stderr


def test_tables_for_a_database(spoilt, tmp_path):
    ran = run("convert", spoilt, tmp_path / "tables")
    assert ran.returncode == 0
    with (tmp_path / "tables" / "Piers.csv").open(encoding="utf-8", newline="") as opened:
        rows = list(csv.DictReader(opened))
    assert [row["label"] for row in rows][:2] == ["P1", "P2"]
    assert rows[0]["pit_depth [ft]"] == ""
    assert rows[0]["survey"] == "house"


def test_a_name_that_tells_no_format_is_refused(spoilt, tmp_path):
    ran = run("convert", spoilt, tmp_path / "house.doc")
    assert ran.returncode == 2
    assert "ends in .json or .xlsx" in ran.stderr


def test_a_form_from_a_survey_keeps_what_could_not_be_read_and_marks_what_is_asked(
    spoilt, tmp_path
):
    out = tmp_path / "again.xlsx"
    ran = run("form", out, "--from", spoilt)
    assert ran.returncode == 0
    assert "Marked: " in ran.stdout
    first, last = read_whole(open_survey(spoilt)), read_whole(open_survey(out))
    assert plain(last.survey) == plain(first.survey)
    assert set(first.unread.items()) == set(last.unread.items())
    record = tmp_path / "record"
    assert run("check", out, "--out", record).returncode == 1
    asked = json.loads((record / "again.json").read_text("utf-8"))["questions"]
    assert asked
