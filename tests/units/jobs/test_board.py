"""The board: order, days, who acts next; nothing that is not known looks like something good."""

import dataclasses
import datetime as dt
import json
import re

import openpyxl
import pytest

from survey.assessment.decision import Verdict
from survey.errors import UserError
from survey.jobs.board import board, jobs_frame, owed_frame
from survey.jobs.board_page import MARKER, render_board, write_board
from survey.jobs.board_workbook import write_board_workbook
from survey.jobs.job import Window, job_of
from survey.jobs.judging import Checked, Unread
from tests.made_assessments import EACH_VERDICT, RELEASE, judged
from tests.pages import Page

TODAY = dt.date(2026, 11, 26)
FORMULA = '=HYPERLINK("http://192.0.2.1","x")'


def checked(name, made, **changes):
    job = dataclasses.replace(job_of(made), name=name, job=name, **changes)
    return Checked(f"{name}.xlsx", f"sheets/{name}.html", job)


EVERY = [checked(verdict, made()) for verdict, made in EACH_VERDICT.items()]
BAD = Checked("torn.xlsx", "", Unread("torn.xlsx: no workbook. Save it again."))
FAULT = Checked("odd.xlsx", "", Unread("a fault of the program, at x.py:1", fault=True))
GO = checked("elm", EACH_VERDICT["GO WITH CONDITIONS"]())


def made(*jobs, today=TODAY):
    return board(jobs, "jobs", today, None, "abc")


def only(job, today=TODAY):
    (row,) = made(job, today=today).rows
    return row


def test_what_can_start_stands_first_and_what_has_no_verdict_last():
    shown = made(FAULT, *reversed(EVERY), BAD)
    assert [row.said for row in shown.rows] == [
        *(v.value for v in Verdict if v.value in EACH_VERDICT), "NO VERDICT", "NO VERDICT",
    ]  # fmt: skip
    starts = [row.can_start for row in shown.rows]
    assert starts == sorted(starts, reverse=True)
    assert sum(shown.counts.values()) == len(shown.rows)


def test_of_two_that_can_start_the_earlier_stands_first():
    days = [dt.date(2026, 12, 3), dt.date(2026, 11, 20), None, dt.date(2026, 12, 1)]
    jobs = [
        dataclasses.replace(GO, file=str(place), result=dataclasses.replace(
            GO.result, earliest=Window(day, ())))
        for place, day in enumerate(days)
    ]  # fmt: skip
    assert [row.file for row in made(*jobs).rows] == ["1", "3", "0", "2"]
    assert [row.earliest for row in made(*jobs).rows] == [
        "today", "Tue 01 Dec 2026", "Thu 03 Dec 2026", "not known",
    ]  # fmt: skip


def test_a_crew_date_that_has_passed_can_not_start():
    job = GO.result
    on_the_day, after = only(GO, job.crew_day), only(GO, job.crew_day + dt.timedelta(1))
    assert on_the_day.can_start
    assert on_the_day.next == ("crew",)
    assert not after.can_start
    assert after.next == ("scheduler",)
    assert "passed" in after.owed[-1].about


@pytest.mark.parametrize("change", [{"crew_day": None}, {"piers": ()}])
def test_a_go_without_a_day_or_a_pier_starts_nothing(change):
    row = only(dataclasses.replace(GO, result=dataclasses.replace(GO.result, **change)))
    assert not row.can_start
    assert row.next
    assert row.next != ("crew",)


@pytest.mark.parametrize(
    ("start", "end", "left", "said"),
    [
        (TODAY, TODAY + dt.timedelta(9), 9, "9 days left"),
        (TODAY, TODAY + dt.timedelta(1), 1, "1 day left"),
        (TODAY, TODAY, 0, "today is its last day"),
        (TODAY, TODAY - dt.timedelta(1), -1, "ran out 1 day ago"),
        (None, TODAY + dt.timedelta(9), 9, "9 days left, first day not known"),
        (TODAY, None, None, "not known"),
    ],
)
def test_days_left_on_the_ticket(start, end, left, said):
    job = dataclasses.replace(GO.result, ticket_start=start, ticket_end=end)
    row = only(dataclasses.replace(GO, result=job))
    assert (row.days_left, row.ticket) == (left, said)


def test_where_the_last_day_has_passed_no_day_is_left():
    job = dataclasses.replace(
        GO.result, earliest=Window(None, ()), latest=Window(TODAY - dt.timedelta(1), ())
    )
    row = only(dataclasses.replace(GO, result=job))
    assert row.earliest == "no day left"
    assert "25 Nov 2026" in row.latest


def test_everything_that_is_owed_stands_in_somebody_s_list_once():
    shown = made(*EVERY, BAD, FAULT)
    owed = [one for row in shown.rows for one in row.owed]
    listed = [debt.owed for person in shown.persons for debt in person.debts]
    assert sorted(map(repr, owed)) == sorted(map(repr, listed))
    assert len(owed_frame(shown.rows)) == len(owed)
    jobs = [person.jobs for person in shown.persons]
    assert jobs == sorted(jobs, reverse=True)
    for person in shown.persons:
        assert {(debt.owed.who, debt.owed.person) for debt in person.debts} == {
            (person.who, person.name)
        }
        assert person.jobs == len({debt.row.file for debt in person.debts})


def test_a_bad_file_is_owed_by_the_surveyor_and_a_fault_by_the_safety_lead():
    bad, fault = only(BAD), only(FAULT)
    assert (bad.next, fault.next) == (("surveyor",), ("safety lead",))
    assert "no workbook" in bad.holding[0].what
    assert "x.py:1" in fault.holding[0].what


def test_an_empty_board_is_a_board():
    assert made().rows == ()
    assert "0 jobs can start" in render_board(made())


def test_the_page_says_what_the_board_says_and_is_sound():
    shown = made(*EVERY, BAD)
    page = Page(render_board(shown))
    assert page.open == []
    text = " ".join(page.sections.values())
    for row in shown.rows:
        assert row.name in text
        for one in row.owed:
            assert " ".join(one.what.split()) in text
    links = [value for name, value in page.attributes if name == "href"]
    assert [link for link in links if link.startswith("sheets/")]


def test_nothing_of_a_survey_becomes_markup_or_an_address():
    text = "</script><script>alert(1)</script>\"' onload=x &amp;"
    job = dataclasses.replace(
        GO.result, job=text, address=text, town=text, surveyor=text, notes=(text,)
    )
    shown = made(Checked(f"{text}.xlsx", f"sheets/{text}?#.html", job), BAD)
    rendered = render_board(shown)
    assert rendered.count("<script>") == 1
    assert "alert(1)</script>" not in rendered.replace("&lt;/script&gt;", "")
    (link,) = set(re.findall('<a href="([^"]*)"', rendered))
    assert not set("<>\"'?#") & set(link)


def test_the_workbook_says_what_the_board_says(tmp_path):
    job = dataclasses.replace(GO.result, job=FORMULA)
    shown = made(*EVERY, BAD, dataclasses.replace(GO, file="f.xlsx", result=job))
    file = tmp_path / "board.xlsx"
    write_board_workbook(shown, file)
    book = openpyxl.load_workbook(file)
    jobs = list(book["Jobs"].iter_rows(values_only=True))
    assert [row[1] for row in jobs[1:]] == [row.said for row in shown.rows]
    assert list(jobs[0]) == [*jobs_frame(shown.rows).columns]
    assert book["Who owes what"].max_row == 1 + sum(len(row.owed) for row in shown.rows)
    assert all(cell.data_type != "f" for sheet in book for row in sheet.iter_rows() for cell in row)
    before = file.read_bytes()
    write_board_workbook(shown, file)
    assert file.read_bytes() == before


def test_nobody_else_s_file_is_written_over(tmp_path):
    page, workbook = tmp_path / "board.html", tmp_path / "board.xlsx"
    for file in (page, workbook):
        file.write_text("mine", "utf-8")
    for write, file in ((write_board, page), (write_board_workbook, workbook)):
        with pytest.raises(UserError, match="left alone"):
            write(made(GO), file)
        assert file.read_text("utf-8") == "mine"
    page.write_text(MARKER, "utf-8")
    write_board(made(GO), page)
    assert len(page.read_text("utf-8")) > 1000


def test_the_site_s_own_words_are_those_of_the_survey():
    job = job_of(judged(site={"address": None, "competent person": None}, releases=(RELEASE,)))
    assert (job.address, job.competent_person, job.surveyor) == ("", "", "R. Ode")
    assert json.dumps(dataclasses.asdict(job), default=str)


def test_a_survey_dated_ahead_starts_nothing():
    row = only(GO, GO.result.survey_day - dt.timedelta(1))
    assert not row.can_start
    assert row.may_go == ()
    assert "surveyor" in row.next
