"""The surveys that tests make by the thousand are read as they were meant."""

from __future__ import annotations

import io
import zipfile
from collections import Counter
from statistics import mean

import openpyxl
import pytest

from survey.assessment import Verdict, assess
from survey.errors import UnreadableSurveyError
from survey.rewriting import read_whole
from survey.rulebook.book import load_book
from survey.workbook import open_survey
from tests.made_surveys import filled_form, made_survey, made_surveys, write_surveys

FEW = 20


@pytest.fixture(scope="module")
def read():
    return [one.read() for one in made_surveys(300)]


@pytest.mark.parametrize("kind", ["xlsx", "json"])
def test_files_are_read_as_they_were_meant(tmp_path, kind):
    for made, file in zip(made_surveys(FEW), write_surveys(tmp_path, FEW, kind=kind), strict=True):
        told = read_whole(open_survey(file))
        meant, problems = made.read()
        assert answers(told.survey) == answers(meant)
        assert [(p.read, p.expected) for p in told.problems] == [
            (p.read, p.expected) for p in problems
        ]


def answers(survey):
    return {
        (row.subject, row.label, name): answer.value
        for row in survey.every_row()
        for name, answer in row.answers.items()
    }


def test_a_filled_form_is_the_form(tmp_path):
    made = made_survey(3)
    book = openpyxl.load_workbook(io.BytesIO(filled_form(made)))
    assert book["Piers"]["A6"].value == "P1"
    assert len(book["Piers"].data_validations.dataValidation) > 20
    with zipfile.ZipFile(io.BytesIO(filled_form(made))) as package:
        assert package.testzip() is None
        assert len(package.namelist()) == len(set(package.namelist()))


def test_same_number_and_seed_give_the_same_survey():
    assert made_survey(7) == made_survey(7)
    assert made_survey(7) != made_survey(7, seed=2)
    assert filled_form(made_survey(7)) == filled_form(made_survey(7))


def test_three_hundred_are_as_surveys_are(read):
    piers = [len(survey.piers) for survey, _problems in read]
    assert min(piers) == 4
    assert 25 < max(piers) <= 40
    assert 7 < mean(piers) < 9
    assert {len(survey.walls) for survey, _problems in read} == {1, 2, 3, 4}
    assert len({survey.site.value("surveyor") for survey, _problems in read}) == 5
    assert len({survey.site.known("town") for survey, _problems in read}) == 11  # some blank
    assert 5 < sum(bool(problems) for _survey, problems in read) < 40
    days = [survey.site.value("crew date") for survey, _problems in read]
    assert 330 < (max(days) - min(days)).days < 380


def test_a_thousand_have_names_of_their_own_and_the_verdicts_of_life():
    made = list(made_surveys(1000))
    verdicts = Counter(one.meant for one in made)
    assert 50 < verdicts[Verdict.GO_WITH_CONDITIONS] < 120
    assert 280 < verdicts[Verdict.HOLD] < 380
    assert 280 < verdicts[Verdict.ENGINEER_REVIEW] < 380
    assert len({one.name for one in made}) == len(made)
    assert {one.name.count("/") for one in made} == {0, 1}


def test_a_check_gives_the_verdict_that_was_meant():
    book = load_book()
    for made in made_surveys(FEW):
        survey, problems = made.read()
        assert assess(survey, problems, book).verdict is made.meant, made.name


def test_every_two_hundredth_file_is_bad_where_that_is_wanted(tmp_path):
    files = write_surveys(tmp_path, 600, kind="json", bad=True)
    unread = []
    for file in files:
        try:
            open_survey(file)
        except UnreadableSurveyError:
            unread.append(file)
    assert unread == [files[199], files[399], files[599]]
