"""A site is checked, its sheet edited, a rule changed, an answer changed: each is told as it is."""

from __future__ import annotations

import json

import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.photos import load_photos
from survey.resources import folder
from survey.rulebook.book import load_book
from survey.sheets import render
from survey.sheets.seal import closed
from survey.sheets.verify import verify
from survey.workbook import open_survey
from tests.demo_surveys import DEMO
from tests.whole.test_commands import demo, run

DOCUMENT = {
    "pier_survey": 1,
    "site": {"job_name": "Larch Lane 14", "crew_date": "2026-12-01"},
    "walls": [{"label": "North", "wall_length": "40 ft"}],
    "piers": [
        {"label": "P1", "wall_of_pier": "North", "station": "6 ft", "pit_depth": "5 ft"},
        {"label": "P2", "wall_of_pier": "North", "station": "12 ft", "pit_depth": "5 ft"},
    ],
}
OWN = """
rule FIRM-1 pit deeper than our crews dig
  for   each pier
  when  pit depth is more than {depth}
  then  condition
  say   Pit {{pier}} is {{pit depth}} deep.
  do    Ask the office for the second crew.
  who   crew
  from  common practice
  release competent person
  case  pit depth {more} gives condition
  case  pit depth {depth} gives nothing
  case  pit depth not known gives ask
"""


@pytest.fixture
def site(tmp_path):
    """Checks the site with some answers changed and gives its record."""

    def check(*options, **piers):
        document = json.loads(json.dumps(DOCUMENT))
        for pier in document["piers"]:
            pier.update(piers.get(pier["label"], {}))
        (tmp_path / "larch.json").write_text(json.dumps(document))
        ran = run("check", tmp_path / "larch.json", "--out", tmp_path / "sheets", *options)
        assert ran.returncode == 1, ran.stderr
        return json.loads((tmp_path / "sheets" / "larch.json").read_text("utf-8"))

    return check


def own_rules(tmp_path, depth, more):
    own = tmp_path / "own"
    own.mkdir(exist_ok=True)
    (own / "firm.rules").write_text(OWN.format(depth=depth, more=more))
    return "--rules", own


def test_verify_tells_edits_and_other_rules_apart(site, tmp_path):
    sheet = tmp_path / "sheets" / "larch.html"
    rules = own_rules(tmp_path, "6 ft", "6 ft 1 in")
    site(*rules)
    ran = run("verify", sheet, *rules)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.startswith(f"{sheet}: as it was written.\nThe survey in it, judged again,")

    ran = run("verify", sheet, *own_rules(tmp_path, "4 ft", "4 ft 1 in"))
    assert ran.returncode == 1
    assert "the firm's own rules: " in ran.stdout
    found = "Findings: FIRM-1: pit deeper than our crews dig (P1, P2): was none, now condition"
    assert found in ran.stdout
    assert "Rules and program: rule (FIRM-1): changed" in ran.stdout

    page = sheet.read_text("utf-8")
    edited = tmp_path / "edited.html"
    edited.write_text(page.replace("Larch Lane 14", "Larch Lane 41", 1), newline="\n")
    ran = run("verify", edited, *rules)
    assert ran.returncode == 2
    assert "ALTERED" in ran.stdout

    own_rules(tmp_path, "6 ft", "6 ft 1 in")
    body = page[: page.rindex("<!-- sha256")]
    edited.write_text(closed(body.replace("Larch Lane 14", "Larch Lane 41", 1)), newline="\n")
    ran = run("verify", edited, *rules)
    assert ran.returncode == 2
    assert "write another page of the survey in it, first at" in ran.stdout
    assert "Larch Lane 41" in ran.stdout


def test_checking_again_lists_exactly_what_changed(site, tmp_path):
    assert site()["since"] is None
    since = site(P2={"pit_depth": "6 ft 6 in"})["since"]
    assert since["answers"] == [
        {"word": "pit depth", "of": ["P2"], "before": "5 ft", "now": "6 ft 6 in",
         "cells": ["piers[2].pit_depth"]},
    ]  # fmt: skip
    assert {k for k, v in since.items() if v} <= {"answers", "findings"}
    once = (tmp_path / "sheets" / "larch.html").read_bytes()
    assert site(P2={"pit_depth": "6 ft 6 in"})["since"] == since
    assert (tmp_path / "sheets" / "larch.html").read_bytes() == once

    rules = own_rules(tmp_path, "6 ft", "6 ft 1 in")
    since = site(*rules, P2={"pit_depth": "6 ft 6 in"})["since"]
    assert since["rules"] == [{"change": "added", "code": "FIRM-1"}]
    assert [one["code"] for one in since["findings"]] == ["FIRM-1"]
    assert since["findings"][0]["places"] == ["P2"]
    assert since["own_rules"]["before"] == "none"
    assert since["answers"] == since["rows"] == []
    assert run("verify", tmp_path / "sheets" / "larch.html", *rules).returncode == 0


def test_every_demo_sheet_verifies_and_not_by_other_rules_unseen():
    shipped, firm = load_book(), load_book(folder("demo_sites") / "firm_rules")
    for name in DEMO:
        survey, problems = read_survey(open_survey(demo(name)))
        page = render(assess(survey, problems, shipped), load_photos(survey, demo(name).parent))
        assert verify(page, shipped).status == 0, name
        found = verify(page, firm)
        assert found.status == 1, name
        assert [one.partition(":")[0] for one in found.made_otherwise] == ["the firm's own rules"]


def test_verify_refuses_what_is_no_page(tmp_path):
    ran = run("verify", tmp_path / "none.html")
    assert ran.returncode == 2
    assert "can't be read" in ran.stderr
    ran = run("verify", demo("01-fennel-house"))
    assert ran.returncode == 2
    assert "it is no UTF-8 text" in ran.stderr
