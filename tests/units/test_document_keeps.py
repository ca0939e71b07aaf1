"""Nothing is lost between a workbook and JSON: what could not be read stands as it stood."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.answers import RawRow, RawSurvey
from survey.document import read_document, write_document
from survey.errors import Problem
from survey.rewriting import read_whole
from survey.vocabulary import Subject, Units
from tests.strategies import plain, surveys

PIER = {
    "wall of pier": ("nowhere", "Piers!B5"),
    "pit depth": ("five feet", "Piers!C5"),
    "pit width": ("3 ft", "Piers!D5"),
}
STRAY = (Problem("Piers!BZ9", "call me", "nothing outside the questions"),)


def raw(*labels: str, cells=PIER) -> RawSurvey:
    rows = [
        RawRow(f"Piers!row {n}", label, dict(cells), f"Piers!A{n}")
        for n, label in enumerate(labels, start=5)
    ]
    return RawSurvey("made", RawRow("Site", "site", {}), {Subject.PIER: rows}, STRAY)


def written_and_read(told):
    text = write_document(told.survey, told.unread, told.raw.stray)
    return read_whole(read_document(text, "made.json"))


def test_a_cell_that_could_not_be_read_is_written_as_it_stood():
    told = read_whole(raw("P1"))
    assert told.unread == {
        (Subject.PIER, "P1", "wall of pier"): "nowhere",
        (Subject.PIER, "P1", "pit depth"): "five feet",
    }
    again = written_and_read(told)
    assert [problem.message for problem in again.problems] == [
        problem.message for problem in told.problems
    ]
    assert plain(again.survey) == plain(told.survey)


@pytest.mark.parametrize("labels", [("P1", "P1"), ("", "P2"), ("site",), ("P1 / P2",)])
def test_a_label_that_could_not_be_used_is_written_as_it_stood(labels):
    told = read_whole(raw(*labels, cells={}))
    again = written_and_read(told)
    assert len(again.problems) == len(told.problems) > len(STRAY)
    assert [row.label for row in again.raw.lists[Subject.PIER]] == list(labels)


def test_what_stands_outside_the_questions_is_kept_and_told_again():
    again = written_and_read(read_whole(raw("P1", cells={})))
    assert again.problems == STRAY


def test_an_answer_where_the_question_does_not_apply_is_kept():
    cells = {"side protection": ("none", "Piers!C5"), "slope of sides": ("1:1", "Piers!D5")}
    told = read_whole(raw("P1", cells=cells))
    assert told.unread == {(Subject.PIER, "P1", "slope of sides"): "1:1"}
    assert len(written_and_read(told).problems) == len(told.problems) == 2


@pytest.mark.parametrize("units", Units)
@settings(max_examples=30, deadline=None)
@given(survey=surveys(), data=st.data())
def test_units_stay_and_every_figure_with_them(units, survey, data):
    from dataclasses import replace

    there = replace(survey, units=units)
    again = read_whole(read_document(write_document(there), "made.json"))
    assert again.problems == ()
    assert again.survey.units is units
    assert plain(again.survey) == plain(survey)
