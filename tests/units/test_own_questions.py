"""A firm's own questions are asked, read, written and kept as the shipped ones are."""

import datetime as dt
import io
import json
import re
import tempfile
from pathlib import Path

import jsonschema
import openpyxl
import pytest
from hypothesis import given, settings
from openpyxl.utils import range_boundaries

from survey.answers import RawRow, RawSurvey, read_survey, unlisted, unreadable_choices
from survey.assessment import assess
from survey.document import json_schema, read_document, write_document
from survey.errors import UnreadableSurveyError, UserError
from survey.model import LISTS, Answer, Row, Survey
from survey.rulebook.messages import Mistakes
from survey.rulebook.paragraphs import split_paragraphs
from survey.rulebook.questions import read_question
from survey.rulebook.reading import read_book
from survey.sheets import record, render, summary
from survey.sheets._grouping import group_questions
from survey.sheets._places import in_cells
from survey.vocabulary import (
    CLOSED_BY,
    MEASURES,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Origin,
    Subject,
    Units,
    Word,
)
from survey.vocabulary.walk import OWN_QUESTIONS, page_of, questions
from survey.workbook import open_survey, texts, write_form
from tests.forms import column_of, edited, filled_form, full_survey, row_of
from tests.strategies import plain, surveys

NOT_ASKED = (Kind.REFERENCE,)  # the rule language has no such question
LONG_LIST = tuple(f"stage {n}, of forty" for n in range(1, 41))
ODD_CHOICES = ("=1+1", '"a", b', "½ in", "O’Brien's", "_x0041_", "<b>&amp;", "42", "c" * 300, "😀")
LONG = "Are there, on the way from the road to the pits, any steps, slopes or soft ground? " * 4
HOSTILE = (
    "=1+1", "+1", "@SUM(A1)", "-2", "#REF!", "_x0041_ and _x000D_", "<script>alert(1)</script>",
    '"quoted", with commas', "{{ 7*7 }}", "site_answer", "Help", "Answer", "x" * 300, LONG[:300],
    "😀" * 100, "😀" * 300, "漢字" * 150,
)  # fmt: skip


def word(name, subject=Subject.PIER, kind=Kind.YES_NO, **more):
    """A question of a firm's own, as the rule language makes it."""
    more.setdefault("prompt", f"Own: {name}?")
    if kind in MEASURES:
        more.setdefault("unit", {Kind.LENGTH: "ft"}.get(kind, MEASURES[kind].canonical))
    if kind is Kind.YES_NO:
        more.setdefault("choices", ("yes", "no"))
    return Word(name, subject, kind, Origin.SEEN, **more)


def of_every_kind(subject):
    """Questions of each kind about one subject; figures on Site have no range."""
    span = {} if subject is Subject.SITE else {"low": 0.0, "high": 600.0}
    lists = (("none", "small", "large"), LONG_LIST, ODD_CHOICES)
    for kind in Kind:
        name = f"own {kind.value} of {subject.value}"
        if kind is Kind.CHOICE:
            yield from (word(f"{name} {n}", subject, kind, choices=c) for n, c in enumerate(lists))
        elif kind in MEASURES:
            yield word(name, subject, kind, help="Measure it.", **span)
        elif kind not in NOT_ASKED:
            yield word(name, subject, kind)


SUBJECTS = (Subject.SITE, *LISTS)
EVERY = VOCABULARY.extended(word for subject in SUBJECTS for word in of_every_kind(subject))
DOG = word("dog loose on site", Subject.SITE, prompt="Is there a dog loose on site?")
FENCE = word("distance to fence", Subject.PIER, Kind.LENGTH, low=0.0, high=600.0)
METER = word("meter read", Subject.UTILITY)
OWN = VOCABULARY.extended([DOG, FENCE, METER])


def opened(folder, content, vocabulary=OWN):
    path = folder / "survey.xlsx"
    path.write_bytes(content)
    return read_survey(open_survey(path, vocabulary), vocabulary)


def written(vocabulary, survey=None):
    """The bytes of a form."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.xlsx"
        write_form(path, survey, vocabulary)
        return path.read_bytes()


@pytest.fixture(scope="module")
def own_form():
    return written(OWN)


@pytest.fixture(scope="module")
def book_of_every_kind():
    return openpyxl.load_workbook(io.BytesIO(written(EVERY)))


def refusal(call, *arguments):
    with pytest.raises(UnreadableSurveyError) as caught:
        call(*arguments)
    return str(caught.value)


# Nothing is lost


@settings(max_examples=2, deadline=None)
@given(survey=surveys(vocabulary=EVERY, most_rows=1))
def test_any_answer_is_the_same_after_the_form_is_written_read_and_written_again(survey):
    first = written(EVERY, survey)
    with tempfile.TemporaryDirectory() as folder:
        once, problems = opened(Path(folder), first, EVERY)
        twice, again = opened(Path(folder), written(EVERY, once), EVERY)
    assert (problems, again) == ((), ())
    assert plain(once) == plain(twice) == plain(survey)


@settings(max_examples=10, deadline=None)
@given(survey=surveys(vocabulary=EVERY, most_rows=1))
def test_any_answer_is_the_same_after_json(survey):
    document = write_document(survey)
    back, problems = read_survey(read_document(document, "drawn.json", EVERY), EVERY)
    assert problems == ()
    assert plain(back) == plain(survey)


def test_each_choice_of_a_list_is_read_as_itself(tmp_path):
    odd = word("odd", Subject.WALL, Kind.CHOICE, choices=ODD_CHOICES)
    many = word("many", Subject.WALL, Kind.CHOICE, choices=LONG_LIST)
    vocabulary = VOCABULARY.extended([odd, many])
    blank = {w.name: Answer(NOT_KNOWN, "") for w in vocabulary.words}
    walls = tuple(
        Row(Subject.WALL, f"W{n}", {**blank, "odd": Answer(ODD_CHOICES[n % len(ODD_CHOICES)], ""),
                                    "many": Answer(choice, "")}, "")
        for n, choice in enumerate(LONG_LIST)
    )  # fmt: skip
    site = Row(Subject.SITE, "site", blank, "")
    survey, problems = opened(
        tmp_path, written(vocabulary, Survey("s", site, walls, vocabulary=vocabulary)), vocabulary
    )
    assert problems == ()
    assert {row.value("odd") for row in survey.walls} == set(ODD_CHOICES)
    assert [row.value("many") for row in survey.walls] == list(LONG_LIST)


def test_a_survey_knows_the_questions_that_it_answers():
    survey, _ = read_survey(RawSurvey("s", RawRow("Site", "site", {})), OWN)
    assert survey.vocabulary is OWN
    assert survey.site.value("dog loose on site") is NOT_KNOWN
    assert full_survey().vocabulary is VOCABULARY


def test_answers_to_questions_that_the_reader_does_not_ask_are_never_dropped():
    site = RawRow("Site", "site", {"dog loose on site": ("yes", "Site!B51")})
    with pytest.raises(ValueError, match="another vocabulary, which asks dog loose on site"):
        read_survey(RawSurvey("s", site))


@pytest.mark.parametrize("subject", CLOSED_BY, ids=lambda subject: subject.value)
def test_of_what_an_open_list_left_out_own_questions_are_not_known_either(subject):
    survey, _ = read_survey(RawSurvey("s", RawRow("Site", "site", {})), EVERY)
    row = unlisted(survey, subject)
    assert row is not None
    assert row.answers.keys() == {word.name for word in EVERY.asked_of(subject)}
    assert row.value(f"own length of {subject.value}") is NOT_KNOWN


DECLARED = [
    # kind, other lines, cell, value
    ("length", "unit ft", "3-6", NOT_KNOWN), ("length", "unit ft", 3.5, 42),
    ("length", "unit m\n  between 0 m and 2 m", "2 m", 2000 / 25.4),
    ("force", "unit kip", 12, 12000), ("line load", "unit plf", "1,800", 1800),
    ("pressure", "unit psi", 2, 288), ("slope", "unit H:1V", 1.5, 1.5),
    ("share", "unit %", "25 %", 25), ("angle", "unit deg", -90, -90),
    ("days", "unit days", "2 weeks", 14), ("count", "", 3, 3),
    ("count", "between 0 and 9", "12", NOT_KNOWN), ("yes or no", "", "sí", "yes"),
    ("choice", "choices none | small, brown | large", "Small, brown", "small, brown"),
    ("duration", "unit hour", "1.5", 90), ("area", "unit in2", "1 sq ft", 144),
    ("volume", "unit ft3", "2 yd3", 54), ("flow", "unit gpm", 50, 50),
    ("power", "unit hp", "5 hp", 5), ("voltage", "unit kV", "480 V", 0.48),
    ("resistivity", "unit ohm-cm", "30 ohm-m", 3000), ("acidity", "unit pH", 6.5, 6.5),
    ("concentration", "unit ppm", "100", 100),
    ("date", "", "3 Apr 2026", dt.date(2026, 4, 3)), ("text", "", "=1+1", "=1+1"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "lines", "cell", "value"), DECLARED)
def test_a_question_as_a_rules_file_declares_it_is_answered(tmp_path, kind, lines, cell, value):
    text = f"question dog on site\n  for each wall\n  kind {kind}\n  prompt Dog?\n  {lines}"
    (paragraph,), _ = split_paragraphs("own.rules", text)
    mistakes = Mistakes()
    dog = read_question(paragraph, mistakes)
    assert mistakes == []
    assert dog is not None
    vocabulary = VOCABULARY.extended([dog])
    cells = {"dog on site": (cell, "Walls!V5")}
    raw = RawSurvey("s", RawRow("Site", "site", {}), {Subject.WALL: [RawRow("W", "W1", cells)]})
    survey, problems = read_survey(raw, vocabulary)
    assert survey.walls[0].value("dog on site") == value
    assert len(problems) == (value is NOT_KNOWN)
    back, _ = opened(tmp_path, written(vocabulary, survey), vocabulary)
    assert back.walls[0].value("dog on site") == value


def test_every_kind_was_declared():
    assert {kind for kind, *_ in DECLARED} == {kind.value for kind in Kind} - {"reference"}


# Where they stand on the form


@pytest.mark.parametrize("subject", SUBJECTS, ids=lambda subject: subject.value)
def test_own_questions_stand_after_the_shipped_ones_in_the_order_of_the_rules(
    book_of_every_kind, subject
):
    book = book_of_every_kind
    own = [w for w in EVERY.asked_of(subject) if w not in VOCABULARY.words]
    page = page_of(own[0])
    sheet, last = book[page.sheet], questions(page, VOCABULARY)[-1].key
    units = [texts.unit_text(w, Units.US_CUSTOMARY) for w in own]
    if subject is Subject.SITE:
        title = row_of(sheet, last) + 1
        assert [sheet.cell(title, n).value for n in (1, 5)] == [OWN_QUESTIONS, "block"]
        rows = range(title + 1, sheet.max_row + 1)
        shown = [[sheet.cell(row, column).value for column in (1, 3, 4, 5)] for row in rows]
        assert shown == [
            [w.prompt, unit, w.help or None, w.key] for w, unit in zip(own, units, strict=True)
        ]
        answers = [sheet.cell(row, 2) for row in rows]
    else:
        first = column_of(sheet, last) + 1
        assert sheet.cell(1, first).value == OWN_QUESTIONS
        columns = range(first, first + len(own))
        shown = [[sheet.cell(row, column).value for row in (2, 3, 4, 5)] for column in columns]
        assert shown == [
            [texts.heading(w.name), unit, w.prompt, w.key]
            for w, unit in zip(own, units, strict=True)
        ]
        answers = [sheet.cell(25, column) for column in columns]
    for w, cell in zip(own, answers, strict=True):
        assert not cell.protection.locked
        assert (cell.number_format == "yyyy-mm-dd") == (w.kind is Kind.DATE)
        if w.choices:
            assert offered(book, sheet, cell) == [*w.choices, "not known"]


def offered(book, sheet, cell):
    (rule,) = [r for r in sheet.data_validations.dataValidation if cell.coordinate in r.sqref]
    name, cells = rule.formula1.split("!")
    left, top, right, bottom = range_boundaries(cells)
    assert left == right
    return [as_shown(book[name].cell(row, left).value) for row in range(top, bottom + 1)]


def as_shown(value):
    """What a spreadsheet shows; openpyxl leaves its code for an underscore as it is."""
    return value.replace("_x005F_", "_") if isinstance(value, str) else value


def test_the_sheet_of_choices_lists_those_of_own_questions():
    size = word("size of dog", Subject.SITE, Kind.CHOICE, choices=("none", "small", "large"))
    book = openpyxl.load_workbook(io.BytesIO(written(VOCABULARY.extended([size]))))
    rows = list(book["Choices"].iter_rows(min_row=4, values_only=True))
    assert ("Kit", "Own: size of dog?", "none\nsmall\nlarge", None) in rows


@pytest.mark.parametrize("subject", [Subject.SITE, Subject.PIER], ids=lambda s: s.value)
def test_prompts_help_and_choices_are_text_whatever_they_look_like(tmp_path, subject):
    words = [
        word(f"odd {n}", subject, Kind.CHOICE, prompt=text, help=text, choices=(text, "none"))
        for n, text in enumerate(HOSTILE)
    ]
    vocabulary = VOCABULARY.extended(words)
    content = written(vocabulary)
    survey, problems = opened(tmp_path, content, vocabulary)
    assert problems == ()
    assert plain(survey)["site"][0][1].keys() == {w.name for w in vocabulary.asked_of(Subject.SITE)}
    book = openpyxl.load_workbook(io.BytesIO(content))
    worked_out = ("Start", "Checks")
    cells = [
        cell
        for sheet in book
        if sheet.title not in worked_out
        for row in sheet.iter_rows()
        for cell in row
    ]
    assert {cell.data_type for cell in cells} <= {"s", "inlineStr", "n"}
    assert {as_shown(cell.value) for cell in cells} >= set(HOSTILE)
    for rule in book[page_of(words[0]).sheet].data_validations.dataValidation:
        assert len(as_shown(rule.prompt).encode("utf-16-le")) <= 2 * 255
        assert not re.search("(?<!_x005F)_x0041_", rule.prompt)
        assert len(as_shown(rule.promptTitle).encode("utf-16-le")) <= 2 * 32


def test_a_long_question_leaves_rows_in_sight_and_its_help_stands_whole_above_the_column():
    words = [
        word("long question", prompt=LONG[:300], help=f"{LONG[:299]}."),
        word("a name that goes on and on, to the end of the line and beyond it", help=LONG[:300]),
    ]
    sheet = openpyxl.load_workbook(io.BytesIO(written(VOCABULARY.extended(words))))["Piers"]
    assert sum(sheet.row_dimensions[row].height for row in (1, 2, 3, 4)) <= 140
    for w in words:
        column = column_of(sheet, w.key)
        above = sheet.cell(4, column).value
        assert above.startswith(w.prompt)
        assert w.help.strip() in above
    assert max(d.width for d in sheet.column_dimensions.values()) < 100


def test_more_questions_than_can_be_read_back_are_refused_and_nothing_is_written(tmp_path):
    count = 130 - 1 - len(VOCABULARY.asked_of(Subject.WALL))
    words = [word(f"own {n}", Subject.WALL) for n in range(count + 1)]
    most = VOCABULARY.extended(words[:-1])
    survey, problems = opened(tmp_path, written(most), most)
    assert (survey.walls, problems) == ((), ())
    with pytest.raises(UserError, match="sheet 'Walls' of the form would have 131 columns; 130"):
        write_form(tmp_path / "wide.xlsx", None, VOCABULARY.extended(words))
    lists = [word(f"own {n}", Subject.SITE, Kind.CHOICE, choices=(f"c{n}",)) for n in range(130)]
    with pytest.raises(UserError, match="sheet 'Lists' of the form would have"):
        write_form(tmp_path / "wide.xlsx", None, VOCABULARY.extended(lists))
    assert [file.name for file in tmp_path.iterdir()] == ["survey.xlsx"]


# A survey made before the question was


def test_a_form_made_before_lacks_the_answer_and_says_where_it_would_stand(tmp_path):
    survey, problems = opened(tmp_path, filled_form())
    assert problems == ()
    assert survey.site.answers["dog loose on site"] == Answer(
        NOT_KNOWN, "Kit!(no 'dog loose on site')"
    )
    assert survey.piers[2].answers["distance to fence"] == Answer(
        NOT_KNOWN, "Piers!row 8 (no 'distance to fence')"
    )
    shipped = plain(survey)
    for rows in shipped.values():
        for _label, answers in rows:
            for own in (DOG, FENCE, METER):
                answers.pop(own.name, None)
    assert shipped == plain(full_survey())


def test_the_form_written_again_from_it_has_the_question_and_every_answer(tmp_path):
    before, _ = opened(tmp_path, filled_form())

    cells = []

    def answer(book):
        piers = book["Piers"]
        cell = piers.cell(8, column_of(piers, "distance_to_fence"))
        cell.value = "3 ft 6 in"
        cells.append(cell.coordinate)

    after, problems = opened(tmp_path, edited(written(OWN, before), answer))
    assert problems == ()
    fence = after.piers[2].answers["distance to fence"]
    assert (fence.value, fence.where) == (42, f"Piers!{cells[0]}")
    expected = plain(before)
    expected["pier"][2][1]["distance to fence"] = 42
    assert plain(after) == expected


def test_what_was_written_where_the_question_would_stand_is_not_taken_for_an_answer(tmp_path):
    def write(book):
        piers = book["Piers"]
        column = piers.max_column + 1
        piers.cell(1, column).value, piers.cell(8, column).value = "Distance to fence", "3 ft"

    survey, problems = opened(tmp_path, edited(filled_form(), write))
    assert survey.piers[2].value("distance to fence") is NOT_KNOWN
    assert [problem.read for problem in problems] == ["Distance to fence", "3 ft"]


def test_a_shipped_question_that_is_gone_is_not_known_as_an_own_one_is(tmp_path, own_form):
    def remove(book):
        piers, kit = book["Piers"], book["Kit"]
        piers["A6"] = "P1"
        for key in ("pit_depth", "distance_to_fence"):
            column = column_of(piers, key)
            for row in (2, 5):  # heading and key
                piers.cell(row, column).value = None
        kit.delete_rows(row_of(kit, "dog_loose_on_site"))

    survey, _problems = opened(tmp_path, edited(own_form, remove))
    for name in ("pit depth", "distance to fence"):
        lacking = Answer(NOT_KNOWN, f"Piers!row 6 (no '{name}')")
        assert survey.piers[0].answers[name] == lacking
    assert survey.site.answers["dog loose on site"].where.startswith("Kit!(no ")


def test_json_made_before_lacks_the_answer_and_says_where_it_would_stand():
    document = json.dumps({"pier_survey": 1, "site": {}, "piers": [{"label": "P1"}]})
    survey, problems = read_survey(read_document(document, "job.json", OWN), OWN)
    assert problems == ()
    assert survey.site.answers["dog loose on site"] == Answer(NOT_KNOWN, "site.dog_loose_on_site")
    fence = survey.piers[0].answers["distance to fence"]
    assert fence == Answer(NOT_KNOWN, "piers[1].distance_to_fence")


def test_many_rows_without_a_column_are_told_in_few_words():
    places = [f"Piers!row {n} (no 'dog')" for n in range(5, 35)]
    assert in_cells(["Piers!F7", *places, "Site!(no 'cat')"]) == (
        "Piers F7, row 5 to row 34 (no 'dog'); Site (no 'cat')"
    )


# On the sheets

RULES = """
topic Fences

question distance to fence
  for     each pier
  kind    length
  unit    ft
  prompt  How far is the nearest fence?
  help    Measure it.

rule OWN-1 pit too near a fence
  for   each pier
  when  distance to fence is less than 2 ft
  then  condition
  say   A fence stands {distance to fence} from pit {pier}.
  do    Take it down.
  who   crew
  from  common practice
  release competent person
  case  distance to fence 1 ft gives condition
  case  distance to fence 2 ft gives nothing
  case  distance to fence not known gives ask
"""


def test_sheets_and_record_ask_and_show_own_answers_as_any_other():
    book = read_book({}, {"own.rules": RULES})

    def judged(**fence):
        site = {"pier_survey": 1, "site": {}, "piers": [{"label": "P1", **fence}]}
        raw = read_document(json.dumps(site), "job.json", book.vocabulary)
        return assess(*read_survey(raw, book.vocabulary), book)

    still_open, answered = judged(), judged(distance_to_fence="1 ft 6 in")
    (asked,) = [a for a in group_questions(still_open) if a.prompt.startswith("How far")]
    assert (asked.subject, asked.who, asked.help, asked.cells, asked.decides) == (
        Subject.PIER, "surveyor", "Measure it.", "piers[1].distance_to_fence", ("OWN-1",),
    )  # fmt: skip
    assert "P1: How far is the nearest fence?" in summary(still_open)
    assert record(answered)["answers"]["distance to fence of P1"]["answer"] == "1 ft 6 in"
    page = re.sub("<[^>]*>", "", render(answered))
    found = "distance to fence is less than 2 ft: distance to fence: 1 ft 6 in"
    assert f"P1{found} piers[1].distance_to_fence" in page


# A survey whose questions the rules at hand do not ask

PERHAPS = (
    "A key that no question has may be that of a question in a firm's own rules: give them with "
    "'--rules'."
)


def test_what_is_answered_to_own_questions_is_told_without_the_rules_that_ask_them(
    tmp_path, own_form
):
    # Even where they are blank: without its rules the site would be judged, and nobody told.
    _survey, problems = opened(tmp_path, own_form, VOCABULARY)
    assert [problem.where[:5] for problem in problems] == ["Kit!B", "Piers", "Utili"]

    def answer(book):
        kit, piers = book["Kit"], book["Piers"]
        kit.cell(row_of(kit, "dog_loose_on_site"), 2).value = "yes"
        piers["A6"] = "P1"
        piers.cell(6, column_of(piers, "distance_to_fence")).value = "3 ft"

    _survey, problems = opened(tmp_path, edited(own_form, answer), VOCABULARY)
    dog, fence = sorted((p for p in problems if p.read in ("yes", "3 ft")), key=lambda p: p.where)
    assert (dog.where[:5], dog.read) == ("Kit!B", "yes")
    assert (fence.where[:7], fence.read) == ("Piers!A", "3 ft")
    assert "no question has the key 'dog_loose_on_site'" in dog.expected
    assert all(problem.expected.endswith(PERHAPS) for problem in problems)


def test_a_form_that_lacks_a_sheet_is_not_blamed_on_rules(tmp_path):
    def remove(book):
        del book["Soil"]

    path = tmp_path / "survey.xlsx"
    path.write_bytes(edited(filled_form(), remove))
    raw = open_survey(path)
    assert "Soil" in " ".join(raw.notes)
    assert "--rules" not in " ".join((*raw.notes, *map(str, raw.stray)))


def test_json_with_own_questions_is_refused_without_the_rules_that_ask_them():
    document = json.dumps({"pier_survey": 1, "site": {"dog_loose_on_site": "yes"}})
    *faults, last = refusal(read_document, document, "job.json").splitlines()
    assert faults == ["job.json: site: no question of a site has the key 'dog_loose_on_site'"]
    assert last.endswith(PERHAPS)


# JSON


def test_the_schema_has_own_questions_and_a_written_document_follows_it():
    site = {w.name: Answer("yes" if w == DOG else NOT_KNOWN, "") for w in OWN.words}
    document = json.loads(
        write_document(Survey("s", Row(Subject.SITE, "site", site, ""), vocabulary=OWN))
    )
    assert document["site"]["dog_loose_on_site"] == "yes"
    jsonschema.validate(document, json_schema(OWN))
    with pytest.raises(jsonschema.ValidationError, match="dog_loose_on_site"):
        jsonschema.validate(document, json_schema())
    described = json_schema(OWN)["properties"]["site"]["properties"]["dog_loose_on_site"]
    assert described["description"] == DOG.prompt
    assert list(json_schema(OWN)["properties"]["site"]["properties"])[-1] == DOG.key


def test_json_may_answer_more_than_a_hundred_questions_about_the_site():
    many = VOCABULARY.extended(word(f"own {n}", Subject.SITE, Kind.DATE) for n in range(200))
    document = {"pier_survey": 1, "site": {f"own_{n}": "2026-04-03" for n in range(200)}}
    survey, problems = read_survey(read_document(json.dumps(document), "s.json", many), many)
    assert problems == ()
    assert {survey.site.value(f"own {n}") for n in range(200)} == {dt.date(2026, 4, 3)}


# Choices that no cell can give


@pytest.mark.parametrize(
    ("choices", "unreadable"),
    [
        (("none", "small", "large"), ()),
        (ODD_CHOICES, ()),
        (("none", "Unknown", "n/a", "?", "#N/A"), ("Unknown", "n/a", "?", "#N/A")),
        (("½ in", "1/2 in"), ("½ in",)),
        (("Small", "small"), ()),
    ],
)
def test_choices_that_no_cell_can_give(choices, unreadable):
    assert unreadable_choices(word("own", kind=Kind.CHOICE, choices=choices)) == unreadable


def test_a_choice_that_differs_from_another_in_capitals_alone_is_not_guessed_at():
    sizes = word("own", Subject.SITE, Kind.CHOICE, choices=("Small", "small", "Large"))
    vocabulary = VOCABULARY.extended([sizes])

    def read(cell):
        raw = RawSurvey("s", RawRow("Site", "site", {"own": (cell, "Site!B9")}))
        survey, problems = read_survey(raw, vocabulary)
        return survey.site.value("own"), len(problems)

    assert [read(cell) for cell in ("Small", "small", "SMALL", "LARGE")] == [
        ("Small", 0), ("small", 0), (NOT_KNOWN, 1), ("Large", 0),
    ]  # fmt: skip


def test_every_subject_with_a_sheet_was_tried():
    for subject in SUBJECTS:
        own = {w.kind for w in EVERY.asked_of(subject) if w.name not in VOCABULARY}
        assert own == set(Kind) - set(NOT_ASKED)
