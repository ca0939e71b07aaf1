"""A survey that was kept is the one that was judged, to the last bit."""

import copy
import json
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.answers import RawRow, RawSurvey, read_survey
from survey.assessment import assess
from survey.errors import Problem
from survey.rulebook.book import load_book
from survey.sheets.kept import KeptError, keep, restore, value_of
from survey.sheets.record_file import write_record
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, Origin, Subject, Vocabulary, Word
from tests.made_assessments import cell, go, judged, on_hold
from tests.random_sites import random_survey


def kept(survey, problems=()):
    """Through the text of JSON, as it stands in a file."""
    return json.loads(json.dumps(keep(survey, problems)))


@given(st.integers(0, 2**32))
@settings(max_examples=60)
def test_any_survey_comes_back_as_it_was(seed):
    survey = random_survey(random.Random(seed))
    back, problems = restore(kept(survey), VOCABULARY)
    assert back == survey
    assert problems == ()
    assert all(
        type(answer.value) is type(again.value[name].value)
        for row, again in zip(survey.every_row(), _answers(back), strict=True)
        for name, answer in row.answers.items()
    )


class _Row:
    def __init__(self, row):
        self.value = row.answers


def _answers(survey):
    return [_Row(row) for row in survey.every_row()]


@given(st.integers(0, 2**32))
@settings(max_examples=8)
def test_any_survey_that_was_kept_gives_the_same_record(seed):
    survey, book = random_survey(random.Random(seed)), load_book()
    again, problems = restore(kept(survey), book.vocabulary)
    assert write_record(assess(again, problems, book)) == write_record(assess(survey, (), book))


def test_problems_notes_and_units_are_kept():
    made = on_hold()
    assert made.problems
    assert restore(kept(made.survey, made.problems), VOCABULARY) == (made.survey, made.problems)


TEXTS = st.text(st.characters(codec=None, exclude_categories=()), min_size=1, max_size=30)


@given(TEXTS)
@settings(max_examples=40)
def test_any_text_of_a_survey_is_kept(text):
    site = {"remarks": (text, "Site!B9"), "job name": ("not known", "Site!B1")}
    raw = RawSurvey(text, RawRow("Site", "", site), {})
    survey, problems = read_survey(raw)
    assert restore(kept(survey, problems), VOCABULARY) == (survey, problems)


def test_a_state_is_no_text():
    answers = kept(go().survey)["site"]["answers"]
    answers["job name"] = {"value": "not known", "cell": "Site!B1"}
    assert value_of(answers["job name"]) == "not known"
    blank = kept(judged(blank=True).survey)["site"]["answers"]["job name"]
    assert blank == {"state": "not known", "cell": cell("job name")}
    assert value_of(blank) is NOT_KNOWN


def with_words(*words):
    return VOCABULARY.extended(words)


HOSES = Word("hoses looked at", Subject.SITE, Kind.YES_NO, Origin.SEEN, "?", choices=("yes", "no"))


def test_a_question_that_is_new_is_not_known():
    survey = go().survey
    back, problems = restore(kept(survey), with_words(HOSES))
    assert back.site.value("hoses looked at") is NOT_KNOWN
    assert problems == ()


@pytest.mark.parametrize(
    ("answer", "problems"),
    [
        ({"value": "yes", "cell": "Site!B90"},
         (Problem("Site!B90", "yes", "nothing: the rules no longer ask 'hoses looked at'"),)),
        ({"state": "not known", "cell": "Site!B90"}, ()),
    ],
)  # fmt: skip
def test_an_answer_that_is_no_longer_asked_is_told_and_holds(answer, problems):
    made = kept(go().survey)
    made["site"]["answers"]["hoses looked at"] = answer
    assert restore(made, VOCABULARY)[1] == problems


@pytest.mark.parametrize(
    ("word", "value", "read", "expected"),
    [
        ("competent person", {"value": 3}, "3", "a text that 'competent person' takes"),
        ("groundwater met", {"value": "perhaps"}, "perhaps",
         "a yes or no that 'groundwater met' takes"),
        ("crew date", {"value": "2026-12-01"}, "2026-12-01", "a date that 'crew date' takes"),
        ("test hole depth", {"value": -5.0}, "-5 in", "a length that 'test hole depth' takes"),
        ("test hole depth", {"value": 1e9}, "83333333 ft 4 in",
         "a length that 'test hole depth' takes"),
        ("test hole depth", {"value": "12 ft"}, "12 ft", "a length that 'test hole depth' takes"),
        ("groundwater met", {"state": "does not apply"}, "does not apply",
         "an answer: 'groundwater met' always applies"),
    ],
)  # fmt: skip
def test_an_answer_that_its_question_does_not_take_is_a_problem_and_not_known(
    word, value, read, expected
):
    made = kept(go().survey)
    made["site"]["answers"][word] = value | {"cell": "Site!B7"}
    back, problems = restore(made, VOCABULARY)
    assert back.site.value(word) is NOT_KNOWN
    assert problems == (Problem("Site!B7", read, expected),)


def _set(path, value):
    def damage(made):
        *way, last = path
        for key in way:
            made = made[key]
        made[last] = value

    return damage


ANSWER = ("site", "answers", "job name")


@pytest.mark.parametrize(
    ("damage", "fault"),
    [
        (_set(["name"], 3), "the survey.name: expected a text"),
        (_set(["units"], "furlongs"), "units: 'furlongs' are none"),
        (_set(["notes"], [1]), "notes: expected a text"),
        (_set(["site"], None), "site: missing, or no table"),
        (_set(["piers"], {}), "piers: missing, or no list"),
        (_set(["piers", 0], "P1"), "piers[1]: missing, or no table"),
        (_set(["piers", 0, "label"], ["P1"]), "piers[1].label: expected a text"),
        (_set(["piers", 0, "listed"], "no"), "piers[1].listed: expected true or false"),
        (_set(["piers", 0, "answers"], []), "piers[1].answers: missing, or no table"),
        (_set(["problems"], [{"cell": "A1", "read": "", "expected": ""}, {}]),
         "problems[2].cell: expected a text"),
        (_set(ANSWER, "Larch Lane"), "site.answers.job name: missing, or no table"),
        (_set(ANSWER, {"value": "x"}), "site.answers.job name.cell: expected a text"),
        (_set(ANSWER, {"value": "x", "state": "not known", "cell": ""}),
         "site.answers.job name: no value, day or state"),
        *((_set(ANSWER, {"cell": "", **value}), "site.answers.job name: no value, day or state")
          for value in ({}, {"value": None}, {"value": True}, {"value": float("nan")},
                        {"value": float("inf")}, {"value": 10**400}, {"value": []},
                        {"state": "unknown"}, {"state": None}, {"state": []},
                        {"date": "2026-02-30"}, {"date": 5}, {"text": "x"})),
    ],
)  # fmt: skip
def test_what_is_no_kept_survey_is_refused_with_the_place(damage, fault):
    made = kept(go().survey)
    damage(made)
    with pytest.raises(KeptError) as refused:
        restore(made, VOCABULARY)
    assert refused.value.faults[0] == fault


@pytest.mark.parametrize("made", [None, 3, [], "survey"])
def test_what_is_no_table_at_all_is_refused(made):
    with pytest.raises(KeptError, match="the survey: missing, or no table"):
        restore(made, VOCABULARY)


def test_rows_beyond_any_form_and_labels_given_twice_are_refused():
    made = kept(go().survey)
    twice = copy.deepcopy(made)
    twice["piers"].append(dict(twice["piers"][0], label=twice["piers"][0]["label"].lower()))
    with pytest.raises(KeptError, match="piers: two rows have the same label"):
        restore(twice, VOCABULARY)
    made["piers"] = made["piers"] * 201
    with pytest.raises(KeptError, match="piers: 201 rows; a survey has at most 200"):
        restore(made, VOCABULARY)


def test_all_faults_are_told_at_once_but_not_without_end():
    made = kept(go().survey)
    made["site"]["answers"] = {f"w{n}": 0 for n in range(1000)}
    with pytest.raises(KeptError) as refused:
        restore(made, Vocabulary(VOCABULARY.words))
    assert len(refused.value.faults) == 20
