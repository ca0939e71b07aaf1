"""``check --on`` and ``days`` as a user runs them."""

from __future__ import annotations

import datetime as dt
import json
import re

import pytest

from survey.document import write_document
from survey.workbook import write_form
from tests.demo_surveys import DEMO, careful_house, survey_of, with_changes
from tests.whole.test_commands import demo, run

FENNEL = "01-fennel-house"
RUN = re.compile(r"^(\d{4}-\d\d-\d\d)(?: to (\d{4}-\d\d-\d\d))?(?: \(nobody works\))?: (.+)$", re.M)


def told(ran) -> list[tuple[str, str, str]]:
    return [(first, last or first, said) for first, last, said in RUN.findall(ran.stdout)]


def test_a_demo_site_through_the_winter():
    ran = run("days", demo(FENNEL), "--from", "2026-11-25", "--to", "2027-01-20")
    open_weather = "HOLD until the weather is told; else GO WITH CONDITIONS"
    assert told(ran) == [
        ("2026-11-25", "2026-11-29", "NO-GO"),
        ("2026-11-30", "2026-12-06", open_weather),
        ("2026-12-07", "2026-12-07", "GO WITH CONDITIONS"),
        ("2026-12-08", "2026-12-14", open_weather),
        ("2026-12-15", "2026-12-18", "NO-GO"),
        ("2026-12-19", "2027-01-11", "NO-GO"),
        ("2027-01-12", "2027-01-20", "NO-GO"),
    ]
    text = " ".join(ran.stdout.split())
    for said in (
        "For each day as the crew's first; the form says 2026-12-07.",
        "How long the crew is there: as many working days as booked, 5.",
        "because: LINE-2 crew date before the locate ticket starts",
        "no longer: stop: LINE-2 crew date before the locate ticket starts because the locate "
        "ticket holds from 2026-11-30",
        "now: stop: LINE-3 work that goes on after the locate ticket ends because the locate "
        "ticket ends on 2026-12-18; the crew would be there from 2026-12-15 to 2026-12-21",
        "now: ask: SURVEY-1 survey that is too old because survey age of site would be 31 days "
        "(survey date 2026-11-18); limit 30 days",
        "now: engineer, before: released: FOOT-1 pit dug below our own footing (P1 to P5) because "
        "release R1 (T. Aldermoor) holds from 2026-11-20 to 2027-01-15",
        "now: can't be told: CREW-13 heat where people dig; SOIL-8 frost while pits are open; "
        "WATER-6 heavy rain while pits are open",
        "because the weather of these days is not told yet",
        "Nobody works on: Saturdays and Sundays, 2026-11-26 (Thanksgiving Day)",
        "2026-12-25 (Christmas Day)",
        "Days on which the crew may start: 2026-12-07. Once their weather is told, also: "
        "2026-11-30 to 2026-12-06, 2026-12-08 to 2026-12-14.",
    ):
        assert said in text
    assert max(map(len, ran.stdout.splitlines())) <= 100
    assert (ran.returncode, ran.stderr) == (0, "")


@pytest.mark.parametrize("name", DEMO)
def test_the_form_s_own_day_is_told_as_a_check_tells_it(name, tmp_path):
    ran = run("days", demo(name), "--from", "2026-12-07", "--to", "2026-12-07")
    checked = run("check", demo(name), "--out", tmp_path)
    ((_, _, verdict),) = told(ran)
    assert checked.stdout.startswith(f"{verdict}: ")
    assert ran.returncode == checked.returncode


def test_no_day_of_work_on_which_the_crew_may_start():
    ran = run("days", demo(FENNEL), "--from", "2026-12-12", "--to", "2026-12-13")
    assert ran.returncode == 1
    assert "2026-12-12 to 2026-12-13 (nobody works): HOLD until the weather is told" in ran.stdout
    assert ran.stdout.endswith(
        "Days on which the crew may start: none of these.\n"
        "Once their weather is told, also: 2026-12-12 to 2026-12-13.\n"
    )
    none = run("days", demo("02-brine-street"), "--from", "2026-12-07", "--to", "2026-12-08")
    assert none.returncode == 1
    assert none.stdout.endswith("Days on which the crew may start: none of these.\n")


def test_four_weeks_from_today_if_nothing_is_said():
    before = dt.date.today()  # noqa: DTZ011
    ran = run("days", demo(FENNEL))
    runs = told(ran)
    first, last = runs[0], runs[-1]
    start = dt.date.fromisoformat(first[0])
    assert before <= start <= dt.date.today()  # noqa: DTZ011
    assert dt.date.fromisoformat(last[1]) - start == dt.timedelta(28)


def test_bad_days_are_told_at_once_and_nothing_is_judged():
    ran = run("days", demo(FENNEL), "--from", "2026-13-01", "--to", "3/4/26")
    assert (ran.returncode, ran.stdout) == (2, "")
    first, second = ran.stderr.splitlines()
    assert first.startswith("--from: read '2026-13-01', expected ")
    assert second == (
        "--to: read '3/4/26', expected a date that can be read in one way only: "
        "2026-03-04 or 2026-04-03"
    )
    for last in ("2026-11-30", "2028-01-01"):
        turned = run("days", demo(FENNEL), "--from", "2026-12-01", "--to", last)
        assert turned.returncode == 2
        assert f"from 2026-12-01 to {last}" in turned.stderr
        assert "at most 366 days" in turned.stderr


def test_a_survey_that_can_not_be_read(tmp_path):
    junk = tmp_path / "junk.xlsx"
    junk.write_bytes(b"PK\x03\x04 not really")
    ran = run("days", junk, "--from", "2026-12-01", "--to", "2026-12-02")
    assert ran.returncode == 2
    assert "junk.xlsx" in ran.stderr
    assert "Traceback" not in ran.stderr


def test_cells_to_put_right_hold_every_day(tmp_path):
    document = with_changes(careful_house(), gas_odour="perhaps")
    file = tmp_path / "site.json"
    file.write_text(json.dumps(document), "utf-8")
    ran = run("days", file, "--from", "2026-12-07", "--to", "2026-12-08")
    assert ran.returncode == 1
    assert "To put right on every day: site.gas_odour: read 'perhaps'" in ran.stdout


def test_nothing_in_a_survey_reaches_the_terminal_as_a_command(tmp_path):
    file = tmp_path / "site.json"
    survey = survey_of(with_changes(careful_house(), job_name="Fennel \x1b[31mred"))
    file.write_text(write_document(survey), "utf-8")
    ran = run("days", file, "--from", "2026-12-07", "--to", "2026-12-07")
    assert "\x1b" not in ran.stdout
    assert "Fennel" in ran.stdout


# check --on


def test_a_check_for_another_day_says_so_everywhere(tmp_path):
    before = demo(FENNEL).read_bytes()
    ran = run("check", demo(FENNEL), "--on", "2026-12-15", "--out", tmp_path)
    assert ran.returncode == 1
    assert ran.stdout.startswith("NO-GO: ")
    assert "crew on site: Tue 15 Dec to Mon 21 Dec 2026" in ran.stdout
    plain = " ".join(ran.stdout.split())
    marked = "Judged for another first day of the crew than the form's (--on)."
    noted = (
        "Judged for 2026-12-15 as the crew's first day, as asked for with --on; "
        "the form says 2026-12-07 (Office!B10)."
    )
    assert marked in plain
    assert noted in plain
    page = (tmp_path / f"{FENNEL}.html").read_text("utf-8")
    for said in (marked, noted):
        assert said.replace("'", "&#39;") in page
    assert marked.replace("'", "&#39;") in (tmp_path / f"{FENNEL} engineer.html").read_text("utf-8")
    record = json.loads((tmp_path / f"{FENNEL}.json").read_text("utf-8"))
    assert record["verdict"] == "NO-GO"
    assert noted in record["notes"]
    assert demo(FENNEL).read_bytes() == before
    verified = run("verify", tmp_path / f"{FENNEL}.html")
    assert verified.returncode == 0, verified.stdout


def test_a_check_on_the_form_s_own_day_is_a_check_without_it():
    plain, same = (
        run("check", demo(FENNEL), "--json", "-", *more) for more in ((), ("--on", "2026-12-07"))
    )
    assert plain.stdout == same.stdout
    assert plain.returncode == same.returncode == 0


def test_a_first_day_that_could_not_be_read_is_answered(tmp_path):
    document = with_changes(careful_house(), crew_date="soon", state="KS")
    file = tmp_path / "site.json"
    file.write_text(json.dumps(document), "utf-8")
    unread = run("check", file, "--json", "-", "--strict")
    assert unread.returncode == 2
    moved = run("check", file, "--json", "-", "--strict", "--on", "2026-12-07")
    assert moved.returncode == 1
    record = json.loads(moved.stdout)
    assert record["problems"] == []
    # Nobody told the weather of these days, and no release holds to a last day that is not known.
    assert record["verdict"] == "ENGINEER REVIEW"


def test_no_day_is_no_check(tmp_path):
    ran = run("check", demo(FENNEL), "--on", "next week", "--out", tmp_path / "out")
    assert ran.returncode == 2
    assert ran.stderr.startswith("--on: read 'next week', expected the date itself")
    assert not (tmp_path / "out").exists()


def test_a_workbook_without_the_crew_s_days(tmp_path):
    """A form whose days the scheduler has not filled in yet: nobody says when the crew leaves."""
    blank = with_changes(careful_house(), crew_date="not known", last_crew_date="not known")
    file = tmp_path / "site.xlsx"
    write_form(file, survey_of(blank))
    ran = run("days", file, "--from", "2026-12-10", "--to", "2026-12-16")
    assert told(ran) == [
        ("2026-12-10", "2026-12-16", "ENGINEER REVIEW"),  # no release holds to a day not known
    ]
    assert "the form gives no first day" in ran.stdout
    assert "How long the crew is there: not known, for the form does not give both" in ran.stdout
    assert "may start: none of these" in ran.stdout
