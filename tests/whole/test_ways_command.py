"""``pier-survey ways`` as it is run."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import pytest
import typer

from survey import cli_jobs
from survey.assessment.ways import ways as module
from survey.document import write_document
from survey.resources import folder
from tests.demo_surveys import careful_house, survey_of
from tests.whole.test_rules_commands import ROOT

DEMOS = folder("demo_sites")
# The day is given: once the crew's days of these sites have passed, none of them goes as it is.
ON_ITS_DAY = """
import datetime as dt
from survey import cli, cli_jobs
cli_jobs.today = lambda: dt.date({day})
cli.main()
"""


def run(*arguments: object, day: str = "2026, 11, 30") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", ON_ITS_DAY.format(day=day), *map(str, arguments)]
    environment = {k: v for k, v in os.environ.items() if k != "PIER_SURVEY_RULES"}
    ran = subprocess.run(
        command, capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=False,
        env={**environment, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert "Traceback" not in ran.stderr
    return ran


@pytest.fixture
def near(tmp_path):
    document = careful_house()
    document["piers"][1]["spoil_distance"] = "1 ft"
    file = tmp_path / "near.json"
    file.write_text(write_document(survey_of(document)), "utf-8")
    return file


def test_a_site_that_goes_has_exit_status_0():
    ran = run("ways", DEMOS / "01-fennel-house.xlsx")
    assert ran.returncode == 0, ran.stderr
    assert "It goes as it is." in ran.stdout


def test_a_site_whose_crew_day_has_passed_does_not_go_as_it_is():
    ran = run("ways", DEMOS / "01-fennel-house.xlsx", "--most", "1", day="2026, 12, 8")
    assert ran.returncode == 0, ran.stderr
    assert "The crew's first day, Mon 07 Dec 2026, has passed" in ran.stdout
    assert "Look at the forecast for the days of this way" in ran.stdout
    assert "Choose: crew date" in ran.stdout


def test_a_way_is_printed_with_its_cost_steps_verdict_and_what_is_ticked(near):
    ran = run("ways", near, "--most", "2")
    assert ran.returncode == 0, ran.stderr
    assert "near: NO-GO" in ran.stdout
    assert "1. 60 usd, 1 thing to do, then GO WITH CONDITIONS, with" in ran.stdout
    assert "things for the crew to tick" in ran.stdout
    assert "Choose: spoil distance of P2" in ran.stdout
    assert "instead of 1 ft" in ran.stdout
    assert "2. 90 usd" in ran.stdout
    assert "Ask for a release of DIG-15" in " ".join(ran.stdout.split())


def test_a_firms_own_costs_change_the_order(near, tmp_path):
    rules = tmp_path / "ours"
    rules.mkdir()
    text = "cost spoil distance = 500 usd\n  from our own\n"
    (rules / "own.rules").write_text(text, "utf-8")
    ran = run("ways", near, "--most", "1", "--rules", rules)
    assert ran.returncode == 0, ran.stderr
    assert "1. 90 usd" in ran.stdout
    assert "release of DIG-15" in ran.stdout


def test_what_was_seen_leaves_no_way_and_has_exit_status_1():
    ran = run("ways", DEMOS / "05-sedge-row.xlsx")
    said = " ".join(ran.stdout.split())
    assert ran.returncode == 1, ran.stderr
    assert "No way by anything that we may answer, change or have released" in said
    assert "confined space finding of site (Inside!B15): not looked at" in said
    assert "Choose: engine place (Inside!B21): no engine instead of inside or in a pit" in said
    assert "Look, and write what is true" in said


def test_what_needs_an_engineer_is_said_plainly():
    ran = run("ways", DEMOS / "04-weir-cottage.xlsx", "--most", "1")
    assert ran.returncode == 0, ran.stderr
    assert "No way without an engineer" in ran.stdout


def test_a_file_that_can_not_be_read_has_exit_status_2(tmp_path):
    ran = run("ways", tmp_path / "none.xlsx")
    assert ran.returncode == 2
    assert "none.xlsx" in ran.stderr
    assert "Traceback" not in ran.stderr


def test_how_many_ways_is_a_whole_number_from_1(near):
    ran = run("ways", near, "--most", "0")
    assert ran.returncode == 2
    assert "--most" in ran.stderr


def test_evaluators_that_disagree_have_exit_status_3(near, monkeypatch, capsys):
    full = module.assess
    monkeypatch.setattr(module, "assess", lambda *a: replace(full(*a), disagreement=("DIG-1",)))
    with pytest.raises(typer.Exit) as ended:
        cli_jobs.ways(near)
    told = capsys.readouterr()
    assert ended.value.exit_code == 3
    assert "FAULT of the program" in told.out
    assert "internal disagreement" in told.err
    assert "No way" not in told.out


def test_what_no_longer_applies_is_to_be_left_blank_and_nothing_is_said_of_other_answers():
    """While something stands against a site, nobody knows what other answers would do to that."""
    ran = run("ways", DEMOS / "05-sedge-row.xlsx", "--most", "1")
    assert ran.returncode == 1, ran.stderr
    said = " ".join(ran.stdout.split())
    engine = said.partition("engine place (")[2].partition(" - ")[0]
    assert "Leave blank then: engine power of site (" in engine
    assert said.count("Leave blank then") == 1
    assert "Not with" not in said
