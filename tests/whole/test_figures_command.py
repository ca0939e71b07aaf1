"""The figures as a command: in the board's own folder, over a span of days, nothing left untold."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest

from survey.resources import folder
from tests.demo_surveys import careful_house

ROOT = Path(__file__).parent.parent.parent


def run(*arguments, cwd):
    environment = {k: v for k, v in os.environ.items() if k != "PIER_SURVEY_RULES"}
    ran = subprocess.run(
        [sys.executable, "-m", "survey", *map(str, arguments)],
        capture_output=True, text=True, encoding="utf-8", cwd=cwd, check=False,
        env={**environment, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert "Traceback" not in ran.stderr
    return ran


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    """A folder of surveys: two demo sites, one of another day, one undated, one torn."""
    here = tmp_path_factory.mktemp("meeting")
    sites = here / "sites"
    (sites / "autumn").mkdir(parents=True)
    for name in ("02-brine-street.xlsx", "03-tallow-court.xlsx"):
        shutil.copy(folder("demo_sites") / name, sites / "autumn" / name)
    house = careful_house()
    house["site"]["survey_date"] = "2026-08-31"
    (sites / "older.json").write_text(json.dumps(house), "utf-8")
    del house["site"]["survey_date"]
    (sites / "undated.json").write_text(json.dumps(house), "utf-8")
    (sites / "torn.xlsx").write_bytes(b"spoilt")
    return here


def test_the_figures_of_a_span_of_days(jobs):
    before = {file: file.read_bytes() for file in (jobs / "sites").rglob("*.*")}
    ran = run("figures", "sites", "--from", "2026-09-01", "--to", "2026-11-30", cwd=jobs)
    assert ran.returncode == 2  # one could not be read
    assert "torn.xlsx" in ran.stderr
    said = ran.stdout.splitlines()
    assert said[0].strip() == "2 counted, surveyed from Tue 01 Sep 2026 to Mon 30 Nov 2026"
    assert [line.split()[0] for line in said[1:4]] == ["1", "1", "1"]
    assert "survey date is not known" in said[1]
    assert "other days" in said[2]
    assert f"Figures: {Path('board') / 'figures.html'}" in said
    page = (jobs / "board" / "figures.html").read_text("utf-8")
    assert "undated.json" in page
    book = openpyxl.load_workbook(jobs / "board" / "figures.xlsx")
    rows = list(book["Sites"].iter_rows(min_row=2, values_only=True))
    assert [(row[0], row[3], row[5]) for row in rows] == [
        ("autumn/02-brine-street.xlsx", "Quillmere", "NO-GO"),
        ("autumn/03-tallow-court.xlsx", "Quillmere", "HOLD"),
    ]
    assert before == {file: file.read_bytes() for file in (jobs / "sites").rglob("*.*")}

    # What the board has checked, and the other way round, is not checked again.
    kept = {file: file.stat().st_mtime_ns for file in (jobs / "board").rglob("*.json")}
    assert run("board", "sites", cwd=jobs).returncode == 2
    assert run("figures", "sites", cwd=jobs).returncode == 2
    assert {file: file.stat().st_mtime_ns for file in (jobs / "board").rglob("*.json")} == kept
    page = (jobs / "board" / "figures.html").read_text("utf-8")
    assert "4 sites, surveyed on any day" in page
    assert "no survey date" in page


def test_a_folder_with_all_outputs_in_it_is_read_as_if_they_were_not_there(jobs):
    for command in (
        ("board", "sites", "--out", "sites/board"),
        ("figures", "sites", "--out", "sites/board"),
        ("rules", "compare", "sites", "--out", "sites/compared"),
    ):
        ran = run(*command, cwd=jobs)
        assert ran.returncode == 2
        assert len(ran.stderr.splitlines()) == 2, ran.stderr  # of torn.xlsx alone
    assert (jobs / "sites" / "compared" / "compare.xlsx").is_file()
    ran = run("rules", "compare", "sites", cwd=jobs)
    assert "4 sites compared" in ran.stdout


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("--from", "2026-12-01", "--to", "2026-11-01"), "not before the first"),
        (("--from", "yesterday"), "--from: read 'yesterday'"),
    ],
)
def test_days_that_are_none_are_told_before_anything_is_checked(jobs, given, said):
    ran = run("figures", "sites", "--out", "never", *given, cwd=jobs)
    assert ran.returncode == 2
    assert said in ran.stderr
    assert not (jobs / "never").exists()
