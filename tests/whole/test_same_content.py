"""Sheet, crew's page, record and workbook of a site say the same."""

from __future__ import annotations

import datetime as dt
import functools
import random

import openpyxl
import pytest
from pypdf import PdfReader

from survey.assessment import Assessment, assess
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.sheets import Languages, record, render
from survey.sheets._grouping import subject_of
from survey.sheets._legible import day
from survey.sheets._places import Places
from survey.sheets.crew import render_crew
from survey.sheets.pdf import write_pdf
from survey.sheets.record_workbook import write_record_workbook
from tests.browser import needs_browser
from tests.demo_surveys import DEMO, survey_of
from tests.pages import Page
from tests.random_sites import random_survey

SITES = [*DEMO, *range(12)]


@functools.lru_cache(maxsize=64)
def judged(site: str | int) -> Assessment:
    """A demo site by its name, or a random one by its seed."""
    if isinstance(site, str):
        survey = survey_of(DEMO[site](), site)
    else:
        survey = random_survey(random.Random(site))
    return assess(survey, (), load_book())


def closed_up(text: str) -> str:
    """A text without blanks, which a printed page breaks lines at."""
    return "".join(text.split())


def all_text(page: str) -> str:
    return " ".join(Page(page).sections.values())


@pytest.mark.parametrize("site", SITES)
def test_every_finding_stands_on_the_sheet_at_its_places(site):
    made = judged(site)
    places = Places.of(made.survey)
    said = all_text(render(made))
    for finding in made.findings:
        assert finding.rule.code in said
    for code in {f.rule.code for f in made.findings if f.outcome is not Outcome.NOTE}:
        for counts in (True, False):
            same = [
                f for f in made.findings
                if f.rule.code == code and f.counts == counts and f.outcome is not Outcome.ASK
            ]  # fmt: skip
            for subject in {subject_of(f) for f in same}:
                named = places.named(subject, (f.place for f in same if subject_of(f) is subject))
                assert named in said, (code, named)
    for pier in made.piers:
        assert pier.label in said
    for end in (made.plan.earliest, made.plan.latest):
        assert end.day is None or day(end.day) in said
    for question in made.questions:
        assert question.prompt in said


@pytest.mark.parametrize("site", SITES)
def test_the_crew_ticks_every_condition_and_nothing_while_it_may_not_start(site):
    made = judged(site)
    page = render_crew(made, Languages.BOTH)
    said = all_text(page)
    if made.verdict.may_start:
        assert "NOBODY DIGS" not in said
        conditions = {f.rule.code for f in made.findings
                      if f.counts and f.outcome is Outcome.CONDITION}  # fmt: skip
        kept = {f.rule.code for f in made.findings if not f.counts}
        for code in conditions | kept:
            assert said.count(code) >= 2, code  # once in each language
        assert page.count('class="c-tick"') >= 2 * len(conditions)
    else:
        assert "NOBODY DIGS" in said
        assert "NADIE EXCAVA" in said
        assert 'class="c-tick"' not in page
    assert said.count(made.verdict.value) >= 1


@needs_browser
def test_the_printed_sheet_has_all_that_the_page_has(tmp_path):
    made = judged("03-tallow-court")
    page = tmp_path / "site.html"
    page.write_text(render(made), "utf-8")
    write_pdf(page, tmp_path / "site.pdf")
    pages = PdfReader(tmp_path / "site.pdf").pages
    printed = closed_up(" ".join(one.extract_text() for one in pages))
    for finding in made.findings:
        assert finding.rule.code in printed
    for question in made.questions:
        assert closed_up(question.prompt) in printed
    for pier in made.piers:
        assert closed_up(f"{pier.label}") in printed
    assert made.verdict.value in closed_up(pages[0].extract_text())


@pytest.mark.parametrize("site", [*DEMO, 3, 7, 11])
def test_the_workbook_has_the_record_row_by_row(site, tmp_path):
    made = record(judged(site))
    write_record_workbook(made, tmp_path / "site record.xlsx")
    book = openpyxl.load_workbook(tmp_path / "site record.xlsx")

    def column(sheet: str, *heads: str) -> list[tuple[object, ...]]:
        first, *rows = book[sheet].iter_rows(values_only=True)
        at = [first.index(head) for head in heads]
        return [tuple(row[i] for i in at) for row in rows]

    assert ("Verdict", made["verdict"]) in column("Verdict", "What", "Says")
    assert column("Piers", "Pier", "Verdict", "Round") == [
        (pier["pier"], pier["verdict"], pier["round"] or "not known") for pier in made["piers"]
    ]
    assert column("Findings", "Code", "Outcome", "Released", "Place", "What to do") == [
        (f["code"], f["outcome"], "yes" if f["release"] else "no", f["place"], f["do"])
        for f in made["findings"]
    ]
    assert column("Questions", "Word", "About", "Question") == [
        (q["word"], q["of"], q["question"]) for q in made["questions"]
    ]
    assert column("Seats", "Pier", "Seat", "State") == [
        (pier["pier"], seat["seat"], seat["state"]) for pier in made["piers"]
        for seat in pier["seats"]
    ]  # fmt: skip
    assert column("Figures", "Place", "Figure", "Value") == [
        (f["place"], f["word"], f["shown"]) for f in made["figures"]
    ]
    days = dict(column("Days", "What", "Day"))
    for what, key in (("Earliest first day", "earliest"), ("Latest first day", "latest")):
        written = made["plan"][key]
        if written is not None:
            assert days[what] == dt.datetime.fromisoformat(written)
