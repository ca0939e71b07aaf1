"""From a workbook with pictures and files beside it to the sheet, as a surveyor would do it."""

import base64
import io
import json
import re
import shutil

import openpyxl
import pytest
from openpyxl.drawing.image import Image as SheetImage
from PIL import Image

from survey.answers import read_survey
from survey.document import write_document
from survey.photos.unpacking import with_pictures_in_files
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house, survey_of
from tests.made_pictures import BLUE, RED, halves, jpeg, tagged
from tests.office import ODS, SOFFICE, XLSX, convert
from tests.units.test_layers import loaded_by
from tests.whole.test_commands import run

GREEN = (20, 180, 20)
PHOTOS = [
    {"label": "F1", "photo_file": "front.jpg; gone.jpg", "photo_remarks": "From the street"},
    {"label": "F2", "photo_shows": "P1, P2", "photo_remarks": "Test hole"},
]


@pytest.fixture
def folder(tmp_path):
    """A survey's folder: a workbook with pictures at P2 and at F2, and the file of F1."""
    place = tmp_path / "job"
    place.mkdir()
    form = place / "careful.xlsx"
    write_form(form, survey_of({**careful_house(), "photos": PHOTOS}))
    survey, _ = read_survey(open_survey(form))
    book = openpyxl.load_workbook(form)
    for rows, label, picture in (
        (survey.piers, "P2", jpeg(RED)), (survey.photos, "F2", jpeg(GREEN)),
    ):  # fmt: skip
        (row,) = (row for row in rows if row.label == label)
        sheet, _, number = row.where.partition("!row ")
        book[sheet].add_image(SheetImage(io.BytesIO(picture)), f"C{number}")
    book.save(form)
    (place / "front.jpg").write_bytes(tagged(6, halves((1600, 1200))))
    return place


def shown(page):
    """Heading and picture of each photo on a sheet."""
    return [
        (heading, Image.open(io.BytesIO(base64.b64decode(data))))
        for heading, data in re.findall(
            r'<figure><h3><bdi>(.*?)</bdi></h3>\s*<img src="data:image/jpeg;base64,([^"]*)"',
            page.read_text("utf-8"),
        )
    ]


def is_near(image, colour):
    middle = image.getpixel((image.width // 2, image.height // 4))
    return all(abs(one - other) < 20 for one, other in zip(middle, colour, strict=True))


def expect_all(page):
    photos = shown(page)
    assert [heading for heading, _ in photos] == ["Whole site", "Pier P1", "Pier P2"]
    assert [image.size for _, image in photos[:1]] == [(750, 1000)]
    assert all(is_near(photo[1], c) for photo, c in zip(photos, (RED, GREEN, RED), strict=True))
    text = page.read_text("utf-8")
    assert 'Shows <bdi dir="ltr">P1, P2</bdi>.' in text
    assert "SECRET" not in text
    assert b"Exif" not in base64.b64decode(re.findall(r'base64,([^"]*)"', text)[0])
    assert re.search(r"photo &#39;gone.jpg&#39; at \S+ was not found beside the survey", text)


def test_the_sheet_shows_each_picture_beside_what_it_belongs_to(folder, tmp_path):
    plain = tmp_path / "careful.json"
    plain.write_text(write_document(survey_of(careful_house())), "utf-8")
    without = run("check", plain, "--out", tmp_path / "plain")
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    ran = run("check", folder / "careful.xlsx", "--out", tmp_path / "sheets")
    assert ran.returncode == without.returncode == 0
    assert ran.stdout.splitlines()[0] == without.stdout.splitlines()[0]
    assert "To ask about photos: 1\n  photo 'gone.jpg' at " in ran.stdout
    expect_all(tmp_path / "sheets" / "careful.html")
    record = json.loads((tmp_path / "sheets" / "careful.json").read_text("utf-8"))
    assert [photo["shows"] for photo in record["photos"]] == [
        ["site"], ["pier P1", "pier P2"], ["pier P2"],
    ]  # fmt: skip
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == before


@pytest.mark.skipif(SOFFICE is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("to", [XLSX, ODS], ids=["xlsx", "ods"])
def test_a_workbook_saved_by_another_program_keeps_its_pictures(folder, tmp_path, to):
    saved = tmp_path / "saved"
    (made,) = convert([folder / "careful.xlsx"], to, saved)
    shutil.copy(folder / "front.jpg", saved)
    ran = run("check", made, "--out", tmp_path / "sheets")
    assert ran.returncode in {0, 1}, ran.stderr
    expect_all(tmp_path / "sheets" / "careful.html")


def test_json_with_its_folder_says_what_the_workbook_said(folder, tmp_path):
    survey, _ = read_survey(open_survey(folder / "careful.xlsx"))
    place = tmp_path / "converted"
    text = write_document(with_pictures_in_files(survey, place))
    (place / "careful.json").write_text(text, "utf-8")
    shutil.copy(folder / "front.jpg", place)
    run("check", place / "careful.json", "--out", tmp_path / "sheets")
    expect_all(tmp_path / "sheets" / "careful.html")


def test_names_in_the_list_lead_to_nothing_outside_the_folder(folder, tmp_path):
    (tmp_path / "secret.jpg").write_bytes(jpeg(BLUE))
    (folder / "link.jpg").symlink_to(tmp_path / "secret.jpg")
    names = f"../secret.jpg; {tmp_path / 'secret.jpg'}; link.jpg; ..\\secret.jpg; C:\\secret.jpg"
    survey = survey_of({**careful_house(), "photos": [{"label": "F1", "photo_file": names}]})
    (folder / "hostile.json").write_text(write_document(survey), "utf-8")
    ran = run("check", folder / "hostile.json", "--out", tmp_path / "sheets")
    assert ran.returncode == 0
    assert "To ask about photos: 5" in ran.stdout
    assert shown(tmp_path / "sheets" / "hostile.html") == []


def test_a_check_without_photos_loads_no_library_of_pictures(tmp_path):
    plain = tmp_path / "careful.json"
    plain.write_text(write_document(survey_of(careful_house())), "utf-8")
    loaded = loaded_by("check", str(plain), "--out", str(tmp_path / "sheets"))
    assert "jinja2" in loaded
    assert "PIL" not in loaded
