"""The pictures of a workbook become files, and the list of photos says what the workbook said."""

import os
from dataclasses import replace

import pytest

from survey.answers import read_survey
from survey.document import read_document, write_document
from survey.errors import UserError
from survey.model import Picture
from survey.photos import load_photos, unpacking
from survey.photos.unpacking import with_pictures_in_files
from survey.vocabulary import NOT_KNOWN
from tests.made_photos import survey_with
from tests.made_pictures import BLUE, RED, animated, jpeg, seen_through


def said(survey):
    names = ("photo file", "photo shows", "photo remarks")
    return [(row.label, *(row.known(name) for name in names)) for row in survey.photos]


@pytest.fixture
def survey():
    return survey_with(
        {"photo remarks": "crack"},
        {"photo file": "old.jpg", "photo shows": "P1"},
        pictures=[
            Picture("image1.jpeg", "Photos", 5, jpeg(RED)),
            Picture("image2.png", "Photos", 6, seen_through()),
            Picture("image3.gif", "Piers", 7, animated()),
            Picture("image4.jpeg", "Piers", 7, jpeg(BLUE)),
            Picture("image5.jpeg", "Sketch", 2, jpeg(RED)),
        ],
    )


def test_each_picture_is_a_file_and_stands_in_the_list(survey, tmp_path):
    unpacked = with_pictures_in_files(survey, tmp_path / "new")
    assert said(unpacked) == [
        ("F1", "larch-lane-photo-1.jpg", None, "crack"),
        ("F2", "old.jpg; larch-lane-photo-2.png", "P1", None),
        ("photo 3", "larch-lane-photo-3.gif; larch-lane-photo-4.jpg", "P3", None),
        ("photo 4", "larch-lane-photo-1.jpg", None, "sketch"),
    ]
    assert unpacked.pictures == ()
    files = {file.name: file.read_bytes() for file in (tmp_path / "new").iterdir()}
    assert files == {
        "larch-lane-photo-1.jpg": jpeg(RED), "larch-lane-photo-2.png": seen_through(),
        "larch-lane-photo-3.gif": animated(), "larch-lane-photo-4.jpg": jpeg(BLUE),
    }  # fmt: skip


def test_the_sheet_shows_the_same_photos_at_the_same_places(survey, tmp_path):
    (tmp_path / "old.jpg").write_bytes(jpeg(BLUE))
    before = load_photos(survey, tmp_path)
    text = write_document(with_pictures_in_files(survey, tmp_path))
    read, problems = read_survey(read_document(text, "larch-lane.json"))
    after = load_photos(read, tmp_path)
    assert problems == ()
    assert not after.asked
    assert sorted((p.source, p.places, p.jpeg) for p in after.shown if p.name != "old.jpg") == (
        sorted((p.source, p.places, p.jpeg) for p in before.shown if p.name != "old.jpg")
    )


def test_no_file_is_written_over(survey, tmp_path):
    (tmp_path / "larch-lane-photo-1.jpg").write_bytes(b"mine")
    (tmp_path / "larch-lane-photo-3.jpg").mkdir()
    unpacked = with_pictures_in_files(survey, tmp_path)
    assert (tmp_path / "larch-lane-photo-1.jpg").read_bytes() == b"mine"
    assert said(unpacked)[0][1] == "larch-lane-photo-2.jpg"
    assert (tmp_path / "larch-lane-photo-2.jpg").read_bytes() == jpeg(RED)
    assert not [file for file in os.listdir(tmp_path) if file.endswith(".part")]  # noqa: PTH208


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("../../etc; x", "etc-x-photo-1.jpg"), ("", "photo-1.jpg"), ("con", "con-photo-1.jpg"),
        ("Łódź 3", "Łódź-3-photo-1.jpg"), ("x" * 300, f"{'x' * 40}-photo-1.jpg"),
    ],
)  # fmt: skip
def test_the_name_of_a_survey_can_lead_nowhere(tmp_path, name, file):
    survey = replace(survey_with(pictures=[Picture("i.jpeg", "Piers", 5, jpeg())]), name=name)
    assert said(with_pictures_in_files(survey, tmp_path))[0][1] == file
    assert [file.name for file in tmp_path.iterdir()] == [file]


def test_a_link_in_the_place_of_a_name_is_left_alone(survey, tmp_path):
    (tmp_path / "other").mkdir()
    target = tmp_path / "other" / "mine.jpg"
    (tmp_path / "larch-lane-photo-1.jpg").symlink_to(target)
    with_pictures_in_files(survey, tmp_path)
    assert not target.exists()


def test_when_the_disk_refuses_nothing_half_written_is_left(survey, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(UserError, match="No space left on device"):
        with_pictures_in_files(survey, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_picture_is_not_written_and_stays_in_the_survey(tmp_path):
    bad = [Picture("run.exe", "Piers", 5, b"MZ"), Picture("image1.jpeg", "Piers", 5, b""),
           Picture("page.html", "Piers", 5, b"<script>")]  # fmt: skip
    survey = survey_with(pictures=bad)
    unpacked = with_pictures_in_files(survey, tmp_path)
    assert unpacked.pictures == tuple(bad)
    assert list(tmp_path.iterdir()) == []


def test_what_a_sheet_can_not_show_is_still_kept_as_a_file(tmp_path):
    survey = survey_with(pictures=[Picture("image1.EMF", "Piers", 5, b"\x01\0\0\0")])
    unpacked = with_pictures_in_files(survey, tmp_path)
    assert said(unpacked) == [("photo 1", "larch-lane-photo-1.emf", "P1", None)]
    assert (tmp_path / "larch-lane-photo-1.emf").read_bytes() == b"\x01\0\0\0"


def test_a_label_that_two_things_have_is_written_so_that_it_names_one(tmp_path):
    survey = survey_with(
        walls=("1",), piers=("1",), pictures=[Picture("i.jpeg", "Piers", 5, jpeg())]
    )
    assert said(with_pictures_in_files(survey, tmp_path))[0][2] == "pier 1"


def test_labels_of_new_rows_are_free(tmp_path):
    survey = survey_with({}, pictures=[Picture("i.jpeg", "Piers", 5, jpeg())])
    (row,) = survey.photos
    survey = replace(survey, photos=(replace(row, label="Photo 2"),))
    assert [row.label for row in with_pictures_in_files(survey, tmp_path).photos] == [
        "Photo 2", "photo 3",
    ]  # fmt: skip


def test_more_rows_than_a_form_holds_are_refused_before_anything_is_written(tmp_path, monkeypatch):
    monkeypatch.setattr(unpacking, "MOST_ROWS", 1)
    survey = survey_with({}, pictures=[Picture("i.jpeg", "Piers", 5, jpeg())])
    with pytest.raises(UserError, match="more than 1 rows"):
        with_pictures_in_files(survey, tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_a_survey_without_pictures_is_the_same(tmp_path):
    survey = survey_with({"photo file": "old.jpg"})
    assert with_pictures_in_files(survey, tmp_path / "new") is survey
    assert survey.photos[0].value("photo shows") is NOT_KNOWN
    assert not (tmp_path / "new").exists()
