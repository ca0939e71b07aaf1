"""Every photo of a survey is shown beside what it belongs to, or asked for."""

import hashlib
import io

import pytest
from PIL import Image

from survey.model import Picture
from survey.photos import NO_PHOTOS, Place, finding, load_photos
from survey.vocabulary import Subject
from tests.made_photos import survey_with
from tests.made_pictures import animated, jpeg, png_header, tagged

SITE, P1, P2 = Place(Subject.SITE, "site"), Place(Subject.PIER, "P1"), Place(Subject.PIER, "P2")


def told(photos):
    return [str(asked) for asked in photos.asked]


def test_a_file_in_the_list_is_shown_with_what_was_written_about_it(tmp_path):
    (tmp_path / "pit3.jpg").write_bytes(tagged(6))
    survey = survey_with(
        {"photo file": "pit3.jpg", "photo shows": "P2, P1", "photo remarks": "Test hole"}
    )
    photos = load_photos(survey, tmp_path)
    (photo,) = photos.shown
    assert photos.asked == ()
    assert (photo.name, photo.where, photo.title) == ("pit3.jpg", "Photos!B5", "F1")
    assert (photo.caption, photo.places) == ("Test hole", (P1, P2))
    assert photo.source == hashlib.sha256(tagged(6)).hexdigest()
    assert Image.open(io.BytesIO(photo.jpeg)).size == (photo.width, photo.height) == (40, 80)


def test_photos_stand_in_the_order_of_what_they_show(tmp_path):
    (tmp_path / "a.gif").write_bytes(animated())
    survey = survey_with(
        {"photo file": "a.gif", "photo shows": "P2"},
        {"photo file": "a.gif; A.GIF", "photo shows": "P1"},
        {"photo file": "a.gif"},
        pictures=[Picture("image1.jpeg", "Walls", 5, jpeg()), Picture("i2.jpeg", "Site", 9, jpeg()),
                  Picture("i3.jpeg", "Photos", 5, jpeg())],
    )  # fmt: skip
    photos = load_photos(survey, tmp_path)
    assert [(photo.where, photo.places[0].label) for photo in photos.shown] == [
        ("Photos!B7", "site"), ("Site!row 9", "site"), ("Walls!row 5", "North"),
        ("Photos!B6", "P1"), ("Photos!B6", "P1"), ("Photos!B5", "P2"), ("Photos!row 5", "P2"),
    ]  # fmt: skip
    assert photos.asked == ()


def test_a_photo_that_is_missing_is_asked_for_with_its_cell(tmp_path):
    photos = load_photos(survey_with({"photo file": "pit3.jpg"}), tmp_path)
    assert photos.shown == ()
    assert told(photos) == [
        "photo 'pit3.jpg' at Photos!B5 was not found beside the survey: send it along"
    ]


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("a.heic", b"\0\0\0\x18ftypheic" + bytes(90), "HEIC"),
        ("a.jpg", b"hello", "is no picture"),
        ("a.jpg", jpeg(size=(400, 300))[:-900], "damaged or cut short"),
        ("a.png", png_header(60_000, 60_000), "million pixels"),
        ("a.jpg", b"", "is empty"),
    ],
)
def test_a_file_that_can_not_be_shown_is_asked_for(tmp_path, name, content, why):
    (tmp_path / name).write_bytes(content)
    (line,) = told(load_photos(survey_with({"photo file": name}), tmp_path))
    assert line.startswith(f"photo '{name}' at Photos!B5 ")
    assert why in line


def test_a_row_that_names_several_files_shows_those_that_are_there(tmp_path):
    (tmp_path / "a.jpg").write_bytes(jpeg())
    photos = load_photos(survey_with({"photo file": "a.jpg; b.jpg ;; ../c.jpg"}), tmp_path)
    assert [photo.name for photo in photos.shown] == ["a.jpg"]
    assert [asked.name for asked in photos.asked] == ["b.jpg", "../c.jpg"]


def test_a_row_with_neither_file_nor_picture_is_asked_about(tmp_path):
    (line,) = told(load_photos(survey_with({"photo remarks": "crack"}), tmp_path))
    assert line.startswith("photo at Photos!row 5 has neither a picture nor a file's name")


def test_a_label_that_nothing_has_is_told_and_the_photo_shown_for_the_site(tmp_path):
    (tmp_path / "a.jpg").write_bytes(jpeg())
    photos = load_photos(survey_with({"photo file": "a.jpg", "photo shows": "P9"}), tmp_path)
    assert [photo.places for photo in photos.shown] == [(SITE,)]
    assert told(photos) == [
        "photo 'a.jpg' at Photos!C5 shows 'P9', and nothing that is listed has that label: "
        "correct it"
    ]


def test_a_picture_beside_a_list_is_shown_for_the_site_and_asked_about(tmp_path):
    survey = survey_with(pictures=[Picture("image1.jpeg", "Piers", 44, jpeg())])
    photos = load_photos(survey, tmp_path)
    assert [photo.places for photo in photos.shown] == [(SITE,)]
    assert "Piers!row 44 stands at no row that is filled in" in told(photos)[0]


def test_a_picture_that_could_not_be_taken_out_of_the_workbook_is_asked_for(tmp_path):
    survey = survey_with(pictures=[Picture("image1.jpeg", "Piers", 5, b"")])
    photos = load_photos(survey, tmp_path)
    assert photos.shown == ()
    assert "put the picture itself in again" in told(photos)[0]


def test_a_sketch_says_that_it_is_one(tmp_path):
    survey = survey_with(pictures=[Picture("image1.jpeg", "Sketch", 3, jpeg())])
    assert [photo.title for photo in load_photos(survey, tmp_path).shown] == ["sketch"]


def test_the_same_picture_in_many_places_is_unpacked_once(tmp_path, monkeypatch):
    calls, real = [], finding.printable
    monkeypatch.setattr(finding, "printable", lambda c: calls.append(c) or real(c))
    pictures = [Picture(f"image{row}.jpeg", "Piers", row, jpeg()) for row in (5, 6, 7)]
    assert len(load_photos(survey_with(pictures=pictures), tmp_path).shown) == 3
    assert len(calls) == 1


def test_a_damaged_picture_is_tried_once_and_counts_towards_what_a_sheet_may_cost(
    tmp_path, monkeypatch
):
    pictures = [Picture("i.jpeg", "Piers", 5, jpeg(size=(400, 300))[: -20 - n]) for n in range(4)]
    monkeypatch.setattr(finding, "MOST_EFFORT", 2 * 400 * 300 - 1)
    photos = load_photos(survey_with(pictures=[*pictures[:1] * 9, *pictures]), tmp_path)
    assert photos.shown == ()
    whys = [asked.why.partition(":")[0] for asked in photos.asked]
    assert whys == ["is damaged or cut short"] * 11 + ["is one too many"] * 2


def test_more_photos_than_a_sheet_can_show_are_told_and_not_read(tmp_path, monkeypatch):
    monkeypatch.setattr(finding, "MOST_PHOTOS", 2)
    pictures = [Picture(f"image{row}.jpeg", "Piers", 5, jpeg()) for row in range(4)]
    photos = load_photos(survey_with(pictures=pictures), tmp_path)
    assert len(photos.shown) == 2
    assert [asked.name for asked in photos.asked] == ["image2.jpeg", "image3.jpeg"]
    monkeypatch.setattr(finding, "MOST_PHOTOS", 200)
    monkeypatch.setattr(finding, "MOST_EFFORT", 1)
    pictures = [Picture("i.jpeg", "Piers", 5, jpeg((n, 0, 0))) for n in range(4)]
    photos = load_photos(survey_with(pictures=pictures), tmp_path)
    assert (len(photos.shown), len(photos.asked)) == (1, 3)
    monkeypatch.setattr(finding, "MOST_EFFORT", 10**9)
    monkeypatch.setattr(finding, "MOST_BYTES", 1)
    assert len(load_photos(survey_with(pictures=pictures), tmp_path).shown) == 1


def test_a_row_with_endless_names_is_read_only_so_far(tmp_path):
    names = "; ".join(f"{n}.jpg" for n in range(300))
    photos = load_photos(survey_with({"photo file": names}), tmp_path)
    assert len(photos.asked) == finding.MOST_FILES_A_ROW + 1
    assert "has 280 more files" in told(photos)[-1] + told(photos)[0] + told(photos)[20]


def test_a_survey_without_photos_costs_nothing(tmp_path, monkeypatch):
    monkeypatch.setattr(finding, "find_photos", None)
    assert load_photos(survey_with(), tmp_path) is NO_PHOTOS
