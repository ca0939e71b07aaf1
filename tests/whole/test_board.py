"""The board as people run it: many files, some bad, stopped and begun again, twice at once."""

import json
import os
import random
import shutil
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import openpyxl
import pytest

from survey.resources import folder
from tests.pages import Page

DEMOS = sorted(folder("demo_sites").glob("*.xlsx"))


def command(*arguments, **options):
    return subprocess.Popen(
        [sys.executable, "-m", "survey", "board", *map(str, arguments)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **options,
    )  # fmt: skip


def run(*arguments):
    started = command(*arguments)
    said, complained = started.communicate()
    return started.returncode, said, complained


def expect_whole(out: Path):
    """Every file that anybody would open is whole."""
    for file in out.rglob("*"):
        if file.is_dir() or file.suffix == ".part":
            continue
        if file.suffix == ".html":
            assert file.read_text("utf-8").rstrip().endswith(("</html>", "-->")), file
        elif file.suffix == ".json":
            json.loads(file.read_text("utf-8"))
        elif file.suffix == ".xlsx":
            assert zipfile.ZipFile(file).testzip() is None


def jobs(out: Path):
    head, *rows = openpyxl.load_workbook(out / "board.xlsx")["Jobs"].iter_rows(values_only=True)
    return {row[head.index("Survey")]: dict(zip(head, row, strict=True)) for row in rows}


@pytest.fixture
def surveys(tmp_path):
    """Two folders with surveys, two of them bad, and things that are none."""
    place = tmp_path / "jobs"
    (place / "north").mkdir(parents=True)
    for number, demo in enumerate(DEMOS):
        shutil.copy(demo, place / "north" / demo.name if number % 2 else place / demo.name)
    (place / "torn.xlsx").write_bytes(DEMOS[0].read_bytes()[:3000])
    (place / "empty.json").write_bytes(b"")
    (place / "notes.txt").write_text("call back", "utf-8")
    (place / "~$01-fennel-house.xlsx").write_bytes(b"somebody has it open")
    return place


def test_a_board_of_good_and_bad_files(surveys, tmp_path):
    out = tmp_path / "board"
    status, said, complained = run(surveys, "--out", out)
    assert status == 2
    assert "torn.xlsx" in complained
    assert "empty.json" in complained
    assert "Traceback" not in complained
    found = jobs(out)
    assert len(found) == len(DEMOS) + 2
    assert found["torn.xlsx"]["Verdict"] == found["empty.json"]["Verdict"] == "NO VERDICT"
    assert found["01-fennel-house.xlsx"]["Can start"] in ("yes", "no")
    for row in found.values():
        if row["Sheet"]:
            assert row["Verdict"] in (out / row["Sheet"]).read_text("utf-8")
    page = Page((out / "board.html").read_text("utf-8"))
    links = [value for name, value in page.attributes if name == "href" and value[0] != "#"]
    assert len(set(links)) == len(DEMOS)
    assert all((out / link).is_file() for link in links)
    expect_whole(out)

    assert "open in another program" in found["01-fennel-house.xlsx"]["Notes"]
    (surveys / "~$01-fennel-house.xlsx").unlink()
    run(surveys, "--out", out)
    assert not jobs(out)["01-fennel-house.xlsx"]["Notes"]

    # Again: nothing is checked or written again but the board itself.
    pages = {file: file.stat().st_mtime_ns for file in (out / "sheets").rglob("*")}
    again = run(surveys, "--out", out)
    assert again == (status, said, complained)
    assert {file: file.stat().st_mtime_ns for file in (out / "sheets").rglob("*")} == pages

    # A survey that was changed is checked again, alone; one that is gone leaves the board.
    shutil.copy(DEMOS[1], surveys / "01-fennel-house.xlsx")
    (surveys / "torn.xlsx").unlink()
    run(surveys, "--out", out)
    now = jobs(out)
    assert now.keys() == found.keys() - {"torn.xlsx"}
    assert now["01-fennel-house.xlsx"]["Job"] == found[f"north/{DEMOS[1].name}"]["Job"]
    changed = {file for file, at in pages.items() if file.stat().st_mtime_ns != at}
    assert {
        file.name.partition(" ")[0].partition(".")[0] for file in changed if file.is_file()
    } == {"01-fennel-house"}


def test_where_the_board_stands_among_the_surveys_it_reads_none_of_its_own(surveys):
    out = surveys / "board"
    first = run(surveys, "--out", out)
    assert jobs(out).keys() == {
        *(f"{'north/' * (i % 2)}{demo.name}" for i, demo in enumerate(DEMOS)),
        "torn.xlsx", "empty.json",
    }  # fmt: skip
    assert run(surveys, "--out", out) == first


def test_killed_at_any_moment_it_leaves_whole_files_and_the_next_run_goes_on(surveys, tmp_path):
    out, chance = tmp_path / "board", random.Random(8)
    for moment in sorted(chance.uniform(0.2, 6.0) for _ in range(4)):
        started = command(surveys, "--out", out)
        time.sleep(moment)
        started.kill()
        started.communicate()
        if out.is_dir():
            expect_whole(out)
    status, _, complained = run(surveys, "--out", out)
    assert status == 2
    assert "Traceback" not in complained
    assert len(jobs(out)) == len(DEMOS) + 2
    expect_whole(out)


def test_two_runs_at_once_do_no_harm(surveys, tmp_path):
    out = tmp_path / "board"
    both = [command(surveys, "--out", out) for _ in range(2)]
    told = [started.communicate() for started in both]
    assert [started.returncode for started in both] == [2, 2]
    assert not any("Traceback" in complained for _, complained in told)
    assert len(jobs(out)) == len(DEMOS) + 2
    expect_whole(out)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["nowhere"], "no such folder"),
        (["."], "no survey here"),
        ([".", "--on", "2026-02-30"], "2026-02-30"),
        ([".", "--rules", "nowhere"], "no folder"),
    ],
)
def test_a_wrong_command_is_told(tmp_path, arguments, told):
    started = command(*arguments, "--out", tmp_path / "out", cwd=tmp_path,
                      env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])})  # fmt: skip
    _, complained = started.communicate()
    assert started.returncode == 2
    assert told in complained
    assert "Traceback" not in complained
    assert not (tmp_path / "out").exists()
