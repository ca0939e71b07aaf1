"""The figures as a page and as a workbook: they say the same, with what each was counted among."""

import dataclasses
import datetime as dt
import re

import openpyxl
import pytest

from survey.errors import UserError
from survey.jobs.figures import Span, choose, figures
from survey.jobs.figures_page import OF_SURVEYORS, render_figures, write_figures_page
from survey.jobs.figures_workbook import write_figures_workbook
from survey.workbook import write_form
from tests.made_figures import ABOUT, COUNTED, EVER, FIVE, PROMPTS, UNREAD, hostile, job


def text(page):
    """A page without its tags, in one line."""
    return " ".join(re.sub("<[^>]+>", " ", page.partition("<body>")[2]).split())


def section(page, title):
    found = re.search(rf"<h2>{title}</h2>.*?</section>", page, re.DOTALL)
    assert found, title
    return text(f"<body>{found[0]}")


PAGE = render_figures(COUNTED, ABOUT)


def test_every_number_stands_with_its_base_and_there_is_no_percentage():
    assert "5 sites, surveyed on any day." in PAGE
    rules = section(PAGE, "Rules that fire")
    assert "DIG-1 rule DIG-1 stop 2 of 5 sites 3 1 of 5 sites, 3 places 0" in rules
    assert "FOOT-1 rule FOOT-1 engineer 1 of 5 sites 2 0 1 of 5 sites, 5 places" in rules
    assert "stop 2 of 5 sites 1 3" in rules
    answers = section(PAGE, "Answers that are not known")
    assert f"{PROMPTS['pit depth']} pit depth 2 of 5 sites 4 2 of 5 sites 6" in answers
    assert "%" not in text(PAGE)


def test_groups_say_how_many_of_their_own_sites():
    surveyors = section(PAGE, "By surveyor")
    assert "2 of 2 NO-GO" in surveyors
    assert "Findings wait for 2 at 2 sites, 1.0 each" in surveyors
    assert "DIG-1 rule DIG-1 (2 of 2 sites)" in surveyors
    assert f"{PROMPTS['pit depth']} (1 of 2 sites)" in surveyors
    assert OF_SURVEYORS in surveyors
    assert OF_SURVEYORS not in section(PAGE, "By town")
    assert "not given" in section(PAGE, "By town")


def test_what_is_left_out_is_told_above_and_by_name():
    assert "Left out: 1 survey. Not read, so they have no verdict." in text(PAGE)
    assert "torn.xlsx" in section(PAGE, "Left out")
    span = Span(dt.date(2026, 11, 1), dt.date(2026, 11, 30))
    found = figures(choose((*FIVE, job("gum", day=None), job("h", disagreement=True)), span))
    page = render_figures(found, dataclasses.replace(ABOUT, span=span))
    assert "3 sites, surveyed from Sun 01 Nov 2026 to Mon 30 Nov 2026." in text(page)
    left = section(page, "Left out")
    assert re.search(r"survey date is not known.*gum\.xlsx.*other days birch\.xlsx fir\.xlsx", left)
    assert re.search(r"Internal disagreement.*h\.xlsx", left)


@pytest.mark.parametrize(
    ("span", "said"),
    [
        (Span(dt.date(2026, 11, 1), None), "surveyed from Sun 01 Nov 2026 on"),
        (Span(None, dt.date(2026, 11, 1)), "surveyed until Sun 01 Nov 2026"),
    ],
)
def test_an_open_span_is_said_so(span, said):
    assert said in render_figures(COUNTED, dataclasses.replace(ABOUT, span=span))


def test_months_and_charts_are_drawn_and_told_in_words():
    months = section(PAGE, "Verdicts by month")
    assert "Oct 2026 0 0 0 0 0 0" in months
    assert PAGE.count('role="img"') == 5
    assert "Sep 2026: 2 sites; Oct 2026: 0 sites; Nov 2026: 3 sites" in PAGE
    assert "DIG-1 rule DIG-1: 2 of 5 sites; FOOT-1 rule FOOT-1: 1 of 5 sites" in PAGE


def test_rules_that_fired_nowhere_are_counted_and_not_listed():
    found = figures(choose((*FIVE, job("z", asked=())), EVER))
    assert "could not be told and fired nowhere" not in render_figures(found, ABOUT)
    from tests.made_figures import fired

    found = figures(
        choose((*FIVE, job("z", FIVE[0].result.verdict, fired("X-1", "can't be told"))), EVER)
    )
    page = render_figures(found, ABOUT)
    assert "1 rule could not be told and fired nowhere" in page
    assert "X-1" not in text(page)


def test_nothing_counted_is_a_page_too():
    page = render_figures(figures(choose((UNREAD,), EVER)), ABOUT)
    assert "0 sites, surveyed on any day" in page
    assert "By surveyor" not in page
    assert "torn.xlsx" in page


def tables(file):
    sheets = {}
    for sheet in openpyxl.load_workbook(file).worksheets:
        head, *rows = sheet.iter_rows(values_only=True)
        sheets[sheet.title] = [dict(zip(head, row, strict=True)) for row in rows]
    return sheets


def test_the_workbook_has_every_table(tmp_path):
    file = tmp_path / "figures.xlsx"
    write_figures_workbook(COUNTED, ABOUT, file)
    said = tables(file)
    about = {row["What"]: row["Says"] for row in said["About"]}
    assert about["Sites counted"] == 5
    assert about["Left out: Not read, so they have no verdict"] == 1
    assert [tuple(row.values()) for row in said["Rules"]][1] == (
        "DIG-1", "rule DIG-1", "stop", 2, 3, 1, 3, None, None,
    ) or [tuple(row.values()) for row in said["Rules"]][1] == (
        "DIG-1", "rule DIG-1", "stop", 2, 3, 1, 3, 0, 0,
    )  # fmt: skip
    assert [(row["Word"], row["At rows"], row["Not known at rows"])
            for row in said["Answers not known"]] == [
        ("pit depth", 4, 6), ("spoil distance", 0, 8), ("town", 0, 1),
    ]  # fmt: skip
    assert [(row["Surveyor"], row["Sites"], row["NO-GO"]) for row in said["Surveyors"]] == [
        ("R. Ode", 2, 2), ("T. Vale", 2, 0), ("not given", 1, 0),
    ]  # fmt: skip
    assert said["Towns"][0]["Rules that most often hold the crew up"] == "DIG-1 rule DIG-1 (1 of 2)"
    assert [row["Sites"] for row in said["Months"]] == [2, 0, 3]
    assert [row["Survey"] for row in said["Sites"]] == [one.file for one in FIVE]
    assert said["Left out"] == [{"Survey": "torn.xlsx", "Why": "Not read, so they have no verdict"}]
    first = file.read_bytes()
    write_figures_workbook(COUNTED, ABOUT, file)
    assert file.read_bytes() == first


@pytest.mark.parametrize(
    "hurts", ["<script>alert(1)</script>", "=1+1", "a\x00b\x1b[31m\u202e", "x" * 40_000]
)
def test_hostile_texts_are_harmless(tmp_path, hurts):
    found, about = hostile(hurts)
    page = render_figures(found, about)
    assert "<script" not in page
    assert not set(page) & set("\x00\x1b\u202e")
    file = tmp_path / "figures.xlsx"
    write_figures_workbook(found, about, file)
    cells = [c for sheet in openpyxl.load_workbook(file) for row in sheet.rows for c in row]
    assert len(cells) > 100
    assert not [cell for cell in cells if cell.data_type in "fe" or cell.hyperlink]


def test_nothing_of_anybody_else_s_is_written_over(tmp_path):
    page, workbook = tmp_path / "figures.html", tmp_path / "figures.xlsx"
    write_figures_page(COUNTED, ABOUT, page)
    write_figures_page(COUNTED, ABOUT, page)
    page.write_text("somebody's own", "utf-8")
    write_form(workbook)
    before = workbook.read_bytes()
    with pytest.raises(UserError, match=r"figures\.html: something that is not an earlier page"):
        write_figures_page(COUNTED, ABOUT, page)
    with pytest.raises(UserError, match=r"figures\.xlsx: something that is not an earlier work"):
        write_figures_workbook(COUNTED, ABOUT, workbook)
    assert page.read_text("utf-8") == "somebody's own"
    assert workbook.read_bytes() == before
