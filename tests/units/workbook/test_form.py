"""The blank form asks every question, in plain words, and can be filled without a mouse trap."""

import datetime as dt
import io
import re
import tempfile
import zipfile

import openpyxl
import pytest
from openpyxl.utils import range_boundaries

from survey.errors import UserError
from survey.model import Answer, Row, Survey
from survey.vocabulary import MEASURES, VOCABULARY, Kind, Subject, Units, read_quantity
from survey.vocabulary.walk import PAGES, blocks_of, page_of, questions
from survey.workbook import texts, write_form
from survey.workbook.layout import column_name
from survey.workbook.writing.paper import LETTERS_A_PAGE, page_ends
from tests.forms import blank_form, column_of, full_survey, row_of

WORDS = [word for page in PAGES for word in questions(page, VOCABULARY)]
SITE_PAGES = [page for page in PAGES if page.subject is Subject.SITE]
LIST_PAGES = [page for page in PAGES if page.subject is not Subject.SITE]
FIRST = 6
ROWS = {"Walls": 40, "Piers": 60, "Utilities": 60, "Neighbours": 40, "Soil": 20, "Photos": 30,
        "Releases": 20}  # fmt: skip


def by_sheet(page):
    return page.sheet


def opened(content):
    return openpyxl.load_workbook(io.BytesIO(content))


@pytest.fixture(scope="module")
def book():
    return opened(blank_form())


@pytest.fixture(scope="module")
def metric(tmp_path_factory):
    path = tmp_path_factory.mktemp("metric") / "form.xlsx"
    write_form(path, units=Units.METRIC)
    return openpyxl.load_workbook(path)


def place(book, word):
    """Sheet, answer cells, unit and help of a word."""
    sheet = book[page_of(word).sheet]
    if word.subject is Subject.SITE:
        row = row_of(sheet, word.key)
        return sheet, [sheet.cell(row, 2)], sheet.cell(row, 3).value, sheet.cell(row, 4).value
    column = column_of(sheet, word.key)
    last = FIRST + ROWS[sheet.title]
    cells = [sheet.cell(row, column) for row in range(FIRST, last)]
    return sheet, cells, sheet.cell(3, column).value, sheet.cell(4, column).value


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


def test_the_sheets_stand_in_the_order_of_the_walk(book):
    assert book.sheetnames == [
        "Start", "Office", "Site", "Walls", "Piers", "Utilities", "Neighbours", "Soil", "Inside",
        "Plan", "Kit", "Photos", "Sketch", "Releases", "Choices", "Lists", "Checks",
    ]  # fmt: skip
    assert [s.title for s in book if s.sheet_state == "hidden"] == ["Lists", "Checks"]


@pytest.mark.parametrize("word", WORDS, ids=lambda word: word.key)
def test_every_question_has_its_place_with_unit_and_help(book, word):
    sheet, cells, unit, help_text = place(book, word)
    assert unit
    message = guide(sheet, cells[-1])
    if word.subject is Subject.SITE:
        assert sheet.cell(cells[0].row, 1).value == word.prompt
        whole_help = f"{word.prompt} {help_text}"
    else:
        assert sheet.cell(2, cells[0].column).value.lower() == word.name.lower()
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


def test_every_question_stands_on_the_form_once(book):
    keys = {word.key for word in WORDS}
    found = [
        cell.value
        for page in PAGES
        for row in book[page.sheet].iter_rows()
        for cell in row
        if cell.value in keys
    ]
    assert sorted(found) == sorted(keys)


@pytest.mark.parametrize("page", SITE_PAGES, ids=by_sheet)
def test_the_questions_of_the_site_stand_in_blocks_below_their_title(book, page):
    sheet = book[page.sheet]
    keys = [(row[4].value, row[0].value) for row in sheet.iter_rows(min_row=3)]
    wanted = []
    for title, words in blocks_of(page, VOCABULARY):
        wanted += [("block", title), *((word.key, word.prompt) for word in words)]
    assert keys == wanted
    assert all(sheet.cell(row, 1).protection.locked for row in range(1, sheet.max_row + 1))


@pytest.mark.parametrize("page", LIST_PAGES, ids=by_sheet)
def test_the_questions_of_a_list_stand_in_blocks_with_a_band_above(book, page):
    sheet = book[page.sheet]
    column = 2
    for title, words in blocks_of(page, VOCABULARY):
        assert sheet.cell(1, column).value == title
        for word in words:
            assert sheet.cell(5, column).value == word.key
            column += 1
    assert sheet.cell(5, 1).value == "label"
    assert sheet.cell(5, column).value == ("picture" if page.sheet == "Photos" else None)


@pytest.mark.parametrize(
    "word", [w for w in WORDS if w.unit_in(Units.METRIC) != w.unit], ids=lambda word: word.key
)
def test_a_metric_form_asks_in_metric_units(metric, word):
    _sheet, _cells, unit, _help = place(metric, word)
    assert unit == word.unit_in(Units.METRIC)


def test_the_form_says_in_which_units_it_asks(book, metric):
    for form, units, lengths in (
        (book, "US customary", "3'-6\", 42 in"),
        (metric, "metric", "1.07 m, 1070 mm"),
    ):
        start = form["Start"]
        row = row_of(start, "pier_survey_units")
        assert start.cell(row, 2).value == units
        assert start.row_dimensions[row].hidden
        lines = [str(row[1].value) for row in start.iter_rows()]
        assert any(f"Form version 2, units: {units}" in line for line in lines)
        assert any(f"Write lengths as {'' if units == 'metric' else '3 ft 6 in, '}{lengths}" in line
                   for line in lines)  # fmt: skip


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
    book = opened(blank_form())
    for number in range(ROWS["Walls"]):
        book["Walls"].cell(FIRST + number, 1, f"W{number}")
    sheet, cells, _unit, _help = place(book, word)
    rule = guide(sheet, cells[-1])
    assert rule.errorStyle == "warning"
    assert offered(book, rule) == [f"W{number}" for number in range(ROWS["Walls"])]


@pytest.mark.parametrize(
    "word", [w for w in WORDS if not w.choices and w.kind is not Kind.REFERENCE],
    ids=lambda word: word.key,
)  # fmt: skip
def test_figures_dates_and_texts_may_be_written_in_any_way(book, word):
    sheet, cells, _unit, _help = place(book, word)
    rule = guide(sheet, cells[0])
    assert rule.type in (None, "none")
    assert not rule.showErrorMessage


@pytest.mark.parametrize("page", PAGES, ids=by_sheet)
def test_each_sheet_prints_whole_and_is_locked_but_for_its_answers(book, page):
    sheet, is_site = book[page.sheet], page.subject is Subject.SITE
    assert sheet.protection.sheet
    assert sheet.protection.password is None
    assert sheet.freeze_panes == ("A3" if is_site else "B6")
    assert sheet.page_setup.orientation == ("portrait" if is_site else "landscape")
    assert sheet.print_title_rows == ("$1:$1" if is_site else "$1:$4")
    if is_site:
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage == is_site
    widest = 4 if is_site else len(questions(page, VOCABULARY)) + 1
    for column in range(1, widest + 1):
        head = sheet.cell(1 if is_site else 2, column)
        assert head.protection.locked
        assert head.alignment.wrap_text
        assert sheet.column_dimensions[column_name(column - 1)].width >= 13


@pytest.mark.parametrize("page", LIST_PAGES, ids=by_sheet)
def test_each_printed_page_of_a_list_has_the_labels_and_fits_on_letter_and_a4(book, page):
    sheet = book[page.sheet]
    assert sheet.print_title_cols == "$A:$A"
    widths = [sheet.column_dimensions[column_name(n)].width for n in range(sheet.max_column)]
    ends = [brk.id for brk in sheet.col_breaks.brk]
    for first, last in zip([1, *ends], [*ends, len(widths)], strict=True):
        # 7 pixels a letter, 96 an inch, 10 inches between the margins of letter paper.
        inches = (widths[0] + sum(widths[first:last])) * 7 / 96
        assert inches * sheet.page_setup.scale / 100 <= 10.0
    assert 68 <= sheet.page_setup.scale <= 100


def test_a_page_holds_whole_blocks_where_they_fit():
    assert page_ends(10, [[60, 60], [60], [30, 30]]) == [3]
    assert page_ends(10, [[LETTERS_A_PAGE - 10], [20]]) == [2]
    assert page_ends(10, [[LETTERS_A_PAGE / 2] * 3]) == [2, 3]


@pytest.mark.parametrize("page", LIST_PAGES, ids=by_sheet)
def test_the_frozen_head_leaves_rows_in_sight_on_a_small_screen(book, page):
    sheet = book[page.sheet]
    usual = sheet.sheet_format.defaultRowHeight
    assert usual >= 24
    heights = [sheet.row_dimensions[row].height for row in (1, 2, 3, 4)]
    assert sum(usual if height is None else height for height in heights) <= 140
    assert sheet.row_dimensions[5].hidden


def test_remarks_have_room_to_write(book):
    plan, office = book["Plan"], book["Office"]
    remarks = plan.row_dimensions[row_of(plan, "remarks")].height
    assert remarks >= 4 * office.row_dimensions[row_of(office, "job_name")].height


def test_a_row_of_photos_has_room_for_the_picture(book):
    sheet = book["Photos"]
    column = column_of(sheet, "picture")
    assert sheet.cell(2, column).value == "Picture"
    assert sheet.column_dimensions[column_name(column - 1)].width >= 40
    assert {sheet.row_dimensions[FIRST + n].height for n in range(ROWS["Photos"])} == {110.0}


def test_a_printed_form_has_every_choice_on_one_sheet(book):
    sheet = book["Choices"]
    rows = list(sheet.iter_rows(min_row=4, values_only=True))
    wanted = [word for word in WORDS if word.kind is Kind.CHOICE]
    assert [(row[0], row[2]) for row in rows] == [
        (page_of(word).sheet, (", " if word.name == "state" else "\n").join(word.choices))
        for word in wanted
    ]
    for word, row in zip(wanted, rows, strict=True):
        assert texts.asked_as(word) in row[1]
        assert word.prompt in row[1]
        assert word.help in (row[3] or "")
    for number, row in enumerate(rows, start=4):
        assert 409 > sheet.row_dimensions[number].height >= 13 * len(row[2].split("\n"))
    assert sheet.protection.sheet
    assert sheet.page_setup.fitToWidth == 1
    assert sheet.print_title_rows == "$3:$3"


def test_the_sketch_is_open_squared_paper_on_one_page(book):
    sheet = book["Sketch"]
    assert not sheet.protection.sheet
    assert sheet.print_options.gridLines
    assert sheet.sheet_view.showGridLines
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)
    width, height = sheet.column_dimensions["B"].width, sheet.row_dimensions[10].height
    assert height == pytest.approx(width * 7 * 72 / 96, abs=0.1)
    said = " ".join(str(row[0].value) for row in sheet.iter_rows(max_row=3))
    assert "North" in said
    assert "one square is" in said


def test_keys_and_lists_are_out_of_sight(book):
    for page in LIST_PAGES:
        assert book[page.sheet].row_dimensions[5].hidden
    for page in SITE_PAGES:
        assert book[page.sheet].row_dimensions[2].hidden
        assert book[page.sheet].column_dimensions["E"].hidden
    start = book["Start"]
    assert start.row_dimensions[row_of(start, "pier_survey_form")].hidden


def test_the_start_sheet_says_what_an_answer_means(book):
    lines = {row[0].value: row[1].value for row in book["Start"].iter_rows(min_row=4)}
    assert lines["blank"].startswith("Not known.")
    assert "never taken as no, none or zero" in lines["blank"]
    assert lines["does not apply"].startswith("The question does not come up")
    assert "not known" in lines["yes or no"]
    assert {"1", "2", "3"} <= set(lines)
    said = " ".join(str(line) for line in lines.values())
    for told in ("Photos", "Sketch", "without a password", "sheet Plan"):
        assert told in said
    assert lines.keys().isdisjoint({"asked"})


def test_the_start_sheet_leads_to_every_sheet(book):
    links = {
        row[0].value: row[0].hyperlink.location.split("!")[0]
        for row in book["Start"].iter_rows()
        if row[0].hyperlink
    }
    assert links == {page.sheet: page.sheet for page in PAGES}


def test_formulas_stand_only_on_the_cover_and_the_hidden_sheet(book):
    found = {s.title for s in book for row in s.iter_rows() for c in row if c.data_type == "f"}
    assert found == {"Start", "Checks"}


@pytest.mark.parametrize("page", PAGES, ids=by_sheet)
def test_conditional_formats_are_few_and_any_program_takes_them(book, page):
    names = set(book.defined_names)
    formats = book[page.sheet].conditional_formatting
    rules = [rule for each in formats for rule in each.rules]
    conditional = [word for word in questions(page, VOCABULARY) if word.asks_when]
    alike = {word.choices for word in questions(page, VOCABULARY)}
    assert len(rules) <= 2 * len(conditional) + len(alike) + 6  # none a cell
    for rule in rules:
        (formula,) = rule.formula
        assert "!" not in formula  # another sheet
        assert "{" not in formula  # a list of values
        assert set(re.findall(r"(?:odd|given)_\w+", formula)) <= names
        assert rule.stopIfTrue
        fill = rule.dxf.fill
        assert {fill.fgColor.rgb, fill.bgColor.rgb} <= {
            "FF000000",
            "FFFFFFFF",
            "FF7F7F7F",
            "FFE4E4E4",
        }


def test_the_file_tells_nothing_of_who_made_it_and_where(book):
    told = {key: value for key, value in vars(book.properties).items() if value is not None}
    assert set(told) == {"creator", "lastModifiedBy", "title", "created", "modified"}
    assert told["creator"] == told["lastModifiedBy"] == "pier-survey"
    with zipfile.ZipFile(io.BytesIO(blank_form())) as package:
        parts = b"".join(package.read(name) for name in package.namelist())
    assert tempfile.gettempdir().encode() not in parts
    assert b"TargetMode" not in parts  # nothing in it leads outside


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
    with pytest.raises(UserError, match=r"can't be written \(No such file or directory\)"):
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


@pytest.fixture
def changed():
    """A survey whose first pier has figures that are awkward to write."""
    survey = full_survey()
    row = survey.piers[0]
    answers = {**row.answers, "station": Answer(42.5, ""), "pit length": Answer(100 / 3, "")}
    piers = (Row(row.subject, "=P1", answers, row.where),)
    return Survey("job", survey.site, survey.walls, piers)


def test_filled_cells_are_what_a_person_would_have_written(tmp_path, changed):
    write_form(tmp_path / "job.xlsx", changed)
    book = openpyxl.load_workbook(tmp_path / "job.xlsx")
    sheet = book["Piers"]

    def cell(key):
        return sheet.cell(FIRST, column_of(sheet, key))

    assert (cell("label").value, cell("label").data_type) == ("=P1", "s")
    assert cell("label").quotePrefix
    assert cell("station").value == "3 ft 6.5 in"
    assert cell("pit_length").value == "33.333333333333336 in"
    assert cell("slope_of_sides").value == "does not apply"
    office = book["Office"]
    day = office.cell(row_of(office, "crew_date"), 2)
    assert (day.value.date(), day.number_format) == (dt.date(2026, 4, 3), "yyyy-mm-dd")
    walls = book["Walls"]
    assert walls.cell(FIRST, column_of(walls, "storeys")).value == 3


def test_a_metric_form_is_filled_in_metric_units_where_that_is_exact(tmp_path, changed):
    write_form(tmp_path / "job.xlsx", changed, units=Units.METRIC)
    sheet = openpyxl.load_workbook(tmp_path / "job.xlsx")["Piers"]
    values = [sheet.cell(FIRST, column_of(sheet, key)).value for key in ("station", "pit_length")]
    assert values == ["42.5 in", "33.333333333333336 in"]
    answers = {
        **changed.piers[0].answers,
        "station": Answer(read_quantity("1.07 m", Kind.LENGTH, None), ""),
    }
    piers = (Row(Subject.PIER, "P1", answers, ""),)
    survey = Survey("job", changed.site, changed.walls, piers, units=Units.METRIC)
    write_form(tmp_path / "again.xlsx", survey)
    sheet = openpyxl.load_workbook(tmp_path / "again.xlsx")["Piers"]
    assert sheet.cell(FIRST, column_of(sheet, "station")).value == "1.07 m"
