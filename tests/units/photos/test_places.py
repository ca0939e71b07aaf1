"""What a photo shows is read off the row at which it stands, or off what its own row says."""

import pytest

from survey.model import Picture
from survey.photos import Place
from survey.photos.places import Listed, belongs_to
from survey.vocabulary import NOT_KNOWN, Subject
from tests.made_photos import survey_with

SITE = Place(Subject.SITE, "site")
P1, P2, P3 = (Place(Subject.PIER, f"P{n}") for n in (1, 2, 3))
NORTH, GAS = Place(Subject.WALL, "North"), Place(Subject.UTILITY, "gas, old")


@pytest.mark.parametrize(
    ("said", "places"),
    [
        (NOT_KNOWN, [SITE]),
        ("P1", [P1]),
        ("p1", [P1]),
        ("pier P1", [P1]),
        ("wall North", [NORTH]),
        ("P1 to P3, North", [NORTH, P1, P2, P3]),
        ("North; P2 and P1", [NORTH, P1, P2]),
        ("P2 y P1", [P1, P2]),
        ("site", [SITE]),
        ("the whole site", [SITE]),
        ("gas, old", [GAS]),
        ("P1; gas, old; North", [NORTH, P1, GAS]),
        ("  P1 ,, P2  ", [P1, P2]),
    ],
)
def test_labels_of_anything_listed_are_read(said, places):
    shown = Listed.of(survey_with()).shown(said)
    assert (list(shown.places), shown.unknown) == (places, ())


@pytest.mark.parametrize(
    ("said", "places", "unknown"),
    [
        ("P9", [], ["P9"]),
        ("P1, P9, kitchen", [P1], ["P9", "kitchen"]),
        ("P1 to P9", [], ["P1 to P9"]),
        ("site of the old shed", [], ["site of the old shed"]),
    ],
)
def test_what_has_no_such_label_is_handed_back(said, places, unknown):
    shown = Listed.of(survey_with()).shown(said)
    assert (list(shown.places), list(shown.unknown)) == (places, unknown)


def test_a_text_of_endless_parts_is_read_only_so_far():
    shown = Listed.of(survey_with()).shown(", ".join(["nowhere", *["P1"] * 800]))
    assert shown.places == (P1,)
    assert len(shown.unknown) > 700


def test_one_label_of_two_things_shows_both():
    listed = Listed.of(survey_with(walls=("1",), piers=("1", "2")))
    assert listed.shown("1").places == (Place(Subject.WALL, "1"), Place(Subject.PIER, "1"))
    assert listed.shown("pier 1").places == (Place(Subject.PIER, "1"),)


@pytest.mark.parametrize(
    ("sheet", "row", "places"),
    [
        ("Piers", 6, (P2,)),
        ("Walls", 5, (NORTH,)),
        ("Photos", 5, (P1, P2)),
        ("Photos", 6, (SITE,)),  # says nothing
        ("Photos", 7, (SITE,)),  # says what nothing is called
        ("Photos", 40, (SITE,)),  # a row that holds nothing but the picture
        ("Piers", 40, ()),
        ("Piers", 1, ()),
        ("Site", 12, (SITE,)),
        ("Office", 2, (SITE,)),
        ("Sketch", 9, (SITE,)),
        ("Sheet7", 9, (SITE,)),
        ("", 1, (SITE,)),
    ],
)
def test_a_picture_belongs_to_what_its_row_is_about(sheet, row, places):
    survey = survey_with({"photo shows": "P1, P2"}, {}, {"photo shows": "the moon"})
    assert belongs_to(Picture("image1.png", sheet, row, b""), survey) == places
