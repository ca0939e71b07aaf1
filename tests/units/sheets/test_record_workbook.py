"""The workbook of a record: what stands in it, how, and what it never writes over."""

import datetime as dt
import io
import re
import time
import zipfile

import openpyxl
import pytest

from survey.errors import UserError
from survey.sheets import record
from survey.sheets.record_workbook import is_record_workbook, write_record_workbook
from survey.workbook import write_form
from tests.made_assessments import EACH_VERDICT, judged, no_go

FORMULAS = ["=1+1", "+1", "-1", "@A1", "\t=1", "\r=1", '=HYPERLINK("http://192.0.2.1","x")', "#N/A"]


@pytest.fixture
def file(tmp_path):
    return tmp_path / "14 record.xlsx"


def read(file):
    """The rows of each sheet, by the headings of its columns."""
    book = openpyxl.load_workbook(file)
    found = {}
    for sheet in book.worksheets:
        head, *rows = sheet.iter_rows(values_only=True)
        found[sheet.title] = [dict(zip(head, row, strict=True)) for row in rows]
    return found


def day(year, month, number):
    """A day as it is read out of a cell."""
    return dt.datetime.combine(dt.date(year, month, number), dt.time())


def with_text(text):
    """A record whose every free text is this one."""
    made = record(no_go(1))
    made["site"] |= {"job_name": text, "address": text}
    made["findings"][0]["say"] = text
    return made


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_it_says_what_the_record_says(file, verdict):
    made = record(EACH_VERDICT[verdict]())
    write_record_workbook(made, file)
    sheets = read(file)
    said = {row["What"]: row["Says"] for row in sheets["Verdict"]}
    assert said["Verdict"] == verdict
    assert said["Answers"] == made["answers_fingerprint"]
    assert [(r["Pier"], r["Verdict"]) for r in sheets["Piers"]] == [
        (pier["pier"], pier["verdict"]) for pier in made["piers"]
    ]
    assert [(r["Code"], r["Outcome"], r["Place"], r["What was found"]) for r in
            sheets["Findings"]] == [
        (f["code"], f["outcome"], f["place"], f["say"]) for f in made["findings"]
    ]  # fmt: skip
    assert len(sheets["Reasons"]) == sum(
        len(one["reasons"]) for one in (*made["findings"], *made["chained"])
    )
    for name, rows in sheets.items():
        if name != "Verdict":
            assert said[f"Rows of sheet {name}"] == len(rows)


def test_days_are_days_numbers_are_numbers_and_not_known_is_said(file):
    made = record(no_go(2))
    made["site"] |= {"crew_date": "2026-12-01", "last_crew_date": None, "survey_date": "2026-13-01"}
    made["plan"] |= {"earliest": "2026-11-30", "latest": None, "rounds": [["P2"]], "lines": ["."]}
    write_record_workbook(made, file)
    sheets = read(file)
    said = {row["What"]: row["Says"] for row in sheets["Verdict"]}
    assert said["First day of the crew"] == day(2026, 12, 1)
    assert said["Last day of the crew"] == "not known"
    assert said["Surveyed on"] == "2026-13-01"  # no day of any calendar
    assert [row["Day"] for row in sheets["Days"]][:2] == [day(2026, 11, 30), "not known"]
    assert [row["Round"] for row in sheets["Piers"]] == ["not known", 1]


@pytest.mark.parametrize("text", FORMULAS)
def test_what_looks_like_a_formula_is_text(file, text):
    write_record_workbook(with_text(text), file)
    book = openpyxl.load_workbook(file)
    cell = next(
        c for row in book["Verdict"] for c in row if row[0].value == "Address" and c.column == 2
    )
    assert cell.data_type == "s"
    assert cell.value == text.replace("\r", "\N{REPLACEMENT CHARACTER}")
    assert cell.quotePrefix == (text[0] != "#")
    assert b"<f>" not in b"".join(parts(file).values())


def test_no_cell_of_it_is_a_formula_or_leads_out(file):
    write_record_workbook(with_text("=cmd|'/c x'!A1"), file)
    cells = [c for sheet in openpyxl.load_workbook(file) for row in sheet.rows for c in row]
    assert len(cells) > 500
    assert not [cell for cell in cells if cell.data_type in "fe" or cell.hyperlink]
    assert not [name for name in parts(file) if "external" in name.lower()]
    assert b'TargetMode="External"' not in b"".join(parts(file).values())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\x00b\x1b[31m\x7f", "a\ufffdb\ufffd[31m\ufffd"),
        ("right\u202eleft\ufffe\uffff", "right\ufffdleft\ufffd\ufffd"),
        ("half \ud83d", "half \ufffd"),
        ("_x0041_ and _x000D_", "_x0041_ and _x000D_"),
        ("two\nlines", "two\nlines"),
        ("\N{HAMMER}\N{HEBREW LETTER ALEF}" * 20, "\N{HAMMER}\N{HEBREW LETTER ALEF}" * 20),
        ("<script>&amp;", "<script>&amp;"),
    ],
)
def test_a_text_is_shown_as_it_is_but_for_control_characters(file, text, shown):
    write_record_workbook(with_text(text), file)
    address = next(r["Says"] for r in read(file)["Verdict"] if r["What"] == "Address")
    assert re.sub("_x005F_", "_", address) == shown


@pytest.mark.parametrize("letter", ["x", "\N{HAMMER}", "_x0041_"])
def test_a_text_that_is_too_long_for_a_cell_is_cut_and_says_so(file, letter):
    write_record_workbook(with_text(letter * 40_000), file)
    address = next(r["Says"] for r in read(file)["Verdict"] if r["What"] == "Address")
    assert len(address.encode("utf-16-le")) // 2 <= 32_767
    assert len(address.encode("utf-16-le")) // 2 > 32_700
    assert address.endswith("(cut here: too long for a cell)")
    write_record_workbook(with_text("y" * 32_767), file)
    assert "y" * 32_767 in [row["Says"] for row in read(file)["Verdict"]]


def test_the_same_record_gives_the_same_bytes_at_any_hour(file, monkeypatch):
    made = record(no_go())
    write_record_workbook(made, file)
    first = file.read_bytes()
    hour = time.localtime(2_000_000_000)
    monkeypatch.setattr(time, "localtime", lambda *_: hour)
    write_record_workbook(made, file)
    assert file.read_bytes() == first
    assert all(info.date_time[0] == 1980 for info in zipfile.ZipFile(file).infolist())
    assert b"1980-01-01T00:00:00Z" in parts(file)["docProps/core.xml"]
    assert not re.search(rb"20[2-9]\d-\d\d-\d\dT", parts(file)["docProps/core.xml"])


def test_every_sheet_has_a_head_that_stays_filters_and_a_print_set_up(file):
    write_record_workbook(record(no_go()), file)
    for sheet in openpyxl.load_workbook(file).worksheets:
        assert sheet.freeze_panes == "A2"
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.auto_filter.ref == sheet.dimensions
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert all(cell.alignment.wrap_text for row in sheet.rows for cell in row)
        assert sheet.protection.sheet is False


def test_an_earlier_one_is_replaced_and_nothing_else_is_written_over(file, tmp_path):
    write_record_workbook(record(no_go()), file)
    assert is_record_workbook(file)
    write_record_workbook(record(no_go(2)), file)
    assert [row["Pier"] for row in read(file)["Piers"]] == ["P1", "P2"]
    assert [one.name for one in tmp_path.iterdir()] == [file.name]

    survey = tmp_path / "survey.xlsx"
    write_form(survey)
    marked_name = tmp_path / "marked name.xlsx"
    with zipfile.ZipFile(marked_name, "w") as package:
        package.writestr("docProps/core.xml", "pier-survey record")
    for other, content in {
        survey: survey.read_bytes(), marked_name: marked_name.read_bytes(), tmp_path / "t": b"text",
        tmp_path / "empty": b"", tmp_path / "cut": file.read_bytes()[:-100],
    }.items():  # fmt: skip
        other.write_bytes(content)
        assert not is_record_workbook(other)
        with pytest.raises(UserError, match="not an earlier workbook of the record"):
            write_record_workbook(record(no_go()), other)
        assert other.read_bytes() == content
    with pytest.raises(UserError, match="not an earlier workbook"):
        write_record_workbook(record(no_go()), tmp_path)


def test_a_damaged_package_is_not_ours(file):
    write_record_workbook(record(no_go(1)), file)
    content = file.read_bytes()
    marked = content.index(b"docProps/custom.xml") + len(b"docProps/custom.xml")
    file.write_bytes(content[:marked] + b"\xff" * 20 + content[marked + 20 :])
    assert not is_record_workbook(file)


def test_what_a_release_rests_on_is_a_condition_and_stands_once_a_release(file):
    made = judged(
        piers=2, every_pier={"pit depth": "5 ft"}, site={},
    )  # fmt: skip
    one = record(made)
    finding = one["findings"][0]
    release = {
        "label": "R1", "finding": finding["code"], "place": "P1", "person": "T. Aldermoor",
        "role": "licensed engineer", "licence": "PE 0", "date": "2026-11-20", "end": "not known",
        "note": "Pits one at a time.", "cell": "Releases!row 6",
    }  # fmt: skip
    other = {**release, "label": "R2", "cell": "Releases!row 7"}
    finding |= {
        "release": release, "also_released": [other],
        "refused": [{"release": {**release, "label": "R3"}, "why": "it has ended"}],
    }  # fmt: skip
    one["unused_releases"] = [{"release": {**release, "label": "R4"}, "why": "no such finding"}]
    write_record_workbook(one, file)
    sheets = read(file)
    assert [(r["What to do"], r["From"][:10]) for r in sheets["Conditions"]][:2] == [
        ("Pits one at a time.", "release R1"),
        ("Pits one at a time.", "release R2"),
    ]
    assert sheets["Findings"][0]["Released"] == "yes"
    place = finding["place"]
    assert [
        (r["Release"], r["Lifts it at"], r["Does not lift it at"], r["Why not"])
        for r in sheets["Releases"]
    ] == [
        ("R1", place, None, None),
        ("R2", place, None, None),
        ("R3", None, place, "it has ended"),
        ("R4", None, None, "no such finding"),
    ]
    assert sheets["Releases"][0]["Given on"] == day(2026, 11, 20)
    assert sheets["Releases"][0]["Last day"] == "not known"


def test_what_changed_since_the_last_check_stands_in_it(file):
    made = record(no_go(1))
    made["since"] = {
        "note": "", "program": None, "verdict": {"before": "GO", "now": "NO-GO"},
        "answers": [{"word": "pit depth", "of": ["P1", "P2"], "before": "4 ft", "now": "5 ft",
                     "cells": ["Piers!F6"]}],
        "rows": [{"change": "added", "kind": "pier", "label": "P2", "cell": "Piers!row 7"}],
        "piers": [{"piers": ["P2"], "before": None, "now": "GO"}],
    }  # fmt: skip
    write_record_workbook(made, file)
    assert [tuple(row.values()) for row in read(file)["Since the last check"]] == [
        ("verdict", None, "GO", "NO-GO"),
        ("answers", "pit depth, P1, P2, Piers!F6", "4 ft", "5 ft"),
        ("rows", "pier, P2, Piers!row 7", None, "added"),
        ("piers", "P2", "none", "GO"),
    ]


def parts(file):
    with zipfile.ZipFile(io.BytesIO(file.read_bytes())) as package:
        return {name: package.read(name) for name in package.namelist()}
