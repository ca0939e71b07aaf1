"""What a safety lead does with the rules, as commands are run."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest

from survey.answers import read_survey
from survey.document import write_document
from survey.resources import folder
from survey.rulebook.book import load_book
from survey.workbook import open_survey
from tests.demo_surveys import careful_house, survey_of

ROOT = Path(__file__).parent.parent.parent
FIRM = folder("demo_sites") / "firm_rules"
FENNEL = folder("demo_sites") / "01-fennel-house.xlsx"
OWN = """\
topic Ours
question loose dog
  for     the site
  kind    yes or no
  prompt  Is there a loose dog?
rule OWN-1 loose dog
  for     the site
  when    loose dog is yes
  then    stop
  say     A dog runs loose.
  do      Have it tied up.
  who     customer
  from    common practice
  release competent person
  case    loose dog yes gives stop
  case    loose dog no gives nothing
  case    loose dog not known gives ask
"""


def run(*arguments: object, rules: Path | None = None) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if k != "PIER_SURVEY_RULES"}
    if rules is not None:
        environment["PIER_SURVEY_RULES"] = str(rules)
    ran = subprocess.run(
        [sys.executable, "-m", "survey", *map(str, arguments)],
        capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=False,
        env={**environment, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert "Traceback" not in ran.stderr
    return ran


@pytest.fixture
def ours(tmp_path: Path) -> Path:
    rules = tmp_path / "ours"
    rules.mkdir()
    (rules / "own.rules").write_text(OWN, "utf-8")
    return rules


def test_the_shipped_book_is_tried():
    ran = run("rules", "try")
    assert ran.returncode == 0
    assert ran.stdout.endswith("none of them wrong.\n")


def test_trying_a_firm_s_rules_says_what_they_change_and_which_cases_turn():
    ran = run("rules", "try", "--rules", FIRM)
    assert ran.returncode == 0
    assert "legal limit 'spoil set-back' is 3 ft; stricter, shipped: 2 ft" in ran.stdout
    assert "rule FOOT-7 switched off: thin footing with bars" in ran.stdout
    assert "turned by your figures: the case says 'nothing', DIG-15 gives 'stop'" in ran.stdout


def test_every_mistake_is_told_and_no_site_is_judged(ours, tmp_path):
    own = ours / "own.rules"
    own.write_text(
        OWN.replace("loose dog is yes", "losse dog is yes").replace("stop\n  s", "stp\n  s")
    )
    for command in (("rules", "try"), ("check", FENNEL, "--out", tmp_path / "out")):
        ran = run(*command, "--rules", ours)
        assert ran.returncode == 2
        assert "ours/own.rules:8:11: 'losse dog' is not a word" in ran.stderr
        assert "Did you mean 'loose dog'?" in ran.stderr
        assert "'stp' is no outcome" in ran.stderr
    assert not (tmp_path / "out").exists()


def test_a_case_that_fails_is_a_mistake(ours):
    own = ours / "own.rules"
    own.write_text(OWN.replace("loose dog no gives nothing", "loose dog no gives stop"), "utf-8")
    ran = run("rules", "try", "--rules", ours)
    assert ran.returncode == 2
    assert "the case says 'stop', OWN-1 gives 'nothing'" in ran.stderr


def test_a_copy_of_a_shipped_file_is_not_a_firm_s_own(ours):
    (ours / "dig.rules").write_text((folder("rules") / "dig.rules").read_text("utf-8"), "utf-8")
    ran = run("rules", "try", "--rules", ours)
    assert ran.returncode == 2
    assert "ours/dig.rules: a copy of a shipped file" in ran.stderr


def test_the_folder_may_be_given_once_for_all_by_the_environment(ours, tmp_path):
    ran = run("check", FENNEL, "--out", tmp_path / "out", rules=ours)
    assert ran.returncode == 1
    assert ran.stdout.startswith("HOLD")
    assert "question 'loose dog' added" in ran.stdout
    page = (tmp_path / "out" / "01-fennel-house.html").read_text("utf-8")
    assert "rule OWN-1 added: loose dog" in page


@pytest.mark.parametrize(
    ("answer", "verdict"), [("no", "GO WITH CONDITIONS"), ("yes", "NO-GO"), (None, "HOLD")]
)
def test_an_own_question_goes_from_the_form_to_the_verdict(ours, tmp_path, answer, verdict):
    words = load_book(ours).vocabulary
    form = tmp_path / "site.xlsx"
    assert run("form", form, "--from", FENNEL, "--rules", ours).returncode == 0
    survey, problems = read_survey(open_survey(form, words), words)
    assert not problems
    said = write_document(survey).replace('"loose_dog": null', f'"loose_dog": "{answer or ""}"')
    (tmp_path / "site.json").write_text(said, "utf-8")
    ran = run("check", tmp_path / "site.json", "--rules", ours, "--out", tmp_path / "out")
    assert ran.stdout.startswith(f"{verdict}: ")


def test_a_survey_with_a_firm_s_question_is_held_without_the_firm_s_rules(ours, tmp_path):
    form = tmp_path / "site.xlsx"
    run("form", form, "--from", FENNEL, "--rules", ours)
    ran = run("check", form, "--out", tmp_path / "out")
    assert ran.returncode == 1
    assert ran.stdout.startswith("HOLD: ")
    assert "--rules" in ran.stdout


def test_words_are_listed_with_units_choices_and_where_they_come_from(ours):
    said = run("rules", "words", "loose", "--rules", ours).stdout
    assert "loose dog" in said
    assert "the firm's own question at ours/own.rules:2" in said
    assert "spoil distance" in run("rules", "words", "spoil").stdout


def test_a_rule_is_explained_and_an_unknown_code_names_the_nearest():
    ran = run("rules", "explain", "dig-15")
    assert ran.stdout.startswith("DIG-15 spoil or tools")
    assert "spoil distance 1 ft 11 in" in ran.stdout
    ran = run("rules", "explain", "DIG-155")
    assert ran.returncode == 2
    assert "Did you mean DIG-15?" in ran.stderr


def test_edges_that_no_case_notices_are_told(ours):
    own = ours / "own.rules"
    kept = OWN[: OWN.index("  case")] + "  case    loose dog not known gives ask\n"
    own.write_text(kept, "utf-8")
    ran = run("rules", "edges", "--rules", ours)
    assert ran.returncode == 1
    assert "ours/own.rules:6: OWN-1: no case notices" in ran.stdout
    assert (
        "ours/own.rules:6: OWN-1: no case shows that it gives 'stop' where it is met" in ran.stdout
    )
    ran = run("rules", "edges")
    assert (ran.returncode, ran.stdout) == (0, "No edge is unnoticed.\n")


def test_two_books_are_compared_over_a_folder_of_surveys(ours, tmp_path):
    sites = tmp_path / "sites"
    sites.mkdir()
    (sites / "a.json").write_text(write_document(survey_of(careful_house())), "utf-8")
    (sites / "broken.xlsx").write_bytes(b"spoilt")
    ran = run("rules", "compare", sites, "--rules", ours)
    assert ran.returncode == 2  # one could not be read, the other is compared
    assert "broken.xlsx" in ran.stderr
    assert "a.json: GO WITH CONDITIONS -> HOLD" in ran.stdout
    assert "OWN-1" in ran.stdout
    run("check", sites / "a.json", "--out", sites / "sheets", "--xlsx")  # no record is a survey
    back = run("rules", "compare", sites, "--before", ours)
    assert "1 site compared" in back.stdout
    assert "record" not in back.stderr
    assert "a.json: HOLD -> GO WITH CONDITIONS" in back.stdout
    assert run("rules", "compare", tmp_path / "ours", "--rules", ours).returncode == 2


def test_a_comparison_is_written_as_page_and_workbook_and_over_nothing_else(ours, tmp_path):
    sites, out = tmp_path / "sites", tmp_path / "sites" / "out"
    (sites / "b").mkdir(parents=True)
    said = write_document(survey_of(careful_house()))
    for name in ("b/1.json", "a.json", "b/1.copy.json", "c.json"):
        (sites / name).write_text(said, "utf-8")
    (sites / "broken.xlsx").write_bytes(b"spoilt")
    ran = run("rules", "compare", sites, "--rules", ours, "--out", out)
    assert ran.returncode == 2
    assert ran.stderr.count("\n") == 2  # no bar where nobody watches
    assert "4 sites compared. Another verdict: 4." in ran.stdout
    assert f"Page: {out / 'compare.html'}" in ran.stdout
    page = (out / "compare.html").read_text("utf-8")
    assert "Not read: 1" in page
    assert "own.rules:2" in page
    book = openpyxl.load_workbook(out / "compare.xlsx")
    assert [row[:3] for row in book["Sites"].iter_rows(min_row=2, values_only=True)] == [
        (name, "GO WITH CONDITIONS", "HOLD")
        for name in ("a.json", "b/1.copy.json", "b/1.json", "c.json")
    ]
    before = (out / "compare.xlsx").read_bytes()
    assert run("rules", "compare", sites, "--rules", ours, "--out", out).returncode == 2
    assert (out / "compare.xlsx").read_bytes() == before  # and it was no survey
    assert (out / "compare.html").read_text("utf-8") == page
    (out / "compare.html").write_text("somebody's own", "utf-8")
    ran = run("rules", "compare", sites, "--out", out)
    assert ran.returncode == 2
    assert "not an earlier page of a comparison" in ran.stderr
    assert (out / "compare.html").read_text("utf-8") == "somebody's own"


def test_the_book_is_written_as_a_page_and_over_nothing_else(ours, tmp_path):
    page = tmp_path / "book.html"
    assert run("rules", "page", page, "--rules", ours).returncode == 0
    assert "loose dog" in page.read_text("utf-8")
    page.write_text("somebody's own", "utf-8")
    assert run("rules", "page", page, "--rules", ours).returncode == 2
    assert page.read_text("utf-8") == "somebody's own"


def test_what_the_book_rests_on_is_written_as_a_page_and_over_nothing_else(ours, tmp_path):
    page = tmp_path / "sources.html"
    ran = run("rules", "sources", page, "--rules", ours)
    assert (ran.returncode, ran.stdout) == (0, f"Page written: {page}\n")
    written = page.read_text("utf-8")
    assert "29 CFR 1926.651(j)(2)" in written
    assert "loose dog" in written
    ran = run("rules", "page", page, "--rules", ours)
    assert ran.returncode == 2
    assert "not an earlier page of a rule book" in ran.stderr
    assert run("rules", "sources", tmp_path / "sources.txt").returncode == 2
    assert page.read_text("utf-8") == written
