"""What is kept of a survey holds only while nothing that it was made from has changed."""

import dataclasses
import datetime as dt
import os
import shutil
import time

import pytest

from survey.assessment.decision import Verdict
from survey.jobs import judging, running
from survey.jobs.judging import Task, Unread, check_one, kept_before
from survey.jobs.running import _same_sheet, check_all
from survey.resources import folder
from survey.rulebook.book import load_book

BOOK = load_book()
DEMO = folder("demo_sites") / "01-fennel-house.xlsx"
TODAY = dt.date(2026, 11, 26)


@pytest.fixture
def task(tmp_path):
    (tmp_path / "jobs" / "north").mkdir(parents=True)
    shutil.copy(DEMO, tmp_path / "jobs" / "north" / "a.xlsx")
    return Task(tmp_path / "jobs", tmp_path / "out", None, TODAY)


FILE = "north/a.xlsx"


def test_a_checked_survey_has_its_pages_and_is_kept_as_it_was(task):
    checked = check_one(task, FILE, BOOK)
    assert checked.result.verdict is Verdict.GO_WITH_CONDITIONS
    assert (task.out / checked.sheet).is_file()
    assert kept_before(task, FILE, BOOK) == checked


@pytest.mark.parametrize(
    "change",
    ["survey", "rules", "program", "day", "page altered", "page gone", "kept damaged",
     "kept of another"],
)  # fmt: skip
def test_what_was_made_from_something_else_is_made_again(task, change, monkeypatch):
    checked = check_one(task, FILE, BOOK)
    assert kept_before(task, FILE, BOOK) is not None
    survey, sheet, book = task.folder / FILE, task.out / checked.sheet, BOOK
    (kept,) = (task.out / "checked").iterdir()
    if change == "survey":
        shutil.copy(folder("demo_sites") / "02-brine-street.xlsx", survey)
    elif change == "rules":
        book = dataclasses.replace(BOOK, fingerprint="another")
    elif change == "program":
        monkeypatch.setattr(judging, "_program", lambda: "another")
    elif change == "day":
        task = dataclasses.replace(task, on=TODAY)
    elif change == "page altered":
        sheet.write_text(sheet.read_text("utf-8").replace("GO WITH", "NO  GO  WITH"), "utf-8")
    elif change == "page gone":
        sheet.unlink()
    elif change == "kept damaged":
        kept.write_bytes(kept.read_bytes()[:-30])
    else:
        other = task.out / "checked" / judging._place(task, "north/b.xlsx").name
        kept.replace(other)
        shutil.copy(survey, task.folder / "north" / "b.xlsx")
        assert kept_before(task, "north/b.xlsx", book) is None
    assert kept_before(task, FILE, book) is None


def test_another_day_of_reading_changes_nothing(task):
    checked = check_one(task, FILE, BOOK)
    later = dataclasses.replace(task, today=TODAY + dt.timedelta(3))
    assert kept_before(later, FILE, BOOK) == checked


def test_a_clock_that_was_once_ahead_is_told_once_and_the_result_kept(task):
    check_one(dataclasses.replace(task, today=dt.date(2099, 1, 2)), FILE, BOOK)
    shutil.copy(folder("demo_sites") / "02-brine-street.xlsx", task.folder / FILE)
    told = check_one(task, FILE, BOOK)
    (note,) = told.result.notes
    assert "0001.json.gz: this record was kept on Fri 02 Jan 2099" in note
    assert kept_before(task, FILE, BOOK) == dataclasses.replace(
        told, result=dataclasses.replace(told.result, notes=())
    )


def test_what_killed_runs_left_a_day_ago_is_removed(task):
    check_one(task, FILE, BOOK)
    places = [task.out, task.out / "checked", task.out / "sheets" / "north"]
    for place in places:
        for name, age in ((".0123456789abcdef.part", 25), (".fedcba9876543210.part", 23)):
            (place / name).write_text("half")
            os.utime(place / name, (time.time() - age * 3600,) * 2)
    check_all(task, BOOK, None)
    for place in places:
        assert [file.name for file in place.glob("*.part")] == [".fedcba9876543210.part"]


def test_what_passes_is_noted_and_looked_at_again_the_next_time(task):
    mark = task.folder / "north" / ".~lock.a.xlsx#"
    history = task.out / "sheets" / "north" / "a history"
    mark.write_text("somebody")
    (open_there,) = check_one(task, FILE, BOOK).result.notes
    assert ".~lock.a.xlsx# stands beside it" in open_there
    assert kept_before(task, FILE, BOOK) is None
    mark.unlink()
    (history / "0001.json.gz").unlink()
    history.rmdir()
    history.write_text("mine")
    (unkept,) = check_one(task, FILE, BOOK).result.notes
    assert "the record can't be kept there" in unkept
    assert kept_before(task, FILE, BOOK) is None
    history.unlink()
    assert check_one(task, FILE, BOOK).result.notes == ()
    assert kept_before(task, FILE, BOOK) is not None
    assert (history / "0001.json.gz").is_file()


@pytest.mark.parametrize("content", [b"", b"no workbook", b"PK\x03\x04 cut off"])
def test_a_bad_file_is_a_result_with_its_message(task, content):
    (task.folder / FILE).write_bytes(content)
    checked = check_one(task, FILE, BOOK)
    assert isinstance(checked.result, Unread)
    assert "a.xlsx" in checked.result.message
    assert not checked.result.fault
    assert kept_before(task, FILE, BOOK) is None


def test_a_fault_of_the_program_is_a_result_too(task, monkeypatch):
    monkeypatch.setattr(judging, "assess", lambda *given: 1 / 0)
    result = check_one(task, FILE, BOOK).result
    assert result.fault
    assert "ZeroDivisionError" in result.message


def test_a_survey_that_changes_while_it_is_read_is_not_judged(task, monkeypatch):
    real, count = judging.open_survey, iter(range(100))

    def read_while_written(file, vocabulary):
        found = real(file, vocabulary)
        (task.folder / FILE).write_bytes(DEMO.read_bytes() + bytes([next(count)]))
        return found

    monkeypatch.setattr(judging, "open_survey", read_while_written)
    result = check_one(task, FILE, BOOK).result
    assert isinstance(result, Unread)
    assert "changes while it is read" in result.message


def test_a_page_of_somebody_else_is_left_alone_and_told(task):
    sheet = task.out / "sheets" / "north" / "a.html"
    sheet.parent.mkdir(parents=True)
    sheet.write_text("mine", "utf-8")
    result = check_one(task, FILE, BOOK).result
    assert isinstance(result, Unread)
    assert "left alone" in result.message
    assert sheet.read_text("utf-8") == "mine"


def test_two_surveys_of_one_name_are_told_from_each_other():
    same = _same_sheet(["a.xlsx", "A.json", "b/a.xlsx", "c.xlsx"])
    assert same == {"a.xlsx": ["A.json"], "A.json": ["a.xlsx"], "b/a.xlsx": [], "c.xlsx": []}


def test_what_is_judged_for_another_day_stands_apart_from_what_is_judged_as_booked(task):
    as_booked = check_one(task, FILE, BOOK)
    moved = dataclasses.replace(task, on=dt.date(2026, 12, 9))
    on_the_day = check_one(moved, FILE, BOOK)
    assert on_the_day.sheet == "sheets for 2026-12-09/north/a.html"
    assert on_the_day.result.crew_day == moved.on
    assert as_booked.result.crew_day != moved.on
    assert kept_before(task, FILE, BOOK) == as_booked
    assert kept_before(moved, FILE, BOOK) == on_the_day


def test_rules_that_were_changed_since_the_run_began_judge_nothing(task):
    running._start(task, None, "another")
    checked = running._check(FILE)
    assert isinstance(checked.result, Unread)
    assert "rules were changed" in checked.result.message
    running._start(task, None, BOOK.fingerprint)
    assert not isinstance(running._check(FILE).result, Unread)


def test_another_run_that_writes_the_pages_in_between_is_noticed(task, monkeypatch):
    real = judging.write_sheet

    def written_over(assessment, folder, photos, **given):
        written = real(assessment, folder, photos, **given)
        written.sheet.write_text(written.sheet.read_text("utf-8").replace("GO", "NO"), "utf-8")
        return written

    monkeypatch.setattr(judging, "write_sheet", written_over)
    check_one(task, FILE, BOOK)
    assert kept_before(task, FILE, BOOK) is None


def test_what_was_kept_and_altered_by_hand_is_not_believed(task):
    check_one(task, FILE, BOOK)
    (kept,) = (task.out / "checked").iterdir()
    kept.write_text(kept.read_text("utf-8").replace("GO WITH CONDITIONS", "GO"), "utf-8")
    assert kept_before(task, FILE, BOOK) is None


def test_a_survey_that_was_opened_since_is_looked_at_again(task):
    check_one(task, FILE, BOOK)
    (task.folder / "north" / "~$a.xlsx").write_bytes(b"somebody")
    assert kept_before(task, FILE, BOOK) is None


def test_a_history_that_was_removed_is_begun_again(task):
    checked = check_one(task, FILE, BOOK)
    shutil.rmtree((task.out / checked.sheet).parent / "a history")
    assert kept_before(task, FILE, BOOK) is None


@pytest.mark.parametrize("change", ["second evaluator", "library"])
def test_what_judges_besides_the_program_counts_too(monkeypatch, change):
    before = judging._program.__wrapped__()
    assert judging._program.__wrapped__() == before
    if change == "library":
        monkeypatch.setattr(judging.metadata, "version", lambda name: "0.0.1")
    else:
        monkeypatch.setattr(judging.production, "available", lambda: "other")
    assert judging._program.__wrapped__() != before


def test_where_nothing_can_be_kept_the_job_still_has_its_verdict(task):
    task.out.mkdir()
    (task.out / "checked").write_text("in the way", "utf-8")
    checked = check_one(task, FILE, BOOK)
    assert checked.result.verdict is Verdict.GO_WITH_CONDITIONS
    assert kept_before(task, FILE, BOOK) is None


@pytest.mark.skipif(os.name == "nt", reason="names of files are text there")
def test_a_name_of_a_file_that_is_no_text_is_told_and_stops_nothing(task):
    try:
        (task.folder / os.fsdecode(b"caf\xe9.xlsx")).write_bytes(b"x")
    except (OSError, UnicodeError):
        pytest.skip("no such names here")
    number, checked = running.check_all(task, BOOK, None)
    found = {one.file: one.result for one in checked}
    assert number == len(found) == 2
    assert found[FILE].verdict is Verdict.GO_WITH_CONDITIONS
    assert "can't be written down" in found["caf\\xe9.xlsx"].message
