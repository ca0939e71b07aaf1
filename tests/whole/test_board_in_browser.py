"""The board in a real browser: its filters work, it is accessible, and it asks for nothing."""

import dataclasses
import datetime as dt
import io

import pypdf
import pytest

from survey.jobs.board import board
from survey.jobs.board_page import render_board
from survey.jobs.job import job_of
from survey.jobs.judging import Checked, Unread
from tests.browser import browser as one_browser
from tests.browser import needs_browser
from tests.made_assessments import EACH_VERDICT

pytestmark = [
    needs_browser,
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]
TOWNS = ("Millbrook", "Quillmere")


def made():
    jobs = [
        Checked(
            f"{town}/{verdict}.xlsx".lower(), f"sheets/{town}/{verdict}.html",
            dataclasses.replace(job_of(judged()), job=f"{verdict} at {town}", town=town),
        )
        for town in TOWNS
        for verdict, judged in EACH_VERDICT.items()
    ]  # fmt: skip
    bad = Checked("torn.xlsx", "", Unread("torn.xlsx: no workbook. Save it again."))
    return board([*jobs, bad], "jobs", dt.date(2026, 11, 26), None, "abc")


BOARD = made()


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    with one_browser(tmp_path_factory.mktemp("board")) as opened:
        yield opened


def shown(seen):
    return [
        row.get_attribute("data-verdict") + " " + row.get_attribute("data-town")
        for row in seen.page.locator(".jobs tbody tr").all()
        if row.is_visible()
    ]


@pytest.mark.parametrize("width", [390, 1300])
def test_it_is_accessible_and_asks_for_nothing(browser, width):
    with browser.open(render_board(BOARD), width) as seen:
        assert not seen.faults(contrast=True)
        assert not seen.said
        assert not seen.asked_for
        wide = seen.page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width


def test_the_filters_hide_rows_and_say_how_many_are_left(browser):
    with browser.open(render_board(BOARD), 1300) as seen:
        page, everything = seen.page, len(BOARD.rows)
        assert len(shown(seen)) == everything
        told = page.locator(".choose output")
        assert told.inner_text() == f"{everything} of {everything} jobs"

        page.get_by_label("Town").select_option("Quillmere")
        assert {one.split(" ")[-1] for one in shown(seen)} == {"Quillmere"}
        page.get_by_label("Verdict").select_option("NO-GO")
        assert shown(seen) == ["NO-GO Quillmere"]
        assert told.inner_text() == f"1 of {everything} jobs"
        page.get_by_label("Town").select_option("")
        assert shown(seen) == ["NO-GO Quillmere", "NO-GO Millbrook"] or shown(seen) == [
            "NO-GO Millbrook", "NO-GO Quillmere",
        ]  # fmt: skip
        page.get_by_label("Verdict").select_option("")

        page.get_by_label("Can start").check()
        assert len(shown(seen)) == sum(row.can_start for row in BOARD.rows) > 0
        page.get_by_label("Can start").uncheck()

        page.get_by_label("Waits for").select_option("surveyor")
        assert len(shown(seen)) == sum("surveyor" in row.next for row in BOARD.rows) > 0
        page.get_by_label("Waits for").select_option("")

        page.get_by_label("Text").fill("save  TORN")
        assert shown(seen) == ["NO VERDICT "]
        page.get_by_label("Text").fill("nothing has this")
        assert shown(seen) == []
        page.get_by_label("Text").press("Enter")
        assert not seen.asked_for
        assert not seen.said


def test_without_its_script_every_row_stands_there(browser):
    text = render_board(BOARD).replace("script-src 'sha256-", "script-src 'sha256-no")
    with browser.open(text, 1300) as seen:
        assert len(shown(seen)) == len(BOARD.rows)
        assert not seen.page.locator(".choose").is_visible()


def test_it_prints_whole(browser):
    with browser.open(render_board(BOARD), 1300) as seen:
        printed = seen.page.pdf(prefer_css_page_size=True)
    pages = pypdf.PdfReader(io.BytesIO(printed)).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for row in BOARD.rows:
        assert row.said in text
    box = pages[0].mediabox
    assert box.width > box.height
