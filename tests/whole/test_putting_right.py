"""Cells to put right: told, marked in a copy, refused if one is strict, and kept on the way."""

from __future__ import annotations

import csv
import io
import json

import openpyxl
import pytest
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image

from survey.rewriting import read_whole
from survey.workbook import open_survey, write_form
from survey.workbook.marking import mark_workbook
from survey.workbook.marks import is_mark, mark
from tests.demo_surveys import careful_house, survey_of
from tests.forms import column_of, edited, row_of
from tests.made_pictures import jpeg
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
        assert book[sheet][cell].comment.text == mark(problem.message)
    again = read_whole(open_survey(copy))
    assert again.problems == told.problems
    assert plain(again.survey) == plain(told.survey)


def test_no_marked_copy_is_written_over_for_somebody_may_be_putting_it_right(spoilt, tmp_path):
    out = tmp_path / "sheets"
    assert run("check", spoilt, "--out", out, "--mark").returncode == 1
    before = (out / "house marked.xlsx").read_bytes()
    ran = run("check", spoilt, "--out", out, "--mark")
    assert f"Marked copy: {out / 'house marked 2.xlsx'}" in ran.stdout
    assert (out / "house marked.xlsx").read_bytes() == before


def test_what_a_person_writes_into_a_mark_or_had_written_there_is_told(spoilt, tmp_path):
    def pin(book):
        book["Piers"]["F6"].comment = Comment("gas smell in the pit", "me")

    spoilt.write_bytes(edited(spoilt.read_bytes(), pin))
    told = read_whole(open_survey(spoilt))
    assert sum("gas smell in the pit" in problem.read for problem in told.problems) == 1
    copies = [tmp_path / f"copy {n}.xlsx" for n in range(3)]
    mark_workbook(spoilt, told.problems, copies[0])
    again = read_whole(open_survey(copies[0]))
    assert sum("gas smell in the pit" in problem.read for problem in again.problems) == 1
    mark_workbook(copies[0], again.problems, copies[1])
    third = read_whole(open_survey(copies[1]))
    assert [problem.where for problem in third.problems] == [p.where for p in again.problems]

    def add(book):
        for sheet in ("Piers", "Start"):
            for row in book[sheet].iter_rows():
                for cell in row:
                    if cell.comment and is_mark(cell.comment.text):
                        cell.comment.text += " and the wall has moved"

    copies[2].write_bytes(edited(copies[0].read_bytes(), add))
    problems = read_whole(open_survey(copies[2])).problems
    on_cells = [problem for problem in problems if problem.where == "comments on cells"]
    assert len(on_cells) > 1


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
    assert "Marked, for a check still asks: " in ran.stdout
    first, last = read_whole(open_survey(spoilt)), read_whole(open_survey(out))
    assert plain(last.survey) == plain(first.survey)
    assert set(first.unread.items()) == set(last.unread.items())
    record = tmp_path / "record"
    assert run("check", out, "--out", record).returncode == 1
    asked = json.loads((record / "again.json").read_text("utf-8"))["questions"]
    assert asked


@pytest.mark.parametrize(
    ("governing", "depends"), [("no", "3 ft"), (None, "3 ft"), ("nope, dry", "3"), ("no", "3")]
)
@pytest.mark.parametrize("way", ["form", "metric form", "json"])
def test_an_answer_that_contradicts_or_waits_for_another_is_not_lost(
    governing, depends, way, tmp_path
):
    form, out = tmp_path / "house.xlsx", tmp_path / "again.xlsx"
    write_form(form, survey_of(careful_house(), "house"))

    def contradict(book):
        site = book["Site"]
        site.cell(row_of(site, "groundwater_met"), 2).value = governing
        site.cell(row_of(site, "depth_to_groundwater"), 2).value = depends

    form.write_bytes(edited(form.read_bytes(), contradict))
    told = read_whole(open_survey(form))
    if way == "json":
        assert run("convert", form, tmp_path / "there.json").returncode == 0
        assert run("convert", tmp_path / "there.json", out).returncode == 0
    else:
        more = ["--metric"] if way == "metric form" else []
        assert run("form", out, "--from", form, *more).returncode == 0
    again = read_whole(open_survey(out))
    assert len(again.problems) == len(told.problems)
    site = openpyxl.load_workbook(out)["Site"]
    written = site.cell(row_of(site, "depth_to_groundwater"), 2).value
    assert written == (depends if "ft" in depends else f"{depends} ft")


def test_pictures_on_the_sketch_stay_there(tmp_path):
    form, out = tmp_path / "house.xlsx", tmp_path / "again.xlsx"
    write_form(form, survey_of(careful_house(), "house"))

    def draw(book):
        book["Sketch"].add_image(Image(io.BytesIO(jpeg())), "C9")

    form.write_bytes(edited(form.read_bytes(), draw))
    assert run("form", out, "--from", form).returncode == 0
    (picture,) = open_survey(out).pictures
    assert (picture.sheet, picture.row) == ("Sketch", 9)
