"""What the form counts as open, shows as odd or as ruled out: worked out by LibreOffice.

The same is counted in Python from the survey. A conditional format can't be read from a saved
workbook, so each rule's formula is also written into a spare cell of its row, for each cell that
it covers, and worked out there.
"""

import datetime as dt
import json
import shutil
import subprocess
from contextlib import suppress
from itertools import count

import openpyxl
import pytest
from openpyxl.formula.translate import Translator

from survey.answers import read_survey
from survey.document import read_document
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    QuantityError,
    Subject,
    Units,
    read_quantity,
)
from survey.vocabulary.walk import FIRST_VISIT, MAY_STAY_BLANK, PAGES, questions
from survey.workbook import write_form
from survey.workbook.writing.checks import ODDITIES
from tests.demo_surveys import careful_house
from tests.forms import column_of, row_of

SOFFICE = shutil.which("soffice")
pytestmark = pytest.mark.skipif(SOFFICE is None, reason="no other spreadsheet program is installed")
FIRST, ROWS_PROBED, SPARE = 6, 15, 60
ON_THE_FOOTING = {
    word.key
    for word in VOCABULARY.words
    if word.asks_when and word.asks_when.word in {"footing kind", "footing reinforcement"}
}
LOOKS = {"solid": "odd", "lightUp": "ruled out", "gray125": "open"}


def survey_of(document):
    survey, problems = read_survey(read_document(json.dumps(document), "job.json"))
    assert problems == ()
    return survey


def half_known():
    """The careful house with much of it not known, at each sort of question."""
    house = careful_house()
    unknown = ("locate_request_made", "ticket_number", "ticket_start", "ticket_end", "gas_odour",
               "crew_date", "inside_work", "dust_control", "soil_resistivity")  # fmt: skip
    for key in unknown:
        house["site"].pop(key, None)
    house["site"] |= {"corrosion_tests": "made", "overhead_lines_near": "yes"}
    south, east, *_others = house["walls"]
    for key in ON_THE_FOOTING | {"footing_kind"}:
        south.pop(key, None)
    east.pop("footing_thickness")
    house["piers"][0].pop("station")
    house["piers"][1] = {"label": "P2", "side_protection": "sloped"}
    house["piers"][2] = {"label": "P3"}
    house["soil_layers"] = [{"label": "S1", "soil_group": "clay", "strength_test": "both"}]
    return house


# Each oddity, by the answer that shows it in the careful house: the workbook, sheet, key, row and
# what is typed; then what the cover says of it, and the cells that show it.
ODD = {
    "the survey is later than the crew":
        (0, "Office", "crew_date", 0, "2026-11-17", "", ["survey_date", "crew_date"]),
    "the crew's last day is before its first":
        (1, "Office", "last_crew_date", 0, "2026-12-06", "", ["crew_date", "last_crew_date"]),
    "the ticket ends before it starts":
        (1, "Office", "ticket_end", 0, "2026-11-29", "", ["ticket_start", "ticket_end"]),
    "carried beyond the wall's end":
        (0, "Walls", "carried_to", 7, "26'-1\"", ": East", ["carried_to", "wall_length"]),
    "station beyond the wall's end":
        (0, "Piers", "station", 8, "40.1", ": P3", ["station"]),
    "footing deeper than the pit":
        (0, "Piers", "pit_depth", 7, "3 ft 11 1/2 in", ": P2", ["footing_depth", "pit_depth"]),
    "footing thicker than it is deep":
        (0, "Piers", "footing_depth", 9, "11 in", ": P4", ["footing_depth"]),
    "bottom not below its top":
        (0, "Soil", "layer_bottom", 7, "8 feet", ": clay", ["layer_top", "layer_bottom"]),
    "label given twice":
        (1, "Piers", "label", 7, "p1", ": P1 and 1 more", ["label"]),
    "answers without a label":
        (1, "Utilities", "utility_kind", 20, "gas", ": row 20", ["label"]),
}  # fmt: skip
LENGTHS = (
    "40", "40.5", " 7 ", "3 ft 6 in", "3 ft 6in", "3ft 6in", "3'-6\"", "3' 6\"", "3'6", "42 in",
    "42\"", "3.5 ft", "3.5'", "3 feet 6 inches", "1 foot", "3 ft 6 1/2 in", "3 1/2", "6 3/4 in",
    "½ in", "3½ ft", "1.07 m", "107 cm", "1070 mm", "1.07m", "0", "0 in", "-2 ft", "3 ft. 6 in.",
    "3’ 6”", "3′ 6″", "3 ft-6 in", "12 ft 0 in", "3 FT 6 IN", "3\N{NO-BREAK SPACE}ft",
)  # fmt: skip
# Most of these are no length; a few are one that the formulas can't read.
NO_LENGTHS = (
    "", "3-6", "1/2", "1/3 ft", "about 3 ft", "3 ft or 4 ft", "3 6", "3:30", "5%", "3e2x", "ft",
    "3 pm", "not known", "does not apply", "3 ft 6 in 2", "2026-04-03", "Jan 3",
)  # fmt: skip
FORMS = {
    "blank": (None, False), "short": (None, True), "house": (careful_house, False),
    "half": (half_known, False),
}  # fmt: skip


@pytest.fixture(scope="module")
def books(tmp_path_factory):
    """Every workbook of these tests, worked out in one go; by name."""
    folder = tmp_path_factory.mktemp("states")
    for name, (document, short) in FORMS.items():
        survey = None if document is None else survey_of(document())
        write_form(folder / f"{name}.xlsx", survey, short=short)
    for number in (0, 1):
        change(folder, "house", f"odd{number}", [odd[1:5] for odd in ODD.values()
                                                 if odd[0] == number])  # fmt: skip
    typed = [("Office", "state", 0, "Not known"), ("Office", "surveyor", 0, " "),
             ("Walls", "label", 6, "W1"), ("Walls", "wall_length", 6, "not known"),
             ("Walls", "wall_length", 7, "not known"), ("Piers", "label", 6, "P1"),
             ("Piers", "side_protection", 6, "none")]  # fmt: skip
    change(folder, "blank", "typed", typed)
    for units in Units:
        write_form(folder / f"{units.name}.xlsx", units=units)
        texts = enumerate(LENGTHS + NO_LENGTHS, start=FIRST)
        change(folder, units.name, f"lengths_{units.name}",
               [("Piers", "station", row, text) for row, text in texts])  # fmt: skip
        (folder / f"{units.name}.xlsx").unlink()
    for name in ("half", "odd0", "odd1", "typed"):
        probe(folder / f"{name}.xlsx")
    subprocess.run(
        [SOFFICE, f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
         "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", folder / "saved",
         *folder.glob("*.xlsx")],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    return {
        path.stem: openpyxl.load_workbook(path, data_only=True)
        for path in (folder / "saved").iterdir()
    }


def change(folder, source, target, changes):
    """Type into some cells of a workbook."""
    book = openpyxl.load_workbook(folder / f"{source}.xlsx")
    for name, key, row, text in changes:
        sheet = book[name]
        is_date = key.endswith("_date") or key in {"ticket_start", "ticket_end"}
        cell = sheet.cell(row, column_of(sheet, key)) if row else site_cell(sheet, key)
        cell.value = dt.date.fromisoformat(text) if is_date else text
    book.save(folder / f"{target}.xlsx")


def site_cell(sheet, key):
    return sheet.cell(row_of(sheet, key), 2)


def probe(path):
    """Write the formula of each conditional format into spare cells, for each cell it covers.

    Beside each stands the address of the cell and what the rule would show, in one text.
    """
    book = openpyxl.load_workbook(path)
    for sheet in book:
        spare = {}
        rules = [
            (rule, cells) for cells, every in sheet.conditional_formatting._cf_rules.items()
            for rule in every
        ]  # fmt: skip
        for rule, cells in sorted(rules, key=lambda pair: pair[0].priority):
            look = LOOKS[rule.dxf.fill.patternType]
            anchor = str(cells.sqref).split()[0].split(":")[0]
            for row, column in (p for part in cells.sqref.ranges for p in part.cells):
                if sheet.title in SITE_SHEETS or row < FIRST + ROWS_PROBED:
                    at = sheet.cell(row, column).coordinate
                    formula = Translator(f"={rule.formula[0]}", anchor).translate_formula(at)
                    place = next(spare.setdefault(row, count(SPARE)))
                    sheet.cell(row, place).value = f'="{at}|{look}|"&IF({formula[1:]},1,0)'
    book.save(path)


SITE_SHEETS = [page.sheet for page in PAGES if page.subject is Subject.SITE]


def states(sheet):
    """What the first rule that fits shows at each cell."""
    shown = {}
    for row in sheet.iter_rows(min_col=SPARE, values_only=True):
        for said in row:
            if said:
                at, look, fits = said.split("|")
                if fits == "1":
                    shown.setdefault(at, look)
    return shown


def cover(book):
    """Rows listed, answers open and what is odd, by sheet."""
    sheets = [page.sheet for page in PAGES]
    rows = book["Start"].iter_rows(max_col=4, values_only=True)
    return {row[0]: row[1:4] for row in rows if row[0] in [*sheets, "All"]}


def is_open(word, row):
    if word.name in MAY_STAY_BLANK or row.value(word.name) is not NOT_KNOWN:
        return False
    when = word.asks_when
    return when is None or row.value(when.word) in when.choices


@pytest.mark.parametrize("name", ["house", "half"])
def test_the_cover_counts_what_is_open_by_sheet(books, name):
    survey = survey_of(FORMS[name][0]())
    shown = {sheet: row[1] for sheet, row in cover(books[name]).items()}
    wanted = {
        page.sheet: sum(
            is_open(word, row)
            for word in questions(page, VOCABULARY)
            for row in survey.rows(page.subject)
        )
        for page in PAGES
    }
    assert shown == {**wanted, "All": sum(wanted.values())}
    assert (sum(wanted.values()) > 50) == (name == "half")


@pytest.mark.parametrize("name", ["blank", "short"])
def test_a_blank_form_has_open_what_always_applies_and_no_rows(books, name):
    shown = {sheet: row[1] for sheet, row in cover(books[name]).items() if sheet != "All"}
    wanted = {}
    for page in PAGES:
        words = questions(page, VOCABULARY)
        words = [word for word in words if name != "short" or word.name in FIRST_VISIT]
        if words or page.subject is Subject.PHOTO:
            wanted[page.sheet] = page.subject is Subject.SITE and sum(
                word.asks_when is None and word.name not in MAY_STAY_BLANK for word in words
            )
    assert shown == wanted


def test_a_form_filled_throughout_has_nothing_open_and_says_how_much_is_listed(books):
    shown = cover(books["house"])
    assert {row[1] for row in shown.values()} == {0}
    assert [shown[sheet][0] for sheet in ("Office", "Walls", "Piers", "Soil")] == [None, 4, 5, 3]


def test_not_known_is_open_and_a_row_without_a_label_is_not_yet(books):
    blank, typed = cover(books["blank"]), cover(books["typed"])
    assert typed["Office"][1] == blank["Office"][1]
    walls = questions(next(page for page in PAGES if page.sheet == "Walls"), VOCABULARY)
    assert blank["Walls"][:2] == (0, 0)
    assert typed["Walls"][:2] == (1, sum(word.asks_when is None for word in walls))


def test_the_cover_shows_the_job_as_its_sheet_says(books):
    def said(name):
        rows = books[name]["Start"].iter_rows(max_row=12, max_col=2, values_only=True)
        return dict(rows)

    assert said("house")["Job name"] == "2026-114 Fennel House"
    assert said("house")["Crew date"].date() == dt.date(2026, 12, 7)
    assert not said("blank")["Job name"]
    assert not said("blank")["Crew date"]


def test_nothing_is_odd_on_a_careful_or_a_blank_form(books):
    for name in ("blank", "house", "short", "half"):
        assert {row[2] or "" for row in cover(books[name]).values()} == {""}


def test_every_oddity_was_tried():
    assert {odd.says for odd in ODDITIES} < set(ODD)


@pytest.mark.parametrize("says", ODD)
def test_what_is_odd_is_told_in_words_with_its_place(books, says):
    number, sheet, *_typed, place, _cells = ODD[says]
    told = cover(books[f"odd{number}"])[sheet][2]
    assert f"{says[0].upper()}{says[1:]}{place}. " in f"{told} "


@pytest.mark.parametrize("number", [0, 1])
def test_the_cells_that_are_odd_show_it_and_no_others_do(books, number):
    book = books[f"odd{number}"]
    shown = {
        f"{page.sheet}!{at}"
        for page in PAGES
        for at, look in states(book[page.sheet]).items()
        if look == "odd"
    }
    wanted = set()
    for of_book, name, _key, row, _text, place, keys in ODD.values():
        if of_book == number:
            sheet = book[name]
            rows = [6, 7] if "more" in place else [row]
            cells = [
                sheet.cell(at, column_of(sheet, key)) if row else site_cell(sheet, key)
                for key in keys for at in rows
            ]  # fmt: skip
            wanted |= {f"{name}!{cell.coordinate}" for cell in cells}
    assert shown == wanted


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.sheet)
def test_each_cell_shows_whether_it_is_open_or_ruled_out(books, page):
    sheet, survey = books["half"][page.sheet], survey_of(half_known())
    shown, wanted = states(sheet), {}
    for number, row in enumerate(survey.rows(page.subject), start=FIRST):
        for word in questions(page, VOCABULARY):
            on_site = page.subject is Subject.SITE
            at = site_cell(sheet, word.key) if on_site else sheet.cell(
                number, column_of(sheet, word.key)
            )  # fmt: skip
            if row.value(word.name) is DOES_NOT_APPLY:
                wanted[at.coordinate] = "ruled out"
            elif is_open(word, row):
                wanted[at.coordinate] = "open"
    assert shown == wanted


def test_what_is_ruled_out_rules_out_what_depends_on_it_though_it_is_blank(books):
    sheet, shown = books["typed"]["Piers"], states(books["typed"]["Piers"])
    words = questions(next(page for page in PAGES if page.sheet == "Piers"), VOCABULARY)
    on_sides = {"side protection"}
    for word in words:
        if word.asks_when and word.asks_when.word in on_sides:
            on_sides.add(word.name)
    assert "protection design allows for building" in on_sides  # by the design, by the protection
    wanted = {}
    for word in words:
        at = sheet.cell(FIRST, column_of(sheet, word.key)).coordinate
        if word.name in on_sides - {"side protection"}:
            wanted[at] = "ruled out"
        elif word.asks_when is None and word.name != "side protection":
            wanted[at] = "open"
    assert shown == wanted
    assert cover(books["typed"])["Piers"][:2] == (1, list(wanted.values()).count("open"))


@pytest.mark.parametrize("units", Units, ids=lambda units: units.value)
def test_the_hidden_formulas_read_a_length_as_the_reader_does_or_not_at_all(books, units):
    sheet = books[f"lengths_{units.name}"]["Checks"]
    (column,) = [cell.column for cell in sheet[1] if cell.value == "station, in"]
    bare = VOCABULARY["station"].unit_in(units)
    found = [sheet.cell(row, column).value for row, _text in
             enumerate(LENGTHS + NO_LENGTHS, start=FIRST)]  # fmt: skip
    wanted = [read_quantity(text, Kind.LENGTH, bare) for text in LENGTHS]
    assert found[: len(LENGTHS)] == [pytest.approx(value) for value in wanted]
    for text, value in zip(NO_LENGTHS, found[len(LENGTHS) :], strict=True):
        with suppress(QuantityError):
            assert value in ("-", read_quantity(text, Kind.LENGTH, bare)), text
    assert found[len(LENGTHS) :].count("-") >= len(NO_LENGTHS) - 2
