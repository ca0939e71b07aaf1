"""What stands in a cell, and the answer or the problem that is made of it."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.answers import RawRow, RawSurvey, as_text, read_survey, unlisted
from survey.errors import Problem
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Subject

DAY = dt.date(2026, 4, 3)
A_DAY = "a date such as 2026-04-03 or 3 Apr 2026"
ONE_WAY = "a date that can be read in one way only, such as 2026-04-03 or 3 Apr 2026"
LENGTH_IN = "a length such as 3 ft 6 in, 42 in or 1.07 m, or a bare number of in"
ZONE = "tolerance zone from 6 in to 120 in"
WALLS_LISTED = "one of: all the way round, only walls to be worked on"


def read(word, cell, walls=()):
    """The answer to one question, and the problems with it."""
    subject = VOCABULARY[word].subject
    row = RawRow("Sheet!row 5", "X1", {word: (cell, "Sheet!B5")}, "Sheet!A5")
    site = row if subject is Subject.SITE else RawRow("Site", "site", {})
    lists = {
        Subject.WALL: [RawRow(f"Walls!row {n}", label, {}) for n, label in enumerate(walls, 5)]
    }
    if subject is not Subject.SITE:
        lists[subject] = [*lists.get(subject, ()), row]
    survey, problems = read_survey(RawSurvey("job", site, lists))
    return survey.rows(subject)[-1].value(word), problems


ANSWERS = [
    # word, cell, value
    ("survey date", DAY, DAY), ("survey date", dt.datetime(2026, 4, 3, 15, 30), DAY),  # noqa: DTZ001
    ("survey date", "2026-04-03", DAY), ("survey date", "3 Apr 2026", DAY),
    ("survey date", "03 apr 2026", DAY), ("survey date", "3 April 2026", DAY),
    ("survey date", "Apr 3 2026", DAY), ("survey date", "April 3, 2026", DAY),
    ("survey date", "Apr 3, 2026", DAY), ("survey date", " 2026-04-03\n", DAY),
    ("survey date", "2028-02-29", dt.date(2028, 2, 29)),
    ("survey date", dt.date(2000, 1, 1), dt.date(2000, 1, 1)),
    ("survey date", dt.date(2100, 12, 31), dt.date(2100, 12, 31)),
    ("gas odour", "yes", "yes"), ("gas odour", "YES", "yes"), ("gas odour", " Yes ", "yes"),
    ("gas odour", "y", "yes"), ("gas odour", "true", "yes"), ("gas odour", True, "yes"),
    ("gas odour", "sí", "yes"), ("gas odour", "si", "yes"), ("gas odour", "no", "no"),
    ("gas odour", "N", "no"), ("gas odour", "False", "no"), ("gas odour", False, "no"),
    ("gas odour", "yes\u200b", "yes"),
    ("walls listed", "all the way round", "all the way round"),
    ("walls listed", "All  the Way\nround", "all the way round"),
    ("engine place", "outside, by an opening", "outside, by an opening"),
    ("tolerance zone", 24.0, 24), ("tolerance zone", 24, 24), ("tolerance zone", "24", 24),
    ("tolerance zone", "24.0", 24), ("tolerance zone", 24.5, 24.5), ("tolerance zone", "2 ft", 24),
    ("tolerance zone", "1 ft 6 in", 18), ("tolerance zone", "½ yd", 18),
    ("tolerance zone", "6", 6), ("tolerance zone", 120, 120), ("tolerance zone", "10 ft", 120),
    ("tolerance zone", 20.000000123456789, 20.000000123456789),
    ("clear spacing of open pits", 0, 0), ("clear spacing of open pits", "0", 0),
    ("clear spacing of open pits", 5, 60), ("clear spacing of open pits", "5'6", 66),
    ("ground snow load", 25, 25), ("storeys", 2.0, 2), ("storeys", "2", 2), ("storeys", 0, 0),
    ("turn at right end", -90.0, -90), ("turn at right end", "-90°", -90),
    ("job name", "Elm Street 12", "Elm Street 12"), ("job name", 1234.0, "1234"),
    ("job name", 12.5, "12.5"), ("job name", "  two\nlines ", "two lines"),
    ("job name", "=1+1", "=1+1"), ("job name", "<b>", "<b>"), ("job name", True, "yes"),
    ("job name", "a\u202eb", "ab"), ("job name", "x" * 2000, "x" * 2000),
    ("job name", DAY, "2026-04-03"),
    ("ticket number", "", NOT_KNOWN), ("job name", "0", "0"),
]  # fmt: skip


KINDS = ["job name", "survey date", "gas odour", "tolerance zone", "walls listed"]
BLANKS = (None, "", " ", "\n", "\u200b", "\u00a0", "not known", "Not Known", "NOT  KNOWN",
          "unknown", "not sure", "could not see", "?", "nk", "N/K", "no se sabe",
          "Desconocido")  # fmt: skip
DOES_NOT = ("does not apply", "Does Not Apply", "doesn't apply", "doesn’t apply", "n/a", "N/A",
            "NA", "not applicable", "no aplica")  # fmt: skip

PROBLEMS = [
    # word, cell, what was expected, nearest
    ("survey date", "4/3/2026", ONE_WAY, None), ("survey date", "04-03-26", ONE_WAY, None),
    ("survey date", "3.4.2026", ONE_WAY, None), ("survey date", "tomorrow", A_DAY, None),
    ("survey date", "2026-02-30", A_DAY, None), ("survey date", "2027-02-29", A_DAY, None),
    ("survey date", 46115.0, A_DAY, None), ("survey date", "1999-12-31", A_DAY, None),
    ("survey date", dt.date(2101, 1, 1), A_DAY, None), ("survey date", True, A_DAY, None),
    ("survey date", dt.time(7, 30), A_DAY, None), ("survey date", "3 Apr", A_DAY, None),
    ("survey date", "no", A_DAY, None),
    ("gas odour", "maybe", "yes, no or not known", None),
    ("gas odour", "yess", "yes, no or not known", "yes"),
    ("gas odour", "not known.", "yes, no or not known", "not known"),
    ("gas odour", 1.0, "yes, no or not known", None),
    ("gas odour", 0, "yes, no or not known", None),
    ("gas odour", "yes and no", "yes, no or not known", None),
    ("walls listed", "all the way around", WALLS_LISTED, "all the way round"),
    ("walls listed", "some", WALLS_LISTED, None), ("walls listed", True, WALLS_LISTED, None),
    ("walls listed", 1.0, WALLS_LISTED, None),
    ("tolerance zone", "two feet", LENGTH_IN, None), ("tolerance zone", "18-24", LENGTH_IN, None),
    ("tolerance zone", "18 or 24",
     "a length in in, ft, yd, mm, cm, m ('or' is no unit of length)", None),
    ("tolerance zone", 5.999, ZONE, None), ("tolerance zone", 120.001, ZONE, None),
    ("tolerance zone", -24, ZONE, None), ("tolerance zone", "24 ft", ZONE, None),
    ("tolerance zone", 0, ZONE, None), ("tolerance zone", math.nan, LENGTH_IN, None),
    ("tolerance zone", math.inf, LENGTH_IN, None),
    ("tolerance zone", 1e300, "a length of a size that can be built", None),
    ("tolerance zone", 10**400, "a length of a size that can be built", None),
    ("tolerance zone", True, "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", DAY, "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", dt.time(1, 2), "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", dt.timedelta(1), "a length in in, not a date, time or yes/no", None),
    ("ground snow load", "25 ft",
     "a pressure in psf, psi, ksf, tsf, kpa, mpa ('ft' is no unit of pressure)", None),
    ("storeys", 1.5, "a whole number", None), ("storeys", "two", "a whole number such as 2", None),
    ("storeys", 7, "storeys from 0 to 6", None), ("storeys", True,
     "a whole number, not a date, time or yes/no", None),
    ("turn at right end", 181, "turn at right end from -180 deg to 180 deg", None),
    ("job name", "x" * 2001, "at most 2000 characters", None),
    ("job name", "n/a", "an answer: 'job name' always applies", None),
    ("gas odour", "does not apply", "an answer: 'gas odour' always applies", None),
]  # fmt: skip
SPREADSHEET_ERRORS = ("#DIV/0!", "#REF!", "#VALUE!", "#NAME?", "#NUM!", "#N/A", "#NULL!", "#ref!")


@pytest.mark.parametrize(("word", "cell", "value"), ANSWERS)
def test_answers(word, cell, value):
    assert read(word, cell) == (value, ())


@pytest.mark.parametrize("word", KINDS)
@pytest.mark.parametrize("cell", BLANKS)
def test_blanks_are_not_known_and_no_problem(word, cell):
    assert read(word, cell) == (NOT_KNOWN, ())


@pytest.mark.parametrize(("word", "cell", "expected", "nearest"), PROBLEMS)
def test_problems(word, cell, expected, nearest):
    value, problems = read(word, cell)
    assert value is NOT_KNOWN
    (problem,) = problems
    assert problem.where == "Sheet!B5"
    assert (problem.expected, problem.nearest) == (expected, nearest)
    assert problem.read == as_text(cell)[:80]


@pytest.mark.parametrize("word", KINDS)
@pytest.mark.parametrize("cell", SPREADSHEET_ERRORS)
def test_errors_of_the_spreadsheet(word, cell):
    expected = "an answer; the spreadsheet could not work this cell out"
    assert read(word, cell) == (NOT_KNOWN, (Problem("Sheet!B5", cell, expected),))


def test_a_problem_says_where_what_and_what_to_do():
    _value, (problem,) = read("walls listed", "all the way around")
    assert str(problem) == (
        "Sheet!B5: read 'all the way around', expected one of: all the way round, only walls to "
        "be worked on; did you mean 'all the way round'?"
    )


# Whether a question applies


def read_pair(governing, governed):
    cells = {
        "groundwater met": (governing, "Site!B1"),
        "depth to groundwater": (governed, "Site!B2"),
    }
    survey, problems = read_survey(RawSurvey("job", RawRow("Site", "site", cells)))
    return survey.site.value("depth to groundwater"), [str(problem) for problem in problems]


@pytest.mark.parametrize("text", DOES_NOT)
def test_does_not_apply(text):
    assert read_pair("no", text) == (DOES_NOT_APPLY, [])


@pytest.mark.parametrize(
    ("governing", "governed", "value", "problems"),
    [
        ("yes", "5 ft", 60, []),
        ("yes", None, NOT_KNOWN, []),
        ("yes", "n/a", NOT_KNOWN,
         ["Site!B2: read 'n/a', expected an answer, because 'groundwater met' is 'yes'"]),
        ("no", None, DOES_NOT_APPLY, []),
        ("no", "not known", DOES_NOT_APPLY, []),
        ("no", "5 ft", DOES_NOT_APPLY,
         ["Site!B2: read '5 ft', expected no answer here, because 'groundwater met' is 'no'"]),
        (None, None, NOT_KNOWN, []),
        (None, "n/a", NOT_KNOWN, []),
        (None, "5 ft", NOT_KNOWN, []),
        ("?", "does not apply", NOT_KNOWN, []),
    ],
)  # fmt: skip
def test_a_question_that_hangs_on_another(governing, governed, value, problems):
    assert read_pair(governing, governed) == (value, problems)


def test_a_question_that_hangs_on_one_that_does_not_apply():
    cells = {
        "footing kind": ("rubble", "Walls!B5"),
        "cutting footing bars accepted": (None, "Walls!C5"),
    }
    raw = RawSurvey("job", RawRow("Site", "site", {}), {Subject.WALL: [RawRow("W", "W1", cells)]})
    survey, problems = read_survey(raw)
    assert survey.walls[0].value("footing reinforcement") is DOES_NOT_APPLY
    assert survey.walls[0].value("cutting footing bars accepted") is DOES_NOT_APPLY
    assert problems == ()


# Labels and what refers to them


def labelled(*labels):
    rows = [RawRow(f"Walls!row {n}", label, {}, f"Walls!A{n}") for n, label in enumerate(labels, 5)]
    survey, problems = read_survey(
        RawSurvey("job", RawRow("Site", "site", {}), {Subject.WALL: rows})
    )
    return [row.label for row in survey.walls], [str(problem) for problem in problems]


@pytest.mark.parametrize(
    ("given", "labels", "problems"),
    [
        (["W1", "W2"], ["W1", "W2"], []),
        ([" W  1\n"], ["W 1"], []),
        (["W" * 70], ["W" * 60], []),
        (["W" * 59 + " north"], ["W" * 59], []),
        ([""], ["row 5"], ["Walls!A5: expected a label for this wall"]),
        (["\u200b"], ["row 5"], ["Walls!A5: expected a label for this wall"]),
        (["#REF!"], ["row 5"], ["Walls!A5: read '#REF!', expected a label for this wall"]),
        (["W1", "w1", "W2"], ["W1 (row 5)", "w1 (row 6)", "W2"],
         ["Walls!A5: read 'W1', expected a label that no other wall has",
          "Walls!A6: read 'w1', expected a label that no other wall has"]),
        (["row 6", ""], ["row 6", "row 6 (row 6)"],
         ["Walls!A6: expected a label for this wall"]),
    ],
)  # fmt: skip
def test_labels(given, labels, problems):
    assert labelled(*given) == (labels, problems)


@given(st.lists(st.sampled_from(["W1", "w1", "W1 (row 5)", "W1 (row 6)", "", "row 5", "row 7"])))
def test_labels_are_unique_whatever_is_given(given_labels):
    labels, _problems = labelled(*given_labels)
    assert len(labels) == len(given_labels)
    assert len({label.lower() for label in labels}) == len(labels)


@pytest.mark.parametrize(
    ("walls", "cell", "value", "expected", "nearest"),
    [
        (["W1"], "W1", "W1", None, None),
        (["W1"], " w1 ", "W1", None, None),
        (["1"], 1.0, "1", None, None),
        (["W" * 70], "W" * 70, "W" * 60, None, None),
        (["W1"], None, NOT_KNOWN, None, None),
        (["North", "South"], "Nroth", NOT_KNOWN, "the label of a wall (North, South)", "North"),
        ([], "W1", NOT_KNOWN, "the label of a wall (none is listed)", None),
    ],
)
def test_references(walls, cell, value, expected, nearest):
    answer, problems = read("wall of pier", cell, walls)
    assert answer == value
    assert [(p.expected, p.nearest) for p in problems] == (
        [] if expected is None else [(expected, nearest)]
    )


def test_a_label_given_twice_is_not_guessed_at():
    answer, problems = read("wall of pier", "W1", ["W1", "W1"])
    assert answer is NOT_KNOWN
    assert problems[-1].expected == "the label of a wall (W1 (row 5), W1 (row 6))"


# Lists that may be longer than what is listed


@pytest.mark.parametrize("subject", CLOSED_BY, ids=lambda subject: subject.value)
@pytest.mark.parametrize("cell", ["no", None, "maybe", "yes"])
def test_an_open_list_has_a_row_of_which_nothing_is_known(subject, cell):
    cells = {CLOSED_BY[subject]: (cell, "Site!B9")}
    survey, _problems = read_survey(RawSurvey("job", RawRow("Site", "site", cells)))
    row = unlisted(survey, subject)
    if cell == "yes":
        assert row is None
        return
    assert row is not None
    assert not row.listed
    assert {answer.value for answer in row.answers.values()} == {NOT_KNOWN}
    assert {answer.where for answer in row.answers.values()} == {"Site!B9"}


@pytest.mark.parametrize(
    ("cell", "text"),
    [(None, ""), (2.0, "2"), (2.5, "2.5"), (1e-05, "0.00001"), (True, "yes"), (False, "no"),
     (math.inf, "inf"), (7, "7"), ("x", "x")],
)  # fmt: skip
def test_a_cell_as_text(cell, text):
    assert as_text(cell) == text


CELLS = st.one_of(
    st.none(), st.text(max_size=30), st.floats(), st.integers(), st.booleans(), st.dates(),
    st.datetimes(), st.times(), st.timedeltas(),
)  # fmt: skip


@given(st.sampled_from([w.name for w in VOCABULARY.words if w.asked]), CELLS)
def test_whatever_stands_in_a_cell_is_an_answer_within_its_range_or_not_known(name, cell):
    word = VOCABULARY[name]
    value, _problems = read(name, cell, ["W1"])
    if value in (NOT_KNOWN, DOES_NOT_APPLY):
        return
    if word.choices:
        assert value in word.choices
    elif word.measured:
        assert word.low <= value <= word.high
    else:
        assert value
