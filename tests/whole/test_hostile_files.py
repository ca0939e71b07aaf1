"""Whatever file is given, the answer is a survey or a plain message, in little memory.

How soon it comes is a benchmark.
"""

import io
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import tracemalloc
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.comments import Comment

from survey.answers import read_survey
from survey.errors import UnreadableSurveyError, UserError
from survey.model import Survey
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, Origin, Subject, Word
from survey.workbook import open_survey, write_form
from tests.forms import (
    as_ods,
    blank_form,
    column_of,
    edited,
    filled_form,
    full_survey,
    packed_ods,
    part_of,
    row_of,
    site_answer,
    with_part,
)
from tests.hostile_workbooks import HARMLESS, PIERS, REFUSED, SETTLED, added
from tests.strategies import plain

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def refused(folder, content, name="survey.xlsx"):
    """The message with which a file is refused."""
    path = folder / name
    path.write_bytes(content)
    with pytest.raises(UnreadableSurveyError) as caught:
        open_survey(path)
    message = str(caught.value)
    assert message.startswith(f"{path}: ")
    assert caught.value.help
    assert path.read_bytes() == content
    return message


def read(folder, content, name="survey.xlsx"):
    path = folder / name
    path.write_bytes(content)
    result = read_survey(open_survey(path))
    assert path.read_bytes() == content
    return result


def settled(path):
    """Whether a file is either read into a survey or refused with a message about it."""
    try:
        survey, _problems = read_survey(open_survey(path))
    except UserError as refusal:
        return str(refusal).startswith(f"{path}: ")
    return isinstance(survey, Survey)


def zipped(**parts):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as file:
        for name, part in parts.items():
            file.writestr(name, part)
    return packed.getvalue()


# Files that are no survey


def test_a_missing_file(tmp_path):
    with pytest.raises(UnreadableSurveyError, match="there is no such file"):
        open_survey(tmp_path / "none.xlsx")


def test_a_folder(tmp_path):
    with pytest.raises(UnreadableSurveyError, match="this is a folder, not a file"):
        open_survey(tmp_path)


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.xlsx")
    with pytest.raises(UnreadableSurveyError, match="not an ordinary file"):
        open_survey(tmp_path / "pipe.xlsx")


def test_a_name_that_no_file_can_have(tmp_path):
    with pytest.raises(UnreadableSurveyError, match="can't be opened"):
        open_survey(tmp_path / "a\0b.xlsx")
    with pytest.raises(UnreadableSurveyError, match="can't be opened"):
        open_survey(tmp_path / ("x" * 5000))


def test_a_file_without_permission_to_read(tmp_path, monkeypatch):
    path = tmp_path / "locked.xlsx"
    path.write_bytes(blank_form())

    def refuse(*_args, **_more):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(type(path), "open", refuse)  # the owner of the machine may read anything
    with pytest.raises(UnreadableSurveyError, match="no permission to read this file"):
        open_survey(path)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "the file is empty"),
        (b"\0" * 1000, "neither a workbook nor a survey in JSON"),
        (b"Pit depth,5 ft\n", "neither a workbook nor a survey in JSON"),
        (b"%PDF-1.7", "neither a workbook nor a survey in JSON"),
        (b"PK\x05\x06" + bytes(18), "a zip file, but no .xlsx or .ods workbook"),
        (b"PK\x03\x04 and so on", "damaged or cut short"),
        (zipped(a="b"), "a zip file, but no .xlsx or .ods workbook"),
        (zipped(**{"xl/workbook.xml": "<workbook/>"}), "damaged"),
        (OLE + bytes(600) + "Workbook".encode("utf-16-le"), "older office program"),
        (OLE + bytes(600) + "EncryptedPackage".encode("utf-16-le"), "protected by a password"),
    ],
)
def test_files_that_are_no_survey(tmp_path, content, message):
    assert message in refused(tmp_path, content)


def test_the_way_out_of_a_password_is_told(tmp_path):
    content = OLE + bytes(600) + "EncryptedPackage".encode("utf-16-le")
    assert refused(tmp_path, content).endswith(
        "Open it with the password, save a copy without one, and give that copy."
    )


def test_what_the_file_is_called_does_not_matter(tmp_path):
    assert read(tmp_path, blank_form(), "survey.json")[1] == ()
    assert read(tmp_path, b'\xef\xbb\xbf {"pier_survey": 1, "site": {}}', "survey.xlsx")[1] == ()


def test_a_hundred_megabytes_of_junk_are_not_read_to_the_end(tmp_path):
    path = tmp_path / "junk.xlsx"
    with path.open("wb") as junk:
        junk.write(b"PK\x03\x04")
        junk.truncate(100 * 2**20)
    tracemalloc.start()
    with pytest.raises(UnreadableSurveyError, match="larger than 64 MB"):
        open_survey(path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 2**20


# Damage


@pytest.mark.parametrize("share", [0.01, 0.3, 0.6, 0.9, 0.999])
def test_a_file_cut_short(tmp_path, share):
    content = filled_form()
    assert "damaged or cut short" in refused(tmp_path, content[: int(len(content) * share)])


@settings(max_examples=150, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_bytes_changed_anywhere_give_a_message_or_a_survey(tmp_path_factory, seed):
    rng = random.Random(seed)
    content = bytearray(blank_form())
    for _ in range(rng.choice((1, 3, 30, 1000))):
        content[rng.randrange(4, len(content))] = rng.randrange(256)
    path = tmp_path_factory.mktemp("changed") / "survey.xlsx"
    path.write_bytes(content)
    assert settled(path)


@settings(max_examples=100, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_xml_changed_anywhere_gives_a_message_or_a_survey(tmp_path_factory, seed):
    rng = random.Random(seed)
    with zipfile.ZipFile(io.BytesIO(filled_form())) as package:
        name = rng.choice([n for n in package.namelist() if n.endswith((".xml", ".rels"))])

    def spoil(part):
        spoilt = bytearray(part)
        for _ in range(rng.choice((1, 3, 30))):
            at = rng.randrange(len(spoilt))
            spoilt[at : at + rng.randrange(4)] = bytes(rng.randrange(256) for _ in range(2))
        return bytes(spoilt) + b" "

    path = tmp_path_factory.mktemp("changed") / "survey.xlsx"
    path.write_bytes(with_part(filled_form(), name, spoil))
    assert settled(path)


# Attempts on memory and time


@pytest.mark.parametrize("bomb", REFUSED)
def test_what_is_made_to_eat_all_memory_is_refused(tmp_path, bomb):
    make, message = REFUSED[bomb]
    assert message in refused(tmp_path, make())


@pytest.mark.parametrize("content", HARMLESS)
def test_what_a_workbook_carries_besides_its_cells_is_never_opened(tmp_path, content):
    survey, problems = read(tmp_path, HARMLESS[content]())
    assert problems == ()
    assert plain(survey) == plain(full_survey())
    assert [path.name for path in tmp_path.iterdir()] == ["survey.xlsx"]
    assert not (tmp_path.parent / "out").exists()


IN_LITTLE_MEMORY = """
import resource, sys
from pathlib import Path
most = int(sys.argv[1]) * 2**20
resource.setrlimit(resource.RLIMIT_AS, (most, most))
from survey.answers import read_survey
from survey.errors import UserError
from survey.workbook import open_survey
for name in sys.argv[2:]:
    try:
        read_survey(open_survey(Path(name)))
        print(name, "is read", flush=True)
    except UserError as refusal:
        print(name, "is refused", flush=True)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is limited in Linux's way")
def test_every_attempt_is_settled_in_little_memory(tmp_path):
    makers = {name: make for name, (make, _message) in REFUSED.items()} | HARMLESS | SETTLED
    paths = [tmp_path / f"{number}.xlsx" for number in range(len(makers))]
    for path, make in zip(paths, makers.values(), strict=True):
        path.write_bytes(make())
    done = subprocess.run(
        [sys.executable, "-c", IN_LITTLE_MEMORY, "512", *map(str, paths)],
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    settled_ones = [line.split(" is ")[0] for line in done.stdout.splitlines()]
    assert settled_ones == [str(path) for path in paths], (
        list(makers)[len(settled_ones)], done.stderr[-2000:],
    )  # fmt: skip
    assert done.returncode == 0


def test_a_part_that_holds_more_than_it_says_is_not_unpacked(tmp_path):
    content = REFUSED["part that lies about its size"][0]()
    tracemalloc.start()
    assert "damaged or cut short" in refused(tmp_path, content)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 20 * 2**20


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("name", ["xl/workbook.xml", "xl/Workbook.XML"])
def test_two_parts_of_one_name(tmp_path, name):
    content = added(blank_form(), {name: b"<workbook/>"})
    assert "two of one name" in refused(tmp_path, content)


def test_merged_cells_that_overlap_are_not_all_looked_at(tmp_path):
    _survey, problems = read(tmp_path, SETTLED["merged cells that overlap"]())
    assert problems[0].expected == "merged cells that do not overlap"
    assert len(problems) <= 200


@pytest.mark.parametrize("cell", [b"XFD1048576", b"A1048576", b"XFD1", b"EA9", b"A10000", b"a1"])
def test_a_cell_far_from_all_others(tmp_path, cell):
    content = with_part(
        blank_form(), PIERS, lambda part: part.replace(b'<c r="A5"', b'<c r="' + cell + b'"')
    )
    assert "has cells below row 9,999 or right of DZ" in refused(tmp_path, content)


@pytest.mark.parametrize("cell", [b"<c s='1'", b"<c\nr='XFD1048576'", b'<x:c r="XFD1048576"'])
def test_a_cell_that_hides_where_it_stands(tmp_path, cell):
    content = with_part(blank_form(), PIERS, lambda part: part.replace(b'<c r="A5"', cell))
    assert "has cells below row 9,999 or right of DZ" in refused(tmp_path, content)


def test_ten_thousand_rows(tmp_path):
    def fill(book):
        for number in range(6, 9_999):
            book["Piers"].cell(number, 1, f"P{number}")

    assert (
        refused(tmp_path, edited(blank_form(), fill))
        .splitlines()[0]
        .endswith("sheet 'Piers': 9993 rows are filled; a sheet holds 200")
    )
    content = edited(blank_form(), lambda book: book["Piers"].cell(10_000, 1, "P1"))
    assert "has cells below row 9,999" in refused(tmp_path, content)


def test_two_hundred_rows_are_read_and_one_more_is_not(tmp_path):
    def rows(count):
        def fill(book):
            for number in range(count):
                book["Piers"].cell(6 + number, 1, f"P{number}")

        return edited(blank_form(), fill)

    survey, problems = read(tmp_path, rows(200))
    assert (len(survey.piers), problems) == (200, ())
    assert "201 rows are filled" in refused(tmp_path, rows(201))


@pytest.mark.parametrize(
    "declaration",
    [
        b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>',
        b'<!DOCTYPE x SYSTEM "file:///etc/passwd">',
        b'<!DOCTYPE x [<!ENTITY % out SYSTEM "file:///etc/passwd"> %out;]>',
    ],
)
@pytest.mark.parametrize("part", ["xl/workbook.xml", PIERS, "xl/styles.xml"])
def test_entities(tmp_path, part, declaration):
    content = with_part(blank_form(), part, lambda xml: declaration + xml)
    assert "declares entities" in refused(tmp_path, content)


# JSON


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"{", "Invalid JSON"),
        (b"[" * 100_000, "Invalid JSON"),
        (b'{"a":' * 100_000 + b"1" + b"}" * 100_000, "Invalid JSON"),
        (b'{"pier_survey": 1, "site": {"job_name": "\xff"}}', "byte 42 is no UTF-8 text"),
        (b'{"pier_survey": 2, "site": {}}', "pier_survey"),
        ("{}".encode("utf-16"), "UTF-16"),
        (b'{"a": "' + b" " * 5_000_000 + b'"}', "larger than 4 MB"),
    ],
)
def test_broken_json(tmp_path, content, message):
    assert message in refused(tmp_path, content, "survey.json")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b'{"pier_survey":1,"site":{},"walls":[' + b"{}," * 1_000_000 + b"{}]}", "at most 200"),
        (b'{"pier_survey":1,"site":{},"walls":[' + b"[]," * 1_000_000 + b"[]]}", "at most 200"),
        (
            b'{"pier_survey":1,"site":{%s}}'
            % b",".join(b'"key_%d":1' % number for number in range(200_000)),
            "at most 100",
        ),
    ],
    ids=["rows", "faults", "keys"],
)
def test_json_made_to_take_long(tmp_path, content, message):
    assert message in refused(tmp_path, content, "survey.json")


@pytest.mark.parametrize("number", ["1e400", "9" * 4000, "-1e-400", "1e308"])
def test_numbers_in_json_that_no_one_measures(tmp_path, number):
    content = b'{"pier_survey": 1, "site": {"tolerance_zone": %s}}' % number.encode()
    survey, problems = read(tmp_path, content, "survey.json")
    assert survey.site.value("tolerance zone") is NOT_KNOWN
    assert [problem.where for problem in problems] == ["site.tolerance_zone"]


# Workbooks that are not laid out as the form is


def test_all_faults_of_the_layout_are_told_at_once(tmp_path):
    def spoil(book):
        walls = book["Walls"]
        twice = column_of(walls, "floor_span")
        walls.cell(2, twice).value, walls.cell(5, twice).value = "Roof span", "roof_span"
        for key in ("storeys", "roof_span"):
            walls.cell(6, column_of(walls, key)).value = 1
        walls.cell(6, column_of(walls, "roof_span") + 1).value = 2
        book["Piers"]["B9999"] = "W1"
        for name in ("Releases", "Kit"):
            book[name].delete_rows(1, 99)
        start = book["Start"]
        start.cell(row_of(start, "pier_survey_form"), 2).value = 7
        start.cell(row_of(start, "pier_survey_units"), 2).value = "cubits"
        book.create_sheet("SOIL ")

    *reasons, help_line = refused(tmp_path, edited(blank_form(), spoil)).splitlines()
    path = tmp_path / "survey.xlsx"
    assert reasons == [
        f"{path}: {reason}"
        for reason in (
            "there are two sheets 'Soil': 'Soil' and 'SOIL '",
            "sheet 'Start': the form is of version '7'; this program reads versions 1 to 2; "
            "it is newer: update the program",
            "sheet 'Start': the form asks in units 'cubits'; this program knows 'US customary' "
            "and 'metric'",
            "sheet 'Kit': its hidden keys and its headings are missing",
            "sheet 'Walls': the column of 'roof_span' is there twice",
            "sheet 'Releases': its hidden row of keys is missing",
        )
    ]
    assert help_line.startswith("Copy the answers into a fresh form")


def test_a_form_without_its_version_is_refused(tmp_path):
    def spoil(book):
        start = book["Start"]
        start.delete_rows(row_of(start, "pier_survey_form"))

    message = refused(tmp_path, edited(blank_form(), spoil))
    assert "sheet 'Start': the hidden cell with the form's version is missing" in message


def test_a_form_without_its_units_is_refused(tmp_path):
    """A bare number on a metric form would be read in feet."""

    def spoil(book):
        start = book["Start"]
        start.delete_rows(row_of(start, "pier_survey_units"))

    message = refused(tmp_path, edited(blank_form(), spoil))
    assert "sheet 'Start': the hidden cell with the form's units is missing" in message
    assert "Copy the answers into a fresh form made by 'pier-survey form'" in message


def test_a_form_without_its_first_sheet_is_refused_for_its_units_are_not_known(tmp_path):
    content = edited(blank_form(), lambda book: book.remove(book["Start"]))
    assert "there is no sheet 'Start', which says what form this is" in refused(tmp_path, content)


def test_a_workbook_with_no_sheet_of_the_form_is_refused(tmp_path):
    def remove(book):
        for name in book.sheetnames:
            if name != "Start":
                del book[name]

    assert "there is no sheet with questions" in refused(tmp_path, edited(blank_form(), remove))


def test_an_open_document_behind_a_password(tmp_path):
    manifest = b"<manifest><encryption-data/></manifest>"
    locked = added(as_ods(blank_form()), {"META-INF/manifest.xml": manifest})
    assert "protected by a password" in refused(tmp_path, locked)


@pytest.mark.parametrize("content", ["", "<x/>", "no XML", "<x", "\ufeff<x/>"])
def test_an_open_document_that_is_no_workbook(tmp_path, content):
    assert re.search("damaged|no workbook", refused(tmp_path, packed_ods(content)))


def test_two_sheets_that_read_alike(tmp_path):
    content = edited(blank_form(), lambda book: book.create_sheet("PIERS "))
    assert "there are two sheets 'Piers': 'Piers' and 'PIERS '" in refused(tmp_path, content)


def test_moved_columns_and_inserted_rows_are_read_all_the_same(tmp_path):
    def move(book):
        piers = book["Piers"]
        last = piers.max_column
        for row in range(1, piers.max_row + 1):
            cells = [piers.cell(row, column).value for column in range(1, last + 1)]
            for column, value in enumerate(reversed(cells), start=1):
                piers.cell(row, column).value = value
        piers.insert_rows(1, 3)
        piers.insert_rows(20, 2)
        book["Site"].insert_rows(10, 2)
        book["Site"].insert_cols(1)
        book["Walls"].title = " walls"
        book.create_sheet("Empty", 0)["C3"] = " "
        book.move_sheet("Soil", -3)

    survey, problems = read(tmp_path, edited(filled_form(), move))
    assert problems == ()
    assert plain(survey) == plain(full_survey())
    with zipfile.ZipFile(tmp_path / "survey.xlsx") as saved:
        assert saved.testzip() is None
    book = openpyxl.load_workbook(tmp_path / "survey.xlsx")
    for row in survey.piers[:1] + survey.piers[-1:]:
        for word in ("station", "wall of pier"):
            sheet, cell = row.answers[word].where.split("!")
            assert sheet == "Piers"
            written = book[sheet][cell].value
            assert written == ("W1" if word == "wall of pier" else "250 ft")


# What stands outside the questions


ELSEWHERE = (
    "nothing outside the questions of the form: not read; put it where it is asked for, or in "
    "'remarks' on sheet 'Plan', and clear the cell"
)


def stray(folder, change):
    """The problems that a change to the form makes; no answer may change by it."""
    survey, problems = read(folder, edited(filled_form(), change))
    assert plain(survey) == plain(full_survey())
    return problems


@pytest.mark.parametrize(
    ("sheet", "cell"),
    [
        ("Piers", "AZ7"), ("Piers", "AZ1"), ("Utilities", "Z200"), ("Walls", "DZ9"),
        ("Site", "G9"), ("Site", "B400"), ("Site", "A400"), ("Site", "C200"), ("Site", "F1"),
        ("Start", "F5"), ("Start", "B90"), ("Soil", "Q3"), ("Soil", "Q5"), ("Kit", "E30"),
    ],
)  # fmt: skip
@pytest.mark.parametrize(("value", "text"), [("gas line unmarked", None), (42, "42"), (0, "0")])
def test_a_cell_outside_the_questions_is_a_problem(tmp_path, sheet, cell, value, text):
    def write(book):
        book[sheet][cell] = value

    assert [str(problem) for problem in stray(tmp_path, write)] == [
        f"{sheet}!{cell}: read '{text or value}', expected {ELSEWHERE}"
    ]


def test_a_note_in_the_empty_help_beside_an_answer_is_a_problem(tmp_path):
    question = Word(
        "dog", Subject.SITE, Kind.YES_NO, Origin.SEEN, "Is there a dog?", choices=("yes", "no")
    )
    vocabulary = VOCABULARY.extended([question])
    path = tmp_path / "form.xlsx"
    write_form(path, vocabulary=vocabulary)
    book = openpyxl.load_workbook(path)
    place = site_answer(book, "dog")
    assert place.offset(column=2).value is None
    place.offset(column=2).value = "two of them"
    book.save(path)
    _survey, (problem,) = read_survey(open_survey(path, vocabulary), vocabulary)
    assert (problem.read, problem.expected) == ("two of them", ELSEWHERE)


def test_a_note_above_the_headings_is_a_problem(tmp_path):
    def write(book):
        for sheet in ("Piers", "Site"):
            book[sheet].insert_rows(1, 3)
            book[sheet]["B2"] = "gas line unmarked"

    assert [problem.where for problem in stray(tmp_path, write)] == ["Site!B2", "Piers!B2"]


def test_a_note_below_the_rows_is_never_lost(tmp_path):
    def write(book):
        book["Utilities"]["A90"] = "see the other drawing"

    survey, _problems = read(tmp_path, edited(filled_form(), write))
    assert survey.utilities[-1].label == "see the other drawing"
    assert survey.utilities[-1].value("utility kind") is NOT_KNOWN


@pytest.mark.parametrize("blank", [" ", "\n", "\u200b", "\u00a0", ""])
def test_nothing_that_can_be_seen_is_no_problem(tmp_path, blank):
    def write(book):
        book["Piers"]["AZ7"] = blank
        book.create_sheet("Sheet2")["A1"] = blank
        book.create_sheet("Sheet3")["B3"].number_format = "0.00"

    assert stray(tmp_path, write) == ()


@pytest.mark.parametrize(
    ("name", "target"),
    [("Utilities (2)", "the sheet 'Utilities'"), ("piers2", "the sheet 'Piers'"),
     ("Own notes", "the sheets of the form"), ("a!b", "the sheets of the form")],
)  # fmt: skip
@pytest.mark.parametrize("state", ["visible", "hidden"])
def test_each_row_of_a_sheet_that_is_not_of_the_form_is_a_problem(tmp_path, name, target, state):
    def add(book):
        sheet = book.create_sheet(name, 0)
        sheet.sheet_state = state
        sheet["D7"], sheet["C8"] = "gas main", "gas"

    assert [str(problem) for problem in stray(tmp_path, add)] == [
        f"{name}!{cell}: read '{text}', expected no sheet of this name: nothing on it was read; "
        f"put its rows on {target}, where rows may be added at the end, notes in 'remarks' on "
        "sheet 'Plan', and delete this sheet"
        for cell, text in (("D7", "gas main"), ("C8", "gas"))
    ]


def test_a_copied_sheet_is_a_problem(tmp_path):
    problems = stray(tmp_path, lambda book: book.copy_worksheet(book["Utilities"]))
    labels = [utility.label for utility in full_survey().utilities]
    assert [problem.read.split(" | ")[0] for problem in problems[-len(labels) :]] == labels
    for problem in problems:
        assert problem.where.startswith("Utilities Copy!")
        assert "put its rows on the sheet 'Utilities'" in problem.expected


def test_a_sheet_of_another_sort_is_a_problem(tmp_path):
    (problem,) = stray(tmp_path, lambda book: book.create_chartsheet("Picture"))
    assert problem.where == "Picture!A1"
    assert "nothing on it was read" in problem.expected


def test_a_comment_on_a_cell_is_a_problem(tmp_path):
    def comment(book):
        book["Piers"]["C7"].comment = Comment("gas line unmarked", "me")

    (problem,) = stray(tmp_path, comment)
    assert problem.where == "comments on cells"
    assert problem.read == "C7: gas line unmarked"
    assert problem.expected.startswith("none: they are not read;")


def test_two_hundred_cells_are_listed_and_the_others_counted(tmp_path):
    def write(count):
        def fill(book):
            for row in range(count):
                book["Piers"].cell(row + 5, 60, "note")

        return fill

    assert len(stray(tmp_path, write(200))) == 200
    *listed, last = stray(tmp_path, write(201))
    assert len(listed) == 199
    assert str(last) == (
        "Piers!BH204: expected nothing outside the questions of the form, and 2 more cells have "
        "something"
    )


def test_many_sheets_as_large_as_can_be_are_not_all_looked_at(tmp_path):
    def add(book):
        for number in range(60):
            sheet = book.create_sheet(f"Extra {number}")
            sheet["A1"], sheet["DZ9999"] = " ", "x"

    content = edited(blank_form(), add)
    _survey, problems = read(tmp_path, content)
    assert len(problems) == 21
    assert str(problems[-1]) == (
        "Extra 20!A1: expected no sheet but those of the form; nothing on 40 more of them was read"
    )


def test_a_form_without_the_sheet_of_choices_is_read(tmp_path):
    def remove(book):
        del book["Choices"]

    assert stray(tmp_path, remove) == ()


# Cells that are no answer


@pytest.mark.parametrize("fault", ["#DIV/0!", "#REF!", "#N/A", "#NAME?", "#VALUE!"])
@pytest.mark.parametrize("key", ["crew_date", "tolerance_zone", "gas_odour", "job_name"])
def test_a_failed_formula_is_a_problem_and_never_a_number(tmp_path, key, fault):
    where = {}

    def fail(book):
        cell = site_answer(book, key)
        cell.value = fault
        cell.data_type = "e"
        where["cell"] = f"{cell.parent.title}!{cell.coordinate}"

    survey, problems = read(tmp_path, edited(blank_form(), fail))
    assert [str(problem) for problem in problems] == [
        f"{where['cell']}: read '{fault}', expected an answer; the spreadsheet could not work "
        "this cell out"
    ]
    assert survey.site.value(key.replace("_", " ")) is NOT_KNOWN


@pytest.mark.parametrize(("kept", "canonical"), [(b"<v>24</v>", 24.0), (b"<v>24.5</v>", 24.5)])
def test_a_formula_is_read_by_the_value_it_was_saved_with(tmp_path, kept, canonical):
    def calculate(book):
        site_answer(book, "tolerance_zone").value = "=20+4"

    content = edited(blank_form(), calculate)
    spoilt = with_part(
        content,
        part_of("Office"),
        lambda part: re.sub(b"<f>20.4</f><v ?(?:/>|></v>)", b"<f>20+4</f>" + kept + b" ", part),
    )
    survey, problems = read(tmp_path, spoilt)
    assert problems == ()
    assert survey.site.value("tolerance zone") == canonical


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        '=HYPERLINK("file://x")',
        "+1+1",
        "@SUM(A1)",
        "-2+3",
        "<script>alert(1)</script>",
        "{{ 7*7 }}",
        "{% raw %}",
        "'; DROP TABLE piers",
        "../../etc/passwd",
        "_x0041_",
        "&amp; &lt;",
    ],
)
def test_text_stays_text_whatever_it_looks_like(tmp_path, text):
    def write(book):
        cell = site_answer(book, "job_name")
        cell.value = text.replace("_x", "_x005F_x")
        cell.data_type = "s"

    survey, problems = read(tmp_path, edited(blank_form(), write))
    assert problems == ()
    assert survey.site.value("job name") == text


@pytest.mark.parametrize("text", [" ", "\n", "\u200b", "\u00a0", "\t \u202e"])
def test_a_cell_in_which_nothing_can_be_seen_is_blank(tmp_path, text):
    content = json.dumps({"pier_survey": 1, "site": {"competent_person": text}}).encode()
    survey, problems = read(tmp_path, content, "survey.json")
    assert problems == ()
    assert survey.site.value("competent person") is NOT_KNOWN


def test_a_text_too_long_for_a_cell(tmp_path):
    def write(part):
        return part.replace(b"<t>W1</t>", b"<t>" + b"W" * 40_000 + b"</t>", 1)

    message = refused(tmp_path, with_part(filled_form(), PIERS, write))
    assert ": the text is longer than 32,767 characters" in message
    assert f"{tmp_path / 'survey.xlsx'}: Piers!B6" in message


def test_reading_a_workbook_loads_no_heavy_library():
    heavy = ("openpyxl", "pandas", "pydantic", "shapely", "jinja2", "lark")
    program = (
        "import sys, pathlib, survey.workbook as w; w.open_survey(pathlib.Path(sys.argv[1]));"
        f"print([m for m in {heavy!r} if m in sys.modules])"
    )
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "survey.xlsx"
        path.write_bytes(blank_form())
        done = subprocess.run(
            [sys.executable, "-c", program, str(path)], check=True, capture_output=True, text=True
        )
    assert done.stdout.strip() == "[]"
