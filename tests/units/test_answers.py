"""What stands in a cell, and the answer or the problem that is made of it."""

import datetime as dt
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.answers import RawRow, RawSurvey, as_text, read_survey, unlisted
from survey.errors import Problem
from survey.model import LISTS
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Subject,
    Units,
    Vocabulary,
    read_quantity,
    write_exactly,
)
from tests.strategies import values

DAY = dt.date(2026, 4, 3)
A_DAY = "a date such as 2026-04-03 or 3 Apr 2026"
NO_SUCH_DAY = "a day that is in the calendar, such as 2026-04-03 or 3 Apr 2026"
IN_TIME = "a date from 2000 to 2100"
WHOLE_DATE = "a date with day, month and year, such as 2026-04-03 or 3 Apr 2026"
ONE_WAY = "a date that can be read in one way only: "
LENGTH_IN = "a length such as 3 ft 6 in, 42 in or 1.07 m, or a bare number of in"
AS_MEASURED = (
    "one figure as it was measured, such as 3 ft 6 in, 42 in or 1.07 m, no range and no 'about'; "
    "blank if it is not known"
)
ZONE = "tolerance zone from 6 in to 120 in"
WALLS_LISTED = "one of: 'all the way round' | 'only walls to be worked on'"


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
    ("survey date", "12/14/2026", dt.date(2026, 12, 14)),
    ("survey date", "14/12/2026", dt.date(2026, 12, 14)),
    ("survey date", "14.12.2026", dt.date(2026, 12, 14)),
    ("survey date", "11/20/26", dt.date(2026, 11, 20)), ("survey date", "4/4/2026",
     dt.date(2026, 4, 4)), ("survey date", "04-04-2026", dt.date(2026, 4, 4)),
    ("survey date", "2/29/28", dt.date(2028, 2, 29)), ("survey date", "2026/04/03", DAY),
    ("survey date", "2026.4.3", DAY),
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
    ("survey date", "3/4/26", ONE_WAY + "2026-03-04 or 2026-04-03", None),
    ("survey date", "4/3/2026", ONE_WAY + "2026-04-03 or 2026-03-04", None),
    ("survey date", "3.4.2026", ONE_WAY + "2026-03-04 or 2026-04-03", None),
    ("survey date", "04-03-26", ONE_WAY + "2026-04-03, 2026-03-04 or 2004-03-26", None),
    ("survey date", "26-11-20", ONE_WAY + "2020-11-26 or 2026-11-20", None),
    ("survey date", "13/13/2026", NO_SUCH_DAY, None),
    ("survey date", "2/30/2026", NO_SUCH_DAY, None),
    ("survey date", "4/3/226", A_DAY, None), ("survey date", "4/3", WHOLE_DATE, None),
    ("survey date", "12/14/1999", IN_TIME, None), ("survey date", "14/2026/12", A_DAY, None),
    ("survey date", "tomorrow",
     "the date itself, such as 2026-04-03: this is read on another day", None),
    ("survey date", "2026-02-30", NO_SUCH_DAY, None),
    ("survey date", "2027-02-29", NO_SUCH_DAY, None),
    ("survey date", 46115.0, f"{A_DAY}; a number alone is none", None),
    ("survey date", "1999-12-31", IN_TIME, None),
    ("survey date", dt.date(2101, 1, 1), IN_TIME, None), ("survey date", True, A_DAY, None),
    ("survey date", dt.time(7, 30), A_DAY, None), ("survey date", "3 Apr", WHOLE_DATE, None),
    ("survey date", "no", A_DAY, None),
    ("gas odour", "maybe", "yes, no or not known", None),
    ("gas odour", "yess", "yes, no or not known", "yes"),
    ("gas odour", "not knwon", "yes, no or not known", "not known"),
    ("gas odour", 1.0, "yes, no or not known", None),
    ("gas odour", 0, "yes, no or not known", None),
    ("gas odour", "yes and no", "yes, no or not known", None),
    ("walls listed", "all the way around", WALLS_LISTED, "all the way round"),
    ("walls listed", "all", WALLS_LISTED, "all the way round"),
    ("walls listed", "Only", WALLS_LISTED, "only walls to be worked on"),
    ("walls listed", "worked on", WALLS_LISTED, "only walls to be worked on"),
    ("walls listed", "or", WALLS_LISTED, None), ("walls listed", "th", WALLS_LISTED, None),
    ("walls listed", "lls", WALLS_LISTED, None), ("walls listed", "(all", WALLS_LISTED, None),
    ("walls listed", "some", WALLS_LISTED, None), ("walls listed", True, WALLS_LISTED, None),
    ("walls listed", 1.0, WALLS_LISTED, None),
    ("tolerance zone", "two feet", LENGTH_IN, None), ("tolerance zone", "18-24", AS_MEASURED, None),
    ("tolerance zone", "18 or 24", AS_MEASURED, None),
    ("tolerance zone", 5.999, ZONE, None), ("tolerance zone", 120.001, ZONE, None),
    ("tolerance zone", -24, ZONE, None), ("tolerance zone", "24 ft", ZONE, None),
    ("tolerance zone", 0, ZONE, None), ("tolerance zone", math.nan, LENGTH_IN, None),
    ("tolerance zone", math.inf, LENGTH_IN, None),
    ("tolerance zone", 1e300, "a length of a size that can be built", None),
    ("tolerance zone", 10**400, "at most 400 characters", None),
    ("tolerance zone", True, "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", DAY, "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", dt.time(1, 2), "a length in in, not a date, time or yes/no", None),
    ("tolerance zone", dt.timedelta(1), "a length in in, not a date, time or yes/no", None),
    ("ground snow load", "25 ft",
     "a pressure in psf, psi, ksf, ksi, tsf, kPa, MPa ('ft' is no unit of pressure)", None),
    ("storeys", 1.5, "a whole number", None),
    ("storeys", "a few", "a whole number such as 2", None),
    ("storeys", 7, "storeys from 0 to 6", None), ("storeys", True,
     "a whole number, not a date, time or yes/no", None),
    ("turn at right end", 181, "turn at right end from -180 deg to 180 deg", None),
    ("job name", "x" * 2001, "at most 2000 characters", None),
    ("job name", "n/a",
     "an answer: 'job name' always applies. Stands at the top of the sheet.", None),
    ("gas odour", "does not apply", "an answer: 'gas odour' always applies. If yes: leave, then "
     "call the gas company and 911 from a safe place.", None),
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


@pytest.mark.parametrize(
    ("word", "text", "near"),
    [
        ("dip into pit", "no", "no layers"),
        ("strength test", "penetro", "penetrometer or vane"),
        ("confined space finding", "no permit", "confined space, no permit needed"),
        ("side protection", "shoring", None),
        ("confined space finding", "no", None),
        ("engine place", "outside", None),
    ],
)
def test_a_part_of_a_choice_is_only_hinted_at_where_it_is_the_part_of_one(word, text, near):
    value, problems = read(word, text)
    assert value is NOT_KNOWN
    assert problems[0].nearest == near


def test_what_stands_outside_the_questions_comes_first_among_the_problems():
    stray = Problem("Piers!Z9", "gas line here?", "nothing")
    site = RawRow("Site", "site", {"gas odour": ("maybe", "Site!B9")})
    _survey, problems = read_survey(RawSurvey("job", site, {}, (stray,)))
    assert [problem.where for problem in problems] == ["Piers!Z9", "Site!B9"]


def test_a_problem_says_where_what_and_what_to_do():
    _value, (problem,) = read("walls listed", "all the way around")
    assert str(problem) == (
        "Sheet!B5: read 'all the way around', expected one of: 'all the way round' | 'only "
        "walls to be worked on'; did you mean 'all the way round'?"
    )


def test_cells_that_are_alike_are_read_once(monkeypatch):
    read_texts = []

    def counted(text, kind, unit):
        read_texts.append((text, unit))
        return read_quantity(text, kind, unit)

    monkeypatch.setattr("survey.vocabulary.reading.read_quantity", counted)
    cells = {"pit depth": ("5 ft 3 in", "Piers!B5"), "pit length": ("30", "Piers!C5")}
    rows = [RawRow(f"Piers!row {n}", f"P{n}", cells) for n in range(60)]
    fresh = Vocabulary(VOCABULARY.words)
    for units in Units:
        raw = RawSurvey("job", RawRow("Site", "site", {}), {Subject.PIER: rows}, units=units)
        survey, problems = read_survey(raw, fresh)
        assert len(problems) == (0 if units is Units.US_CUSTOMARY else 60)  # no pit is 30 mm long
        assert {pier.value("pit depth") for pier in survey.piers} == {63}
    assert read_texts == [
        ("5 ft 3 in", "ft"), ("30", "in"), ("5 ft 3 in", "m"), ("30", "mm"),
    ]  # fmt: skip


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
         ["Site!B2: read '5 ft', expected no answer here, because 'groundwater met' is 'no'; "
          "change one of the two"]),
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
        (["W" * 60], ["W" * 60], []),
        (["W" * 61], ["row 5"],
         [f"Walls!A5: read '{'W' * 61}', expected a label of at most 60 letters"]),
        (["W" * 60 + "1", "W" * 60 + "2"], ["row 5", "row 6"],
         [f"Walls!A{n}: read '{'W' * 60}{n - 4}', expected a label of at most 60 letters"
          for n in (5, 6)]),
        (["W" * 61, "row 5"], ["row 5 (row 5)", "row 5"],
         [f"Walls!A5: read '{'W' * 61}', expected a label of at most 60 letters"]),
        ([""], ["row 5"], ["Walls!A5: expected a label for this wall"]),
        (["\u200b"], ["row 5"], ["Walls!A5: expected a label for this wall"]),
        (["#REF!"], ["row 5"], ["Walls!A5: read '#REF!', expected a label for this wall"]),
        (["W1", "w1", "W2"], ["W1 (row 5)", "w1 (row 6)", "W2"],
         ["Walls!A5: read 'W1', expected a label that no other wall has",
          "Walls!A6: read 'w1', expected a label that no other wall has"]),
        (["N / S", "N/S"], ["N - S (row 5)", "N/S"],
         ["Walls!A5: read 'N / S', expected a label without ' / ', which on the sheet stands "
          "between two places"]),
        (["N /"], ["N - (row 5)"],
         ["Walls!A5: read 'N /', expected a label without ' / ', which on the sheet stands "
          "between two places"]),
        (["Site"], ["Site (row 5)"],
         ["Walls!A5: read 'Site', expected another label: this one has a meaning of its own on "
          "the sheet"]),
        (["row 6", ""], ["row 6", "row 6 (row 6)"],
         ["Walls!A6: expected a label for this wall"]),
    ],
)  # fmt: skip
def test_labels(given, labels, problems):
    assert labelled(*given) == (labels, problems)


@given(st.lists(st.sampled_from(["W1", "w1", "W1 (row 5)", "W1 (row 6)", "", "row 5", "row 7",
                                 "a / b", "a - b (row 5)"])))  # fmt: skip
def test_labels_are_unique_whatever_is_given(given_labels):
    labels, _problems = labelled(*given_labels)
    assert len(labels) == len(given_labels)
    assert len({label.lower() for label in labels}) == len(labels)
    assert not any(" / " in label for label in labels)


@pytest.mark.parametrize(
    ("walls", "cell", "value", "expected", "nearest"),
    [
        (["W1"], "W1", "W1", None, None),
        (["W1"], " w1 ", "W1", None, None),
        (["1"], 1.0, "1", None, None),
        (["W" * 60], "W" * 60, "W" * 60, None, None),
        (["W" * 60], "W" * 61, NOT_KNOWN, f"the label of a wall ('{'W' * 60}')", "W" * 60),
        (["W1"], None, NOT_KNOWN, None, None),
        (
            ["North", "South"],
            "Nroth",
            NOT_KNOWN,
            "the label of a wall ('North' | 'South')",
            "North",
        ),
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
    assert problems[-1].expected == "the label of a wall ('W1 (row 5)' | 'W1 (row 6)')"


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


@st.composite
def raw_rows(draw):
    """A subject and its cells, each blank, a state, an answer or none, without regard to others.

    The answers of which others depend are drawn more often than not: else few would contradict.
    """
    subject = draw(st.sampled_from([s for s in (Subject.SITE, *LISTS) if _dependents(s)]))
    governing = {word.asks_when.word for word in _dependents(subject)}
    cells = {}
    for word in VOCABULARY.asked_of(subject):
        answer = values(word, ["W1"]).map(lambda value, word=word: _written(word, value))
        blank = st.sampled_from([None, "", "not known", "n/a"])
        junk = st.sampled_from(["zzz", "#REF!"])
        often = st.one_of(answer, answer, answer, blank)
        cells[word.name] = draw(often if word.name in governing else st.one_of(answer, blank, junk))
    return subject, cells


def _dependents(subject):
    return [word for word in VOCABULARY.asked_of(subject) if word.asks_when]


def _written(word, value):
    return write_exactly(value, word.kind, word.unit) if word.measured and word.unit else value


def _applies(word, cells):
    """Whether a question comes up, told from the raw cells alone; none if that is not known."""
    if word.asks_when is None:
        return True
    governing = VOCABULARY[word.asks_when.word]
    applies = _applies(governing, cells)
    if applies is True and cells[governing.name] in governing.choices:
        return cells[governing.name] in word.asks_when.choices
    return False if applies is False else None


@settings(max_examples=300)
@given(raw_rows())
def test_an_answer_whose_question_does_not_apply_is_a_problem_that_names_its_cell(drawn):
    subject, cells = drawn
    row = RawRow("R", "X1", {name: (cell, name) for name, cell in cells.items()}, "label")
    site = row if subject is Subject.SITE else RawRow("Site", "site", {})
    wall = RawRow("Walls!row 5", "W1", {}, "Walls!A5")
    lists = {Subject.WALL: [wall]}
    if subject is Subject.WALL:
        lists = {Subject.WALL: [row]}
    elif subject is not Subject.SITE:
        lists[subject] = [row]
    survey, problems = read_survey(RawSurvey("job", site, lists))
    (read_row,) = survey.rows(subject)
    named = {problem.where for problem in problems}
    for word in _dependents(subject):
        if _applies(word, cells) is False:
            assert read_row.value(word.name) is DOES_NOT_APPLY
            if cells[word.name] not in (None, "", "not known", "n/a"):
                assert word.name in named
            else:
                assert word.name not in named
