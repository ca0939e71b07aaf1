from itertools import pairwise

import pytest

from survey.sheets._grouping import _but_pier
from survey.sheets._legible import legible
from survey.sheets._places import Places, in_cells, span
from survey.vocabulary import Subject
from tests.made_assessments import judged

SENTENCE = "Pit {pier} is {pit depth} deep; keep {spoil distance} from {pier}."


@pytest.mark.parametrize(
    ("labels", "expected"),
    [
        ([], ""),
        (["P1"], "P1"),
        (["P1", "P2"], "P1, P2"),
        (["P1", "P2", "P3"], "P1 to P3"),
        (["P1", "P2", "P3", "P7", "P9", "P10", "P11"], "P1 to P3, P7, P9 to P11"),
        (["P3", "P2", "P1"], "P3, P2, P1"),
        (["A1", "B2", "C3"], "A1, B2, C3"),
        (["P08", "P09", "P10"], "P08, P09, P10"),
        (["1", "2", "3"], "1 to 3"),
        (["north", "south", "east"], "north, south, east"),
    ],
)
def test_runs_of_numbers_are_drawn_together(labels, expected):
    assert span(labels) == expected


def test_a_run_never_takes_in_a_label_that_is_not_meant():
    every = ["P1", "P2", "P2a", "P3", "P4", "P5"]
    assert span(["P1", "P2", "P3", "P4", "P5"], dict(pairwise(every))) == "P1, P2, P3 to P5"


def test_places_are_named_by_what_they_are():
    places = Places.of(judged(piers=4).survey)
    assert places.named(Subject.SITE, ["site"]) == "whole site"
    assert places.named(Subject.WALL, ["North"]) == "wall North"
    assert places.named(Subject.PIER, ["P1", "P2", "P3"]) == "P1 to P3"
    pairs = ["P1 / gas main", "P2 / gas main", "P3 / gas main", "P4 / garage"]
    assert places.named(Subject.PIER_UTILITY, pairs) == "P1 to P3 / gas main; P4 / garage"


def test_sentences_that_differ_in_the_pier_alone_have_one_key():
    one = _but_pier(SENTENCE, "Pit P1 is 5 ft deep; keep 2 ft from P1.", "P1")
    other = _but_pier(SENTENCE, "Pit P2 is 5 ft deep; keep 2 ft from P2.", "P2")
    deeper = _but_pier(SENTENCE, "Pit P3 is 6 ft deep; keep 2 ft from P3.", "P3")
    assert one == other == ("5 ft", "2 ft")
    assert deeper != one


def test_a_figure_that_looks_like_the_label_of_a_pier_is_kept():
    five = _but_pier(SENTENCE, "Pit 5 is 5 ft deep; keep 2 ft from 5.", "5")
    six = _but_pier(SENTENCE, "Pit 6 is 6 ft deep; keep 2 ft from 6.", "6")
    assert five != six


def test_a_sentence_that_is_not_of_the_rule_is_its_own_key():
    text = "Answer: pit depth of P1 (Piers!F4)"
    assert _but_pier(SENTENCE, text, "P1") == text


def test_control_and_direction_characters_are_shown_as_marks():
    mark = "\N{REPLACEMENT CHARACTER}"
    assert legible("a\x00b\x1bc\u202ed\ud800e\n\tf") == f"a{mark}b{mark}c{mark}d{mark}e\n\tf"
    assert legible("موقع 👨\u200d🔧 ½") == "موقع 👨\u200d🔧 ½"


def test_cells_stand_sheet_by_sheet():
    assert in_cells(["Piers!F7", "Site!B4", "Piers!G7", "Piers!F7"]) == "Piers F7, G7; Site B4"
    assert in_cells(f"Piers!B{i}" for i in range(4, 34)) == "Piers B4 to B33"
    assert in_cells(["piers[1].pit_depth"]) == "piers[1].pit_depth"
