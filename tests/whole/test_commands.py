"""The commands as a user runs them: what they print, what they write, how they exit."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from survey.answers import read_survey
from survey.assessment import assessment as judging
from survey.document import json_schema, write_document
from survey.resources import folder
from survey.rulebook import production
from survey.rulebook.judgement import Judgement
from survey.workbook import open_survey
from tests.demo_surveys import DEMO, careful_house, survey_of
from tests.strategies import plain

ROOT = Path(__file__).parent.parent.parent
VERDICTS = {
    "01-fennel-house": "GO WITH CONDITIONS",
    "02-brine-street": "NO-GO",
    "03-tallow-court": "HOLD",
    "04-weir-cottage": "ENGINEER REVIEW",
    "05-sedge-row": "NO-GO",
}


def run(*arguments: object, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "survey", *map(str, arguments)],
        capture_output=True, text=True, encoding="utf-8", cwd=cwd, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
    )  # fmt: skip


def demo(name: str) -> Path:
    return folder("demo_sites") / f"{name}.xlsx"


@pytest.mark.parametrize("name", DEMO)
def test_demo_workbooks_hold_what_the_demo_surveys_say(name):
    survey, problems = read_survey(open_survey(demo(name)))
    assert not problems
    assert plain(survey) == plain(survey_of(DEMO[name](), name))


@pytest.mark.parametrize("name", DEMO)
def test_demo_sites_reach_their_verdicts_and_exit_statuses(name, tmp_path):
    before = demo(name).read_bytes()
    ran = run("check", demo(name), "--out", tmp_path)
    assert ran.stdout.startswith(f"{VERDICTS[name]}: ")
    assert ran.returncode == (0 if VERDICTS[name].startswith("GO") else 1)
    assert {file.name for file in tmp_path.iterdir()} == {
        f"{name}.html", f"{name} crew.html", f"{name} engineer.html", f"{name} history",
        f"{name}.json",
    }  # fmt: skip
    record = json.loads((tmp_path / f"{name}.json").read_text("utf-8"))
    assert record["verdict"] == VERDICTS[name]
    assert demo(name).read_bytes() == before


def test_demo_command_says_where_the_sheets_are(tmp_path):
    ran = run("demo", tmp_path / "out")
    assert ran.returncode == 0
    assert f"The sheets are in {(tmp_path / 'out').resolve()}" in ran.stdout
    assert len(list((tmp_path / "out").glob("*.html"))) == 3 * len(DEMO)


def test_several_surveys_exit_with_the_worst_and_a_bad_one_does_not_stop_the_rest(tmp_path):
    junk = tmp_path / "junk.xlsx"
    junk.write_bytes(b"PK\x03\x04 not really")
    ran = run("check", demo("02-brine-street"), junk, demo("01-fennel-house"), "--out", tmp_path)
    assert ran.returncode == 2
    assert "junk.xlsx" in ran.stderr
    assert "NO-GO: " in ran.stdout
    assert "GO WITH CONDITIONS: " in ran.stdout


def test_two_surveys_of_one_name_are_refused(tmp_path):
    (tmp_path / "a").mkdir()
    copy = tmp_path / "a" / demo("01-fennel-house").name
    copy.write_bytes(demo("01-fennel-house").read_bytes())
    ran = run("check", demo("01-fennel-house"), copy, "--out", tmp_path / "out")
    assert ran.returncode == 2
    assert "have the same name" in ran.stderr
    assert not (tmp_path / "out").exists()
    printed = run("check", demo("01-fennel-house"), copy, "--json", "-")  # no sheet to hide
    assert printed.returncode == 0
    assert len(printed.stdout.splitlines()) == 2


@pytest.mark.parametrize("name", DEMO)
def test_workbook_and_json_give_the_same_record_but_for_the_places(name, tmp_path):
    survey, _ = read_survey(open_survey(demo(name)))
    document = tmp_path / f"{name}.json"
    document.write_text(write_document(survey), "utf-8")
    jsonschema.validate(json.loads(document.read_text("utf-8")), json_schema())
    records = [
        json.loads(run("check", file, "--json", "-").stdout) for file in (demo(name), document)
    ]
    keys = ("verdict", "disagreement", "problems")
    assert [records[0][key] for key in keys] == [records[1][key] for key in keys]
    states = [
        [(p["pier"], p["verdict"], p["findings"], [s["state"] for s in p["seats"]]) for p in piers]
        for piers in (record["piers"] for record in records)
    ]
    assert states[0] == states[1]
    told = [
        [(f["code"], f["outcome"], f["place"], f["say"]) for f in record["findings"]]
        for record in records
    ]
    assert told[0] == told[1]


def test_json_prints_the_record_alone_and_writes_nothing(tmp_path):
    ran = run("check", demo("01-fennel-house"), "--json", "-", cwd=tmp_path)
    record = json.loads(ran.stdout)
    assert record["verdict"] == "GO WITH CONDITIONS"
    finding = record["findings"][0]
    for key in ("code", "name", "outcome", "place", "say", "do", "who", "source", "reasons",
                "release"):  # fmt: skip
        assert key in finding
    assert list(tmp_path.iterdir()) == []


def test_a_form_filled_from_json_is_checked_like_the_json(tmp_path):
    document = tmp_path / "site.json"
    document.write_text(json.dumps(careful_house()), "utf-8")
    form = tmp_path / "form.xlsx"
    assert run("form", form, "--from", document).returncode == 0
    ran = run("check", form, "--out", tmp_path)
    assert ran.stdout.startswith("GO WITH CONDITIONS")
    again = run("form", form, "--from", document)
    assert again.returncode == 2
    assert "form.xlsx" in again.stderr


def test_a_blank_form_is_held(tmp_path):
    assert run("form", tmp_path / "blank.xlsx").returncode == 0
    ran = run("check", tmp_path / "blank.xlsx", "--out", tmp_path)
    assert ran.returncode == 1
    assert ran.stdout.startswith("HOLD")


def test_a_bad_survey_says_that_its_older_sheet_no_longer_holds(tmp_path):
    copy = tmp_path / "site.xlsx"
    copy.write_bytes(demo("01-fennel-house").read_bytes())
    assert run("check", copy, "--out", tmp_path / "out").returncode == 0
    copy.write_bytes(b"spoilt")
    ran = run("check", copy, "--out", tmp_path / "out")
    assert ran.returncode == 2
    for ending in (".html", " crew.html", " engineer.html", ".json"):
        assert f"site{ending}: from an earlier check; it no longer holds" in ran.stderr


def test_what_a_check_did_not_write_again_no_longer_holds(tmp_path):
    site = demo("01-fennel-house")
    assert "no longer holds" not in run("check", site, "--out", tmp_path, "--xlsx").stderr
    told = run("check", site, "--out", tmp_path).stderr.splitlines()
    name = "01-fennel-house record.xlsx"
    assert [line for line in told if "no longer holds" in line] == [
        f"{tmp_path / name}: from an earlier check; it no longer holds."
    ]


def test_a_disagreement_is_no_go_and_a_fault_of_the_program(tmp_path, monkeypatch, capsys):
    from survey import cli

    class Contrary:
        def judge(self, facts):
            return Judgement(frozenset(), frozenset(), {})

    monkeypatch.setattr(production, "available", lambda: True)
    monkeypatch.setattr(production, "evaluator_for", lambda book: Contrary())
    monkeypatch.setattr(
        sys, "argv", ["pier-survey", "check", str(demo("01-fennel-house")), "--out", str(tmp_path)]
    )
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 3
    assert capsys.readouterr().out.startswith("NO-GO")
    page = (tmp_path / "01-fennel-house.html").read_text("utf-8")
    assert "isagreement" in page
    record = json.loads((tmp_path / "01-fennel-house.json").read_text("utf-8"))
    assert record["verdict"] == "NO-GO"
    assert all(pier["verdict"] == "NO-GO" for pier in record["piers"])


@pytest.mark.skipif(not production.expected(), reason="durable-rules is not expected here")
def test_a_missing_second_evaluator_is_a_fault_where_it_can_run(tmp_path, monkeypatch, capsys):
    from survey import cli

    monkeypatch.setattr(production, "available", lambda: False)
    monkeypatch.setattr(
        sys, "argv", ["pier-survey", "check", str(demo("01-fennel-house")), "--out", str(tmp_path)]
    )
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 3
    assert capsys.readouterr().out.startswith("NO-GO")


def test_a_fault_of_the_program_is_one_line_and_exit_3(tmp_path, monkeypatch, capsys):
    from survey import cli

    def broken(*_):
        raise ZeroDivisionError("for the test")

    monkeypatch.setattr(judging, "gather", broken)
    monkeypatch.setattr(
        sys, "argv", ["pier-survey", "check", str(demo("01-fennel-house")), "--out", str(tmp_path)]
    )
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 3
    said = capsys.readouterr().err
    assert "a fault of the program" in said
    assert "ZeroDivisionError: for the test" in said
    assert "Traceback" not in said
    assert list(tmp_path.iterdir()) == []


def test_days_that_have_passed_or_are_still_to_come_are_told(tmp_path, monkeypatch, capsys):
    import datetime as dt

    from survey import cli

    for day, told in (
        (dt.date(2026, 12, 8), "has passed"), (dt.date(2026, 11, 1), "still to come"),
        (dt.date(2026, 12, 7), ""),
    ):  # fmt: skip
        monkeypatch.setattr(cli, "today", lambda day=day: day)
        command = ["pier-survey", "check", str(demo("01-fennel-house")), "--out", str(tmp_path)]
        monkeypatch.setattr("sys.argv", command)
        with pytest.raises(SystemExit) as ended:
            cli.main()
        assert ended.value.code == 0
        said = capsys.readouterr().err
        assert told in said
        assert bool(told) == ("passed" in said or "to come" in said)
