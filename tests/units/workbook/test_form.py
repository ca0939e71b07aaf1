"""The blank form asks every question, in plain words, and can be filled without a mouse trap."""

import datetime as dt
import io
import tempfile
import zipfile

import openpyxl
import pytest
from openpyxl.utils import range_boundaries

from survey.errors import UserError
from survey.model import LISTS, Answer, Row, Survey
from survey.vocabulary import MEASURES, VOCABULARY, Kind, Subject
from survey.workbook import _texts as texts
from survey.workbook import write_form
from survey.workbook._layout import BLANK_ROWS, SHEETS, asked, column_name
from tests.forms import blank_form, column_of, full_survey, row_of

WORDS = [word for word in VOCABULARY.words if word.asked]
FIRST, LAST = 5, 4 + BLANK_ROWS


@pytest.fixture(scope="module")
def book():
    return openpyxl.load_workbook(io.BytesIO(blank_form()))


def place(book, word):
    """Sheet, answer cells, unit and help of a word."""
    sheet = book[SHEETS[word.subject]]
    if word.subject is Subject.SITE:
        row = row_of(sheet, word.key)
        return sheet, [sheet.cell(row, 2)], sheet.cell(row, 3).value, sheet.cell(row, 4).value
    column = column_of(sheet, word.key)
    cells = [sheet.cell(row, column) for row in range(FIRST, LAST + 1)]
    return sheet, cells, sheet.cell(2, column).value, sheet.cell(3, column).value


def guide(sheet, cell):
    (rule,) = [r for r in sheet.data_validations.dataValidation if cell.coordinate in r.sqref]
    return rule


def offered(book, rule):
    name, cells = rule.formula1.split("!")
    left, top, right, bottom = range_boundaries(cells)
    return [
        book[name].cell(row, column).value
        for column in range(left, right + 1)
        for row in range(top, bottom + 1)
    ]


def test_the_sheets_stand_in_the_order_of_the_work(book):
    assert book.sheetnames == [
        "Start", "Site", "Walls", "Piers", "Utilities", "Neighbours", "Soil", "Releases",
        "Choices", "Lists",
    ]  # fmt: skip
    assert [s.title for s in book if s.sheet_state == "hidden"] == ["Lists"]


@pytest.mark.parametrize("word", WORDS, ids=lambda word: word.key)
def test_every_question_has_its_place_with_unit_and_help(book, word):
    sheet, cells, unit, help_text = place(book, word)
    assert unit
    message = guide(sheet, cells[-1])
    if word.subject is Subject.SITE:
        assert sheet.cell(cells[0].row, 1).value == word.prompt
        whole_help = f"{word.prompt} {help_text}"
    else:
        assert sheet.cell(1, cells[0].column).value.lower() == word.name.lower()
        assert help_text == word.prompt
        whole_help = message.prompt
    if word.kind in MEASURES and word.unit:
        assert unit.startswith(word.unit)
    for shown in (whole_help, message.prompt):
        assert word.prompt in shown
        assert word.help in shown
        if word.asks_when is not None:
            asked_as = texts.asked_as(VOCABULARY[word.asks_when.word])
            assert f"Only if '{asked_as}' is " in shown
            assert word.asks_when.choices[-1] in shown
    for cell in cells:
        assert cell.value is None
        assert not cell.protection.locked
        assert (cell.number_format == "yyyy-mm-dd") == (word.kind is Kind.DATE)
    assert message.showInputMessage
    assert message.prompt.startswith(word.prompt)
    assert len(message.prompt) <= 255
    assert len(message.promptTitle) <= 32


@pytest.mark.parametrize("word", [w for w in WORDS if w.choices], ids=lambda word: word.key)
def test_every_list_that_drops_down_has_each_choice_and_not_known(book, word):
    sheet, cells, _unit, _help = place(book, word)
    states = ["not known"] if word.asks_when is None else ["not known", "does not apply"]
    for cell in (cells[0], cells[-1]):
        assert guide(sheet, cell).type == "list"
        assert offered(book, guide(sheet, cell)) == [*word.choices, *states]


@pytest.mark.parametrize(
    "word", [w for w in WORDS if w.kind is Kind.REFERENCE], ids=lambda word: word.key
)
def test_a_wall_is_named_from_the_labels_of_the_walls_sheet(word):
    book = openpyxl.load_workbook(io.BytesIO(blank_form()))
    for number in range(BLANK_ROWS):
        book["Walls"].cell(FIRST + number, 1, f"W{number}")
    sheet, cells, _unit, _help = place(book, word)
    rule = guide(sheet, cells[-1])
    assert rule.errorStyle == "warning"
    labels = [label for label in offered(book, rule) if label is not None]
    assert labels == [f"W{number}" for number in range(BLANK_ROWS)]


@pytest.mark.parametrize(
    "word", [w for w in WORDS if not w.choices and w.kind is not Kind.REFERENCE],
    ids=lambda word: word.key,
)  # fmt: skip
def test_figures_dates_and_texts_may_be_written_in_any_way(book, word):
    sheet, cells, _unit, _help = place(book, word)
    rule = guide(sheet, cells[0])
    assert rule.type in (None, "none")
    assert not rule.showErrorMessage


@pytest.mark.parametrize("subject", SHEETS, ids=lambda subject: subject.value)
def test_each_sheet_prints_whole_and_is_locked_but_for_its_answers(book, subject):
    sheet = book[SHEETS[subject]]
    assert sheet.protection.sheet
    assert sheet.protection.password is None
    assert sheet.freeze_panes == ("A3" if subject is Subject.SITE else "B5")
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.page_setup.fitToWidth in (1, 2, 3, 4)
    assert sheet.page_setup.fitToHeight == 0
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.print_title_rows == ("$1:$1" if subject is Subject.SITE else "$1:$3")
    widest = {Subject.SITE: 4}.get(subject, len(asked(VOCABULARY, subject)) + 1)
    for column in range(1, widest + 1):
        head = sheet.cell(1, column)
        assert head.protection.locked
        assert head.alignment.wrap_text
        assert sheet.column_dimensions[column_name(column - 1)].width >= 13


@pytest.mark.parametrize("subject", LISTS, ids=lambda subject: subject.value)
def test_the_frozen_head_leaves_rows_in_sight_on_a_small_screen(book, subject):
    sheet = book[SHEETS[subject]]
    usual = sheet.sheet_format.defaultRowHeight
    heights = [sheet.row_dimensions[row].height for row in (1, 2, 3)]
    assert sum(usual if height is None else height for height in heights) <= 120
    assert sheet.row_dimensions[4].hidden


def test_remarks_have_room_to_write(book):
    site = book["Site"]
    heights = {
        key: site.row_dimensions[row_of(site, key)].height for key in ("remarks", "job_name")
    }
    assert heights["remarks"] >= 5 * heights["job_name"]


def test_a_printed_form_has_every_choice_on_one_sheet(book):
    sheet = book["Choices"]
    rows = list(sheet.iter_rows(min_row=4, values_only=True))
    wanted = [word for word in WORDS if word.kind is Kind.CHOICE]
    assert [(row[0], row[2].split("\n")) for row in rows] == [
        (SHEETS[word.subject], list(word.choices)) for word in wanted
    ]
    for word, row in zip(wanted, rows, strict=True):
        assert texts.asked_as(word) in row[1]
        assert word.prompt in row[1]
        assert word.help in (row[3] or "")
    for number, word in enumerate(wanted, start=4):
        assert sheet.row_dimensions[number].height >= 13 * len(word.choices)
    assert sheet.protection.sheet
    assert sheet.page_setup.fitToWidth == 1
    assert sheet.print_title_rows == "$3:$3"


def test_keys_and_lists_are_out_of_sight(book):
    for subject in LISTS:
        assert book[SHEETS[subject]].row_dimensions[4].hidden
    assert book["Site"].row_dimensions[2].hidden
    assert book["Site"].column_dimensions["E"].hidden
    start = book["Start"]
    assert start.row_dimensions[row_of(start, "pier_survey_form")].hidden


def test_the_start_sheet_says_what_blank_and_does_not_apply_mean(book):
    lines = {row[0].value: row[1].value for row in book["Start"].iter_rows(min_row=4)}
    assert lines["blank"].startswith("Not known.")
    assert "never taken as no, none or zero" in lines["blank"]
    assert lines["does not apply"].startswith("The question does not come up")
    assert lines["Version"] == "Form version 1"
    assert {"1", "2", "3"} <= set(lines)


def test_the_file_tells_nothing_of_who_made_it_and_where(book):
    told = {key: value for key, value in vars(book.properties).items() if value is not None}
    assert set(told) == {"creator", "lastModifiedBy", "title", "created", "modified"}
    assert told["creator"] == told["lastModifiedBy"] == "pier-survey"
    with zipfile.ZipFile(io.BytesIO(blank_form())) as package:
        parts = b"".join(package.read(name) for name in package.namelist())
    assert tempfile.gettempdir().encode() not in parts


def test_a_file_that_exists_is_not_written_over(tmp_path):
    path = tmp_path / "job.xlsx"
    path.write_bytes(b"a filled survey")
    with pytest.raises(UserError) as caught:
        write_form(path)
    assert str(caught.value) == (
        f"{path}: this file exists already and is not written over. Give another name, or move "
        "the file away first."
    )
    assert path.read_bytes() == b"a filled survey"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("name", ["job.xls", "job.ods", "job.csv", "job", "job.xlsx.txt"])
def test_a_name_that_no_spreadsheet_program_would_open(tmp_path, name):
    with pytest.raises(UserError) as caught:
        write_form(tmp_path / name)
    assert str(caught.value) == (
        f"{tmp_path / name}: a form is a workbook, and no program would open it under this name. "
        "Give a name that ends in .xlsx."
    )
    assert list(tmp_path.iterdir()) == []


def test_capital_letters_in_the_ending(tmp_path):
    write_form(tmp_path / "JOB.XLSX")
    assert (tmp_path / "JOB.XLSX").exists()


def test_a_folder_that_does_not_exist(tmp_path):
    with pytest.raises(UserError, match=r"can't be written here \(No such file or directory\)"):
        write_form(tmp_path / "none" / "job.xlsx")


def test_a_form_that_breaks_off_leaves_nothing_behind(tmp_path, monkeypatch):
    def full_disk(self, path):
        path.write_bytes(b"half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(openpyxl.Workbook, "save", full_disk)
    with pytest.raises(UserError, match="No space left on device"):
        write_form(tmp_path / "job.xlsx")
    assert list(tmp_path.iterdir()) == []


def test_more_rows_than_a_sheet_holds(tmp_path):
    site = full_survey().site
    walls = tuple(Row(Subject.WALL, f"W{n}", {}, f"walls[{n}]") for n in range(201))
    with pytest.raises(UserError, match="has 201 rows for sheet 'Walls', which holds 200"):
        write_form(tmp_path / "job.xlsx", Survey("long", site, walls))


def test_filled_cells_are_what_a_person_would_have_written(tmp_path):
    survey = full_survey()
    row = survey.piers[0]
    answers = {
        **row.answers,
        "station": Answer(42.5, ""),
        "pit length": Answer(100 / 3, ""),
    }
    piers = (Row(row.subject, "=P1", answers, row.where),)
    write_form(tmp_path / "job.xlsx", Survey("job", survey.site, survey.walls, piers))
    book = openpyxl.load_workbook(tmp_path / "job.xlsx")
    sheet = book["Piers"]

    def cell(key):
        return sheet.cell(5, column_of(sheet, key))

    assert (cell("label").value, cell("label").data_type) == ("=P1", "s")
    assert cell("label").quotePrefix
    assert cell("station").value == "3 ft 6.5 in"
    assert cell("pit_length").value == "33.333333333333336 in"
    assert cell("slope_of_sides").value == "does not apply"
    site = book["Site"]
    day = site.cell(row_of(site, "crew_date"), 2)
    assert (day.value.date(), day.number_format) == (dt.date(2026, 4, 3), "yyyy-mm-dd")
    walls = book["Walls"]
    assert walls.cell(5, column_of(walls, "storeys")).value == 3
