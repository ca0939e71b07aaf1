"""A form that is filled in again loses nothing, and shows what the last check asks for."""

import io
import json
from dataclasses import replace

import openpyxl
import pytest
from PIL import Image

from survey.answers import read_survey
from survey.document import read_document
from survey.errors import Problem
from survey.model import Picture
from survey.vocabulary import NOT_KNOWN, Subject, Units
from survey.vocabulary.walk import FIRST_VISIT
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house
from tests.forms import column_of, row_of
from tests.strategies import plain

FIRST = 6
WANTED = frozenset(
    {
        (Subject.SITE, "site", "gas odour"),
        (Subject.SITE, "site", "crew date"),
        (Subject.PIER, "P2", "pit depth"),
        (Subject.WALL, "South", "storeys"),
    }
)


def survey_of(document, **more):
    raw = read_document(json.dumps(document), "job.json")
    survey, problems = read_survey(raw)
    assert problems == ()
    return replace(survey, **more)


@pytest.fixture(scope="module")
def house():
    return survey_of(careful_house())


def book_of(path, survey, **more):
    write_form(path, survey, **more)
    return openpyxl.load_workbook(path)


def read_back(path):
    return read_survey(open_survey(path))


def framed(book):
    return {
        f"{sheet.title}!{cell.coordinate}"
        for sheet in book if sheet.title != "Start"
        for row in sheet.iter_rows() for cell in row
        if cell.border.left and cell.border.left.style == "thick"
    }  # fmt: skip


def test_what_the_last_check_asks_for_is_framed_and_the_cover_says_so(tmp_path, house):
    book = book_of(tmp_path / "job.xlsx", house, wanted=WANTED)
    piers, walls = book["Piers"], book["Walls"]
    assert framed(book) == {
        f"Site!B{row_of(book['Site'], 'gas_odour')}",
        f"Office!B{row_of(book['Office'], 'crew_date')}",
        f"Piers!{piers.cell(7, column_of(piers, 'pit_depth')).coordinate}",
        f"Walls!{walls.cell(6, column_of(walls, 'storeys')).coordinate}",
    }
    crew = book["Office"].cell(row_of(book["Office"], "crew_date"), 2)
    assert (crew.number_format, crew.protection.locked) == ("yyyy-mm-dd", False)
    said = " ".join(str(row[0].value) for row in book["Start"].iter_rows(max_row=5))
    assert "Marked cells are the open questions of the last check" in said


def test_nothing_is_framed_and_nothing_said_of_it_without(tmp_path, house):
    book = book_of(tmp_path / "job.xlsx", house)
    assert framed(book) == set()
    said = " ".join(str(cell.value) for row in book["Start"].iter_rows() for cell in row)
    assert "last check" not in said


def test_what_could_not_be_read_stands_as_it_stood_and_is_told_again(tmp_path):
    document = careful_house()
    del document["site"]["crew_date"]
    del document["piers"][1]["pit_depth"]
    texts = {
        (Subject.SITE, "site", "crew date"): "3/4/26",
        (Subject.PIER, "P2", "pit depth"): "=about 5 ft",
        (Subject.PIER, "P3", "label"): "P3 / gas",
        (Subject.PIER, "P4", "label"): "",
    }
    path = tmp_path / "job.xlsx"
    write_form(path, survey_of(document), unread=texts)
    survey, problems = read_back(path)
    assert {problem.read for problem in problems} >= {"3/4/26", "=about 5 ft", "P3 / gas", ""}
    assert survey.site.value("crew date") is NOT_KNOWN
    assert survey.piers[1].value("pit depth") is NOT_KNOWN


def test_an_answer_that_was_read_is_not_replaced_by_a_text(tmp_path, house):
    place = (Subject.PIER, "P2", "pit depth")
    path = tmp_path / "job.xlsx"
    write_form(path, house, unread={place: "no text stood there"})
    survey, problems = read_back(path)
    assert problems == ()
    assert plain(survey) == plain(house)


def test_what_stood_outside_the_questions_is_kept_on_a_sheet_of_its_own(tmp_path, house):
    stray = (Problem("Piers!BZ9", "call me", "nothing there"), Problem("Old!A1", "=1", "no sheet"))
    book = book_of(tmp_path / "job.xlsx", house, stray=stray)
    rows = book["Not read"].iter_rows(min_row=4, values_only=True)
    assert list(rows) == [(one.where, one.read, one.expected) for one in stray]
    assert book["Not read"]["B5"].data_type == "s"
    _survey, problems = read_back(tmp_path / "job.xlsx")
    assert problems
    assert "Not read" not in book_of(tmp_path / "clean.xlsx", house).sheetnames


@pytest.mark.parametrize("units", Units, ids=lambda units: units.value)
def test_a_filled_form_reads_back_the_same_in_either_units(tmp_path, house, units):
    path = tmp_path / "job.xlsx"
    write_form(path, house, units=units)
    survey, problems = read_back(path)
    assert (problems, survey.units) == ((), units)
    assert plain(survey) == plain(house)
    book_of(tmp_path / "again.xlsx", survey)
    assert read_back(tmp_path / "again.xlsx")[0].units is units


# The short form


def keys_of(book):
    """Every key of a question on a form."""
    keys = set()
    for sheet in book:
        if "E" in sheet.column_dimensions and sheet.column_dimensions["E"].hidden:
            keys |= {row[0].value for row in sheet.iter_rows(min_row=3, min_col=5, max_col=5)}
        elif sheet.row_dimensions[5].hidden:
            keys |= {cell.value for cell in sheet[5]}
    return keys - {None, "block", "label", "picture", "site_question"}


def test_the_short_form_asks_what_decides_on_a_first_visit_and_lists_photos(tmp_path):
    book = book_of(tmp_path / "short.xlsx", None, short=True)
    first = {name.replace(" ", "_").replace("-", "_") for name in FIRST_VISIT}
    assert keys_of(book) == first | {"photo_file", "photo_shows", "photo_remarks"}
    assert {"Kit", "Releases"}.isdisjoint(book.sheetnames)
    assert {"Start", "Office", "Photos", "Sketch", "Choices"} <= set(book.sheetnames)
    start = book["Start"]
    assert start.cell(row_of(start, "pier_survey_short"), 2).value == "yes"
    said = " ".join(str(row[0].value) for row in start.iter_rows(max_row=5))
    for told in ("This is the short form", "pier-survey check", "form --from", "nothing is lost"):
        assert told in said
    assert framed(book) == set()


def test_a_blank_short_form_reads_as_nothing_known(tmp_path):
    write_form(tmp_path / "short.xlsx", short=True)
    survey, problems = read_back(tmp_path / "short.xlsx")
    assert problems == ()
    assert {answer.value for answer in survey.site.answers.values()} == {NOT_KNOWN}


def test_a_short_form_keeps_every_answer_that_there_is(tmp_path, house):
    book = book_of(tmp_path / "short.xlsx", house, short=True)
    survey, problems = read_back(tmp_path / "short.xlsx")
    assert problems == ()
    assert plain(survey) == plain(house)
    assert "Releases" in book.sheetnames


def test_a_short_form_asks_what_the_last_check_asks_for_and_what_that_depends_on(tmp_path):
    place = (Subject.SITE, "site", "rated pier capacity")
    survey = survey_of({"pier_survey": 1, "site": {}})
    book = book_of(tmp_path / "short.xlsx", survey, short=True, wanted={place})
    assert {"rated_pier_capacity", "pier_capacity_rated"} <= keys_of(book)
    assert "tube_wall_thickness" not in keys_of(book)


# Pictures


def picture(sheet, row, colour):
    content = io.BytesIO()
    Image.new("RGB", (40, 30), colour).save(content, "PNG")
    return Picture(f"{colour}.png", sheet, row, content.getvalue())


def test_pictures_come_back_at_the_rows_they_belong_to(tmp_path):
    document = careful_house()
    document["photos"] = [{"label": "Photo 1", "photo_shows": "P1"}, {"label": "Photo 2"}]
    path = tmp_path / "job.xlsx"
    write_form(path, survey_of(document))
    read, _problems = read_back(path)
    places = [("Photos", 7), ("Piers", 8), ("Piers", 30), ("Site", 9)]
    pictures = tuple(
        picture(sheet, row, colour)
        for (sheet, row), colour in zip(places, ("red", "green", "blue", "gold"), strict=True)
    )
    junk = Picture("x.emf", "Piers", 8, b"no picture")
    given = replace(read, pictures=(*pictures, junk))
    assert write_form(tmp_path / "again.xlsx", given) == (junk,)
    back, problems = read_back(tmp_path / "again.xlsx")
    assert problems == ()
    assert {(p.sheet, p.row, p.content) for p in back.pictures} == {
        (p.sheet, p.row, p.content) for p in pictures
    }


def test_a_picture_at_no_row_of_a_list_does_not_come_to_stand_at_another_s(tmp_path):
    document = careful_house()
    survey = survey_of(document, pictures=(picture("Piers", 7, "red"),))
    write_form(tmp_path / "job.xlsx", survey)  # from JSON: no row of it stands at a row of a sheet
    back, _problems = read_back(tmp_path / "job.xlsx")
    assert [(p.sheet, p.row) for p in back.pictures] == [("Piers", FIRST + len(survey.piers))]
