"""Forms that were moved about, cut, renamed, merged, shortened or made earlier still read."""

import datetime as dt
import io
import re
from collections import Counter

import openpyxl
import pytest
from openpyxl.comments import Comment

from survey.answers import read_survey
from survey.assessment import Verdict, assess
from survey.errors import Problem, UnreadableSurveyError
from survey.rulebook.book import load_book
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Missing, Subject, Units
from survey.vocabulary.walk import PAGES, questions
from survey.workbook import open_survey, write_form
from survey.workbook.layout import ANSWER_KEY, QUESTION_KEY
from survey.workbook.marks import AUTHOR, mark
from tests.demo_surveys import careful_house, survey_of
from tests.forms import (
    as_ods,
    blank_form,
    column_of,
    edited,
    filled_form,
    full_survey,
    part_of,
    row_of,
    site_answer,
    with_part,
)
from tests.strategies import plain

KEYS, FIRST = 5, 6  # the row of keys of a list, and the first row of answers
HEADING = 2
SITE_PAGES = [page.sheet for page in PAGES if page.subject is Subject.SITE]
LISTS = [page.sheet for page in PAGES if page.subject is not Subject.SITE]
AS_SAVED = pytest.mark.parametrize("saved", [bytes, as_ods], ids=["xlsx", "ods"])


def opened(folder, content, name="survey.xlsx"):
    path = folder / name
    path.write_bytes(content)
    return open_survey(path)


def same_answers(folder, content):
    """The raw survey, which must give the answers of the filled form without a problem."""
    raw = opened(folder, content)
    survey, problems = read_survey(raw)
    assert problems == ()
    assert plain(survey) == plain(full_survey())
    return raw


def refusal(folder, content):
    with pytest.raises(UnreadableSurveyError) as caught:
        opened(folder, content)
    return str(caught.value)


def problems_of(folder, content):
    return read_survey(opened(folder, content))[1]


# Keys and headings


@AS_SAVED
@pytest.mark.parametrize("cut", ["cleared", "deleted"])
def test_lists_without_their_row_of_keys_are_read_by_their_headings(tmp_path, cut, saved):
    def spoil(book):
        for sheet in LISTS:
            if cut == "deleted":
                book[sheet].delete_rows(KEYS)
            else:
                for cell in book[sheet][KEYS]:
                    cell.value = None

    assert same_answers(tmp_path, saved(edited(filled_form(), spoil))).notes == ()


def test_a_key_that_was_cut_is_made_up_for_by_the_heading_however_it_is_written(tmp_path):
    def spoil(book):
        piers = book["Piers"]
        for key in ("pit_depth", "label", "headroom_at_pier"):
            piers.cell(KEYS, column_of(piers, key)).value = None
        piers["A2"] = " PIER "
        walls = book["Walls"]
        walls.cell(KEYS, column_of(walls, "wall_length")).value = "wall_lenght"

    same_answers(tmp_path, edited(filled_form(), spoil))


def test_headings_may_be_renamed_and_moved_while_the_keys_are_there(tmp_path):
    def spoil(book):
        for sheet in LISTS:
            for cell in book[sheet][HEADING]:
                cell.value = f"Ours {cell.column}"

    same_answers(tmp_path, edited(filled_form(), spoil))


@pytest.mark.parametrize("cut", ["keys", "marks", "both"])
def test_questions_about_the_site_without_keys_are_read_by_their_own_words(tmp_path, cut):
    def spoil(book):
        for sheet in SITE_PAGES:
            marks = row_of(book[sheet], QUESTION_KEY)
            column = column_of(book[sheet], QUESTION_KEY)
            if cut != "marks":
                book[sheet].delete_cols(column)
            if cut != "keys":
                book[sheet].delete_rows(marks)

    survey, problems = read_survey(opened(tmp_path, edited(filled_form(), spoil)))
    prompts = Counter(word.prompt for word in VOCABULARY.asked_of(Subject.SITE))
    for word in VOCABULARY.asked_of(Subject.SITE):
        full = full_survey().site.value(word.name)
        if prompts[word.prompt] > 1 and cut != "marks":  # which of the two is asked?
            assert isinstance(survey.site.value(word.name), Missing), word.name
        else:
            assert survey.site.value(word.name) == full, word.name
    assert {problem.where.split("!")[0] for problem in problems} <= {"Kit"}


def test_a_heading_that_says_another_thing_than_its_key_is_a_problem_and_no_answer(tmp_path):
    def swap(book):
        piers = book["Piers"]
        depth, width = column_of(piers, "pit_depth"), column_of(piers, "pit_width")
        one, other = piers.cell(HEADING, depth), piers.cell(HEADING, width)
        one.value, other.value = other.value, one.value

    survey, problems = read_survey(opened(tmp_path, edited(filled_form(), swap)))
    assert len(problems) == 2 * len(full_survey().piers)  # each answer, for none may be lost
    depths = [problem for problem in problems if "says 'pit depth'" in problem.expected]
    assert all("under the heading 'Pit width'" in problem.expected for problem in depths)
    book = openpyxl.load_workbook(io.BytesIO(filled_form()))
    column = column_of(book["Piers"], "pit_depth")
    written = [book["Piers"].cell(FIRST + n, column) for n in range(len(full_survey().piers))]
    assert [(problem.where, problem.read) for problem in depths] == [
        (f"Piers!{cell.coordinate}", str(cell.value)) for cell in written
    ]
    for name in ("pit depth", "pit width"):
        assert {pier.value(name) for pier in survey.piers} == {NOT_KNOWN}
    assert opened(tmp_path, edited(blank_form(), swap)).stray == ()


def test_a_column_that_is_there_twice_is_read_where_only_one_has_anything(tmp_path):
    def copy(book):
        piers = book["Piers"]
        piers.insert_cols(3)
        for row in range(1, KEYS + 1):
            piers.cell(row, 3).value = piers.cell(row, column_of(piers, "station")).value

    same_answers(tmp_path, edited(filled_form(), copy))

    def fill_both(book):
        copy(book)
        book["Piers"].cell(FIRST, 3).value = "4 ft"

    assert "the column of 'station' is there twice" in refusal(
        tmp_path, edited(filled_form(), fill_both)
    )


def test_a_question_of_the_site_that_is_there_twice_is_read_where_only_one_is_answered(tmp_path):
    def copy(book, answer=None):
        plan, kit = book["Plan"], book["Kit"]
        row = plan.max_row + 1
        for column in range(1, 6):
            plan.cell(row, column).value = kit.cell(row_of(kit, "drive_stand_height"), column).value
        plan.cell(row, 2).value = answer

    same_answers(tmp_path, edited(filled_form(), copy))
    message = refusal(tmp_path, edited(filled_form(), lambda book: copy(book, "3 ft")))
    assert message.count("the question 'drive stand height' (key 'drive_stand_height')") == 2


@pytest.mark.parametrize("version", [1, 2])
def test_a_key_that_no_question_has_is_a_problem_even_where_it_is_blank(tmp_path, version):
    """A firm's own question, without whose rules the site would be judged."""

    def add(book, *answers):
        start = book["Start"]
        start.cell(row_of(start, "pier_survey_form"), 2).value = version
        piers, kit = book["Piers"], book["Kit"]
        column, row = piers.max_column + 1, kit.max_row + 1
        piers.cell(HEADING, column).value = "Colour of the pit"
        piers.cell(KEYS, column).value = "pit_depht"
        kit.cell(row, 1).value, kit.cell(row, 5).value = "What colour is it?", "colour"
        for number, answer in enumerate(answers):
            piers.cell(FIRST + number, column).value = answer
            kit.cell(row, 2).value = answer

    assert len(problems_of(tmp_path, edited(filled_form(), add))) == 2
    kit, *both = problems_of(tmp_path, edited(filled_form(), lambda book: add(book, "red", "blue")))
    assert (kit.read, *(problem.read for problem in both)) == ("blue", "red", "blue")
    piers = both[0]
    assert "no question has the key 'colour'" in kit.expected
    assert "no question has the key 'pit_depht' (did you mean 'pit_depth'?)" in piers.expected
    assert "'--rules'" in piers.expected


def copy_column(book, heading):
    """Copy the column of a question with all that stands above it; gives the copy."""
    piers = book["Piers"]
    source, copy = column_of(piers, "pit_width"), piers.max_column + 1
    for row in range(1, KEYS + 1):
        piers.cell(row, copy).value = piers.cell(row, source).value
    piers.cell(HEADING, copy).value = heading
    return source, copy


@pytest.mark.parametrize("heading", ["My guess", None, "Pit depth"])
@pytest.mark.parametrize("real", ["filled", "blank"])
def test_a_copied_column_under_another_heading_is_no_answer(tmp_path, heading, real):
    def spoil(book):
        source, copy = copy_column(book, heading)
        book["Piers"].cell(FIRST, copy).value = "3 ft"
        if real == "blank":
            for row in range(FIRST, FIRST + 30):
                book["Piers"].cell(row, source).value = None

    survey, (problem,) = read_survey(opened(tmp_path, edited(filled_form(), spoil)))
    assert problem.read == "3 ft"
    assert "the hidden key of this column says 'pit width'" in problem.expected
    full = full_survey().piers[0].value("pit width")
    assert survey.piers[0].value("pit width") == (full if real == "filled" else NOT_KNOWN)


# Rows above the hidden keys


@AS_SAVED
@pytest.mark.parametrize("keys", ["kept", "deleted"])
@pytest.mark.parametrize("version", [1, 2])
def test_rows_that_stand_above_the_hidden_keys_are_rows(tmp_path, saved, keys, version):
    """Inserted below the row of help, or sorted together with the hidden row."""

    def lift(book):
        for page in PAGES:
            if page.subject is Subject.SITE:
                continue
            sheet = book[page.sheet]
            row = row_of(sheet, questions(page, VOCABULARY)[0].key)
            hidden = [cell.value for cell in sheet[row]]
            sheet.delete_rows(row)
            if keys == "kept":
                sheet.insert_rows(row + 2)
                for column, key in enumerate(hidden, start=1):
                    sheet.cell(row + 2, column).value = key

    content = filled_form() if version == 2 else version_one(filled_form())
    same_answers(tmp_path, saved(edited(content, lift)))


@pytest.mark.parametrize("above", [3, 4, 5])
def test_a_row_between_the_rows_of_the_head_is_a_row(tmp_path, above):
    def insert(book):
        piers = book["Piers"]
        piers.insert_rows(above)
        for column, cell in enumerate(piers[FIRST + 1], start=1):
            piers.cell(above, column).value = cell.value
        piers.delete_rows(FIRST + 1)

    raw = same_answers(tmp_path, edited(filled_form(), insert))
    assert raw.lists[Subject.PIER][0].where == f"Piers!row {above}"


# What a row about the site shows, and what its key says

DANGER, OTHER = "gas_odour", "ground_vibrated"


def site_rows(book):
    sheet = book["Site"]
    return sheet, row_of(sheet, DANGER), row_of(sheet, OTHER)


def swap_rows(book):
    sheet, one, other = site_rows(book)
    for column in range(1, 5):
        first, second = sheet.cell(one, column), sheet.cell(other, column)
        first.value, second.value = second.value, first.value


def paste_key(book):
    sheet, one, other = site_rows(book)
    sheet.cell(one, 2).value = None
    sheet.cell(other, 5).value = sheet.cell(one, 5).value


def copy_row(book):
    sheet, one, _other = site_rows(book)
    new = sheet.max_row + 1
    for column in range(1, 6):
        sheet.cell(new, column).value = sheet.cell(one, column).value
    sheet.cell(new, 1).value = "Did the owner ever smell gas?"
    sheet.cell(new, 2).value, sheet.cell(one, 2).value = "no", None


def shift_up(book):
    sheet, one, other = site_rows(book)
    for row in range(min(one, other), sheet.max_row):
        for column in range(1, 5):
            sheet.cell(row, column).value = sheet.cell(row + 1, column).value


def reword_and_ask_elsewhere(book):
    sheet, one, other = site_rows(book)
    sheet.cell(other, 1).value = sheet.cell(one, 1).value
    sheet.cell(one, 1).value = "Smell of petrol?"


@AS_SAVED
@pytest.mark.parametrize(
    "spoil", [swap_rows, paste_key, copy_row, shift_up, reword_and_ask_elsewhere]
)
def test_an_answer_beside_another_question_than_its_key_says_is_not_known(tmp_path, spoil, saved):
    survey, problems = read_survey(opened(tmp_path, saved(edited(filled_form(), spoil))))
    assert survey.site.value("gas odour") is NOT_KNOWN
    assert any("by its hidden key this row asks 'gas odour'" in p.expected for p in problems)
    assert survey.site.value("ground vibrated") in (
        NOT_KNOWN, full_survey().site.value("ground vibrated"),
    )  # fmt: skip


def test_a_question_about_the_site_may_be_put_in_other_words(tmp_path):
    def reword(book):
        for sheet in SITE_PAGES:
            for row in range(3, book[sheet].max_row + 1):
                book[sheet].cell(row, 1).value = f"Ours {row}"

    same_answers(tmp_path, edited(filled_form(), reword))


# Sheets


@AS_SAVED
@pytest.mark.parametrize("sheet", ["Start", "Office", "Kit", "Piers", "Photos", "Releases"])
def test_a_renamed_sheet_is_found_by_its_keys(tmp_path, sheet, saved):
    def rename(book):
        book[sheet].title = "My own name"

    raw = same_answers(tmp_path, saved(edited(filled_form(), rename)))
    if sheet == "Piers":
        assert {row.where.split("!")[0] for row in raw.lists[Subject.PIER]} == {"My own name"}


def test_two_sheets_with_the_keys_of_one_that_is_missing_are_refused(tmp_path):
    def copy(book):
        book["Piers"].title = "One"
        book.copy_worksheet(book["One"]).title = "Other"

    message = refusal(tmp_path, edited(filled_form(), copy))
    assert "there are two sheets 'Piers': 'One' and 'Other'" in message


def test_without_the_sheet_of_piers_a_site_that_was_good_to_go_is_held(tmp_path):
    path = tmp_path / "good.xlsx"
    write_form(path, survey_of(careful_house(), "good"))
    content = path.read_bytes()
    book = load_book()
    survey, problems = read_survey(opened(tmp_path, content))
    before = assess(survey, problems, book).verdict
    assert before in (Verdict.GO, Verdict.GO_WITH_CONDITIONS)

    raw = opened(tmp_path, edited(content, lambda form: form.remove(form["Piers"])))
    survey, problems = read_survey(raw)
    assert survey.piers == ()
    assert problems == ()
    (note,) = raw.notes
    assert f"Piers {len(VOCABULARY.asked_of(Subject.PIER))} (no such sheet)" in note
    assert assess(survey, problems, book).verdict is Verdict.HOLD


@pytest.mark.parametrize(
    ("sheet", "closing"),
    [("Utilities", "all_utilities_listed"), ("Neighbours", "all_neighbours_listed"),
     ("Soil", "all_soil_layers_listed")],
)  # fmt: skip
def test_a_list_whose_sheet_is_gone_is_never_complete(tmp_path, sheet, closing):
    def remove(book):
        site_answer(book, closing).value = "yes"
        del book[sheet]

    survey, problems = read_survey(opened(tmp_path, edited(blank_form(), remove)))
    (problem,) = problems
    assert problem.read == "yes"
    assert f"the sheet '{sheet}', which is not in this file" in problem.expected
    assert survey.site.value(closing.replace("_", " ")) is NOT_KNOWN


@AS_SAVED
def test_the_sheets_that_hold_no_answers_are_not_read(tmp_path, saved):
    def draw(book):
        for sheet in ("Sketch", "Lists", "Checks"):
            book[sheet]["Z9"] = "manhole"

    assert same_answers(tmp_path, saved(edited(filled_form(), draw))).notes == ()


@AS_SAVED
def test_a_note_on_the_sheet_of_choices_is_a_problem(tmp_path, saved):
    def beside(book):
        book["Choices"]["G20"] = "gas line"

    (problem,) = problems_of(tmp_path, saved(edited(filled_form(), beside)))
    assert (problem.where, problem.read) == ("Choices!G20", "gas line")


def test_what_was_not_read_before_is_told_again(tmp_path):
    stray = (
        Problem("Piers!DF6", "ring the owner", "nothing outside the questions of the form"),
        Problem("Old notes!A1", "gas main", "no sheet of this name"),
    )
    path = tmp_path / "again.xlsx"
    write_form(path, full_survey(), stray=stray)

    def write(book):
        book["Not read"]["B9"] = "and the neighbour"
        book["Not read"]["F5"] = "soon"

    raw = opened(tmp_path, edited(path.read_bytes(), write))
    assert raw.stray[:2] == stray
    assert [(problem.where, problem.read) for problem in raw.stray[2:]] == [
        ("Not read!A9", "and the neighbour"),
        ("Not read!F5", "soon"),
    ]


# Earlier and shorter forms


def version_one(content):
    """The form as its first version was: one sheet about the site, no titles of blocks."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    site = book.create_sheet("Everything")
    for column, text in enumerate(("Question", "Answer", "Unit", "Help"), start=1):
        site.cell(1, column).value = text
    site.cell(2, 2).value, site.cell(2, 5).value = ANSWER_KEY, QUESTION_KEY
    for number, word in enumerate(VOCABULARY.asked_of(Subject.SITE), start=3):
        site.cell(number, 1).value, site.cell(number, 5).value = word.prompt, word.key
        answer = site.cell(number, 2)
        given = site_answer(book, word.key)
        answer.value, answer.number_format = given.value, given.number_format
    for name in (*SITE_PAGES, "Sketch", "Choices", "Lists", "Checks"):
        del book[name]
    site.title = "Site"
    for name in LISTS:
        book[name].delete_rows(1)
    start = book["Start"]
    start.cell(row_of(start, "pier_survey_form"), 2).value = 1
    start.delete_rows(row_of(start, "pier_survey_units"))
    return edited_bytes(book)


def edited_bytes(book):
    saved = io.BytesIO()
    book.save(saved)
    return saved.getvalue()


@AS_SAVED
def test_a_form_of_the_first_version_gives_the_same_answers(tmp_path, saved):
    raw = same_answers(tmp_path, saved(version_one(filled_form())))
    assert raw.notes == ()
    assert raw.units is Units.US_CUSTOMARY


def test_a_question_that_a_form_lacks_is_not_known_and_its_place_says_so(tmp_path):
    def cut(book):
        piers, kit = book["Piers"], book["Kit"]
        for key in ("pit_width", "station"):
            piers.delete_cols(column_of(piers, key))
        kit.delete_rows(row_of(kit, "drive_stand_height"))
        del book["Releases"]

    raw = opened(tmp_path, edited(filled_form(), cut))
    survey, problems = read_survey(raw)
    assert problems == ()
    asked_on_releases = len(VOCABULARY.asked_of(Subject.RELEASE))
    assert raw.notes == (
        f"This form does not ask {3 + asked_on_releases} of the questions, and what they ask is "
        f"not known: Piers 2, Kit 1, Releases {asked_on_releases} (no such sheet). 'form --from' "
        "writes its answers into a form that asks them.",
    )
    first = survey.piers[0].answers["pit width"]
    assert first.value is NOT_KNOWN
    assert first.where == ("Piers!row 6 (no 'pit width')")
    height = survey.site.answers["drive stand height"]
    assert height.value is NOT_KNOWN
    assert height.where == ("Kit!(no 'drive stand height')")
    known = [name for name in survey.piers[0].answers if name not in ("pit width", "station")]
    for pier, full in zip(survey.piers, full_survey().piers, strict=True):
        assert [pier.value(name) for name in known] == [full.value(name) for name in known]


def test_a_short_form_says_that_it_is_one(tmp_path):
    path = tmp_path / "short.xlsx"
    write_form(path, short=True)
    raw = open_survey(path)
    assert raw.stray == ()
    (note,) = raw.notes
    assert note.startswith("This is a short form: it does not ask ")


def test_the_units_of_a_form_are_read(tmp_path):
    path = tmp_path / "metric.xlsx"
    write_form(path, units=Units.METRIC)
    assert open_survey(path).units is Units.METRIC
    path.write_bytes(as_ods(path.read_bytes()))
    assert open_survey(path).units is Units.METRIC


@pytest.mark.parametrize("units", Units)
def test_a_column_or_row_from_a_form_in_other_units_is_not_read(tmp_path, units):
    (others,) = set(Units) - {units}
    forms = {}
    for each in Units:
        path = tmp_path / "form.xlsx"
        path.unlink(missing_ok=True)
        write_form(path, units=each)
        forms[each] = openpyxl.load_workbook(path)
    book, other = forms[units], forms[others]
    for sheet, key in (("Piers", "pit_depth"), ("Piers", "pit_width")):
        book[sheet].cell(FIRST, column_of(book[sheet], key)).value = "4 ft"
    column = column_of(book["Piers"], "pit_depth")
    book["Piers"].cell(3, column).value = other["Piers"].cell(3, column).value
    row = row_of(book["Kit"], "drive_stand_height")
    book["Kit"].cell(row, 2).value = 1.5
    book["Kit"].cell(row, 3).value = other["Kit"].cell(row, 3).value
    survey, problems = read_survey(opened(tmp_path, edited_bytes(book)))
    told = [problem for problem in problems if "as the unit" in problem.expected]
    assert [problem.where.split("!")[0] for problem in told] == ["Kit", "Piers"]
    assert all(f"asks in {units.value} units" in problem.expected for problem in told)
    assert survey.piers[0].value("pit depth") is NOT_KNOWN
    assert survey.site.value("drive stand height") is NOT_KNOWN
    assert survey.piers[0].value("pit width") is not NOT_KNOWN


# Formulas


@AS_SAVED
def test_a_formula_without_its_value_is_a_problem_wherever_it_stands(tmp_path, saved):
    def calculate(book):
        site_answer(book, "tolerance_zone").value = "=20+4"
        book["Piers"]["A6"] = '="P"&1'
        book["Piers"]["B6"] = "=Walls!A6"
        book["Piers"]["CZ6"] = "=1+1"

    survey, problems = read_survey(opened(tmp_path, saved(edited(blank_form(), calculate))))
    assert survey.site.value("tolerance zone") is NOT_KNOWN
    assert survey.piers[0].value("wall of pier") is NOT_KNOWN
    where = {problem.where for problem in problems if "formula" in problem.expected}
    zone = survey.site.answers["tolerance zone"].where
    assert where == {zone, "Piers!A6", "Piers!B6"}
    assert "Piers!CZ6" in {problem.where for problem in problems}


@AS_SAVED
def test_a_row_with_nothing_but_such_a_formula_is_a_row(tmp_path, saved):
    def calculate(book):
        book["Piers"]["D50"] = "=1+1"

    survey, problems = read_survey(opened(tmp_path, saved(edited(blank_form(), calculate))))
    assert [pier.where for pier in survey.piers] == ["Piers!row 50"]
    assert [problem.where for problem in problems if "formula" in problem.expected] == ["Piers!D50"]


@pytest.mark.parametrize("blank", [b"", b"<v/>", b"<v></v>", b"<v> </v>"])
@pytest.mark.parametrize("formula", [b"<f>1+1</f>", b'<f t="shared" si="0" ref="D50">1+1</f>'])
def test_however_its_missing_value_is_written(tmp_path, formula, blank):
    def calculate(book):
        book["Piers"]["D50"] = "=1+1"

    spoilt = with_part(
        edited(blank_form(), calculate),
        part_of("Piers"),
        lambda part: re.sub(rb"<f>1.1</f><v ?(?:/>|></v>)", formula + blank, part) + b" ",
    )
    _survey, problems = read_survey(opened(tmp_path, spoilt))
    assert [problem.where for problem in problems if "formula" in problem.expected] == ["Piers!D50"]


def test_a_formula_that_gives_an_empty_text_is_a_blank(tmp_path):
    def calculate(book):
        site_answer(book, "tolerance_zone").value = '=IF(1,"","x")'

    content = edited(blank_form(), calculate)
    kept = with_part(
        content,
        part_of("Office"),
        lambda part: re.sub(
            rb'<c (r="B\d+" s="\d+")[^<>]*>(<f>IF.*?</f>)<v ?(?:/>|></v>)',
            rb'<c \1 t="str">\2<v></v>',
            part,
        ),
    )
    survey, problems = read_survey(opened(tmp_path, kept))
    assert problems == ()
    assert survey.site.value("tolerance zone") is NOT_KNOWN


def test_the_kept_value_of_a_link_to_another_file_is_a_value(tmp_path):
    def link(book):
        site_answer(book, "tolerance_zone").value = "=[1]Sheet1!$A$1"

    kept = with_part(
        edited(blank_form(), link),
        part_of("Office"),
        lambda part: re.sub(rb"(</f>)<v ?(?:/>|></v>)", rb"\1<v>24</v>", part),
    )
    survey, problems = read_survey(opened(tmp_path, kept))
    assert problems == ()
    assert survey.site.value("tolerance zone") == 24


# Merged cells


def merged(*areas, sheet="Piers"):
    """The filled form with cells merged, as a spreadsheet program does: the first one stays."""

    def merge(book):
        for area in areas:
            book[sheet].merge_cells(area)

    return edited(filled_form(), merge)


@AS_SAVED
def test_an_answer_merged_over_several_rows_holds_for_each(tmp_path, saved):
    survey, problems = read_survey(opened(tmp_path, saved(merged("C6:C9", "D30:D90"))))
    assert problems == ()
    assert plain(survey) == plain(full_survey())


@AS_SAVED
@pytest.mark.parametrize(
    ("area", "read", "blank"),
    [
        ("C6:D7", "250 ft", [(0, 3), (0, 4), (1, 3), (1, 4)]),
        ("C5:C7", "station", [(0, 3), (1, 3)]),
    ],
)
def test_cells_merged_over_several_questions_are_a_problem(tmp_path, area, read, blank, saved):
    survey, problems = read_survey(opened(tmp_path, saved(merged(area))))
    told = [problem for problem in problems if "not merged" in problem.expected]
    assert [(problem.where, problem.read) for problem in told] == [
        (f"Piers!{area.split(':')[0]}", read)
    ]
    names = [word.name for word in questions(PAGES[3], VOCABULARY)]
    for pier, column in blank:
        assert survey.piers[pier].value(names[column - 2]) is NOT_KNOWN


@AS_SAVED
def test_labels_that_are_merged_are_a_problem(tmp_path, saved):
    problems = problems_of(tmp_path, saved(merged("A6:A8")))
    assert problems[0].where == "Piers!A6"
    assert "not merged" in problems[0].expected


@AS_SAVED
def test_answers_about_the_site_that_are_merged_are_a_problem(tmp_path, saved):
    survey, problems = read_survey(opened(tmp_path, saved(merged("B4:B6", sheet="Office"))))
    assert [problem.where for problem in problems] == ["Office!B4"]
    for word in questions(PAGES[0], VOCABULARY)[:3]:
        assert survey.site.value(word.name) is NOT_KNOWN


def test_an_answer_merged_with_blank_cells_beside_it_is_read(tmp_path):
    def merge(book):
        book["Office"]["C4"].value = None
        book["Office"].merge_cells("B4:C4")
        book["Start"].merge_cells("A1:D1")
        book["Piers"].merge_cells("B1:D1")

    survey, problems = read_survey(opened(tmp_path, edited(filled_form(), merge)))
    assert problems == ()
    assert plain(survey) == plain(full_survey())


def test_what_is_hidden_under_a_merged_cell_is_no_answer(tmp_path):
    """Some programs keep it; nobody sees it."""

    def hide(book):
        book["Piers"]["C7"] = "9 ft"

    content = edited(filled_form(), hide)
    hidden = with_part(
        content,
        part_of("Piers"),
        lambda part: re.sub(
            rb"</sheetData>(<mergeCells.*?</mergeCells>)?",
            b'</sheetData><mergeCells><mergeCell ref="C6:C8"/></mergeCells>',
            part,
        ),
    )
    survey, problems = read_survey(opened(tmp_path, hidden))
    assert [problem.where for problem in problems] == ["Piers!C6"]
    assert [pier.value("station") for pier in survey.piers[:3]] == [NOT_KNOWN] * 3


# Comments


@AS_SAVED
def test_our_own_marks_are_no_comments_of_a_person(tmp_path, saved):
    def comment(text, author=AUTHOR):
        def add(book):
            book["Piers"]["C7"].comment = Comment(mark("expected a length"), AUTHOR)
            book["Walls"]["C7"].comment = Comment(text, author)

        return saved(edited(filled_form(), add))

    for author in (AUTHOR, "me", ""):
        same_answers(tmp_path, comment(mark("expected a date"), author))
    for text in ("gas here", f"{AUTHOR}: gas here", f"{mark('expected a date')} gas here"):
        (problem,) = problems_of(tmp_path, comment(text))
        assert problem.where == "comments on cells"
        assert problem.read.endswith("gas here")


# Open document


def test_an_open_document_gives_the_same_answers(tmp_path):
    raw = same_answers(tmp_path, as_ods(filled_form()))
    assert raw.notes == ()
    assert raw.lists[Subject.PIER][0].where == "Piers!row 6"
    assert isinstance(raw.site.cells["survey date"][0], dt.date)


def with_cell(cell):
    """A blank form as an open document, with a cell instead of the job's name and of the depth."""

    def fill(book):
        for key in ("job_name", "test_hole_depth"):
            site_answer(book, key).value = "HERE"

    return with_part(
        as_ods(edited(blank_form(), fill)),
        "content.xml",
        lambda part: re.sub(
            rb"<table:table-cell[^<>]*><text:p>HERE</text:p></table:table-cell>",
            cell.encode(),
            part,
        ),
    )


CALC = 'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'


@pytest.mark.parametrize(
    ("shown", "read"), [("#DIV/0!", "#DIV/0!"), ("Err:508", "#VALUE!"), ("odd", "#VALUE!")]
)
def test_a_failed_formula_in_an_open_document_is_a_problem(tmp_path, shown, read):
    cell = (
        f'<table:table-cell {CALC} table:formula="of:=x" office:value-type="string" '
        f'office:string-value="" calcext:value-type="error"><text:p>{shown}</text:p>'
        "</table:table-cell>"
    )
    problems = problems_of(tmp_path, with_cell(cell))
    assert [problem.read for problem in problems] == [read, read]
    if shown.startswith("Err"):
        plainly = cell.replace('office:string-value="" calcext:value-type="error"', "")
        assert [problem.read for problem in problems_of(tmp_path, with_cell(plainly))] == [read] * 2


def test_the_text_of_a_cell_of_an_open_document(tmp_path):
    note = "<office:annotation><text:p>not this</text:p></office:annotation>"
    drawn = '<x:frame xmlns:x="x"><text:p>nor this</text:p></x:frame>'
    cell = (
        f'<table:table-cell office:value-type="string">{note}{drawn}<text:p>3<text:s text:c="2"/>'
        f"ft<text:tab/>6<text:span> in</text:span>{note}{drawn}</text:p></table:table-cell>"
    )
    survey, problems = read_survey(opened(tmp_path, with_cell(cell)))
    assert {problem.where for problem in problems} == {"comments on cells"}
    assert {problem.read for problem in problems} == {"not this"}
    assert survey.site.value("job name") == "3 ft 6 in"
    assert survey.site.value("test hole depth") == 42


@pytest.mark.parametrize(
    ("attributes", "value"),
    [
        ('office:value-type="float" office:value="4.5"', 4.5),
        ('office:value-type="boolean" office:boolean-value="true"', True),
        ('office:value-type="date" office:date-value="2026-04-03"', dt.date(2026, 4, 3)),
        (
            'office:value-type="date" office:date-value="2026-04-03T10:00:00"',
            dt.datetime.fromisoformat("2026-04-03T10:00:00"),
        ),
        ('office:value-type="date" office:date-value="no day"', "shown"),
        ('office:value-type="time" office:time-value="PT03H06M00S"', "shown"),
        ('office:value-type="string" office:string-value="kept"', "kept"),
        ('office:value-type="string"', "shown"),
        ("", "shown"),
    ],
)
def test_the_value_of_a_cell_of_an_open_document(tmp_path, attributes, value):
    cell = f"<table:table-cell {attributes}><text:p>shown</text:p></table:table-cell>"
    raw = opened(tmp_path, with_cell(cell))
    assert raw.site.cells["job name"][0] == value
