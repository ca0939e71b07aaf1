"""The crew page in a browser: each side on one page of letter and of A4, and on a telephone."""

from __future__ import annotations

import dataclasses
import functools
import re

import pytest

from survey.answers import read_survey
from survey.assessment import Finding, Verdict, assess
from survey.resources import folder
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.sheets._crew_words import ENGLISH, SPANISH
from survey.sheets._templates import template
from survey.sheets.crew import Languages, render_crew, side
from survey.vocabulary import Subject
from survey.workbook import open_survey
from tests.demo_surveys import careful_house, survey_of
from tests.made_assessments import EACH_VERDICT, judged
from tests.whole.test_sheet_in_browser import CHROMIUM, POINTS, browse, printed

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")
CONDITIONS = 15


@functools.cache
def demo_sites():
    book = load_book()
    read = (read_survey(open_survey(f)) for f in sorted(folder("demo_sites").glob("*.xlsx")))
    return tuple(assess(survey, problems, book) for survey, problems in read)


@functools.cache
def ordinary_house(piers):
    """The careful house with more piers and fifteen conditions of the book, blanks unfilled."""
    house = careful_house()
    first = house["piers"]
    house["piers"] = [
        {**first[i % len(first)], "label": f"P{i + 1}", "station": f"{3 + 9 * (i // 5) + i % 5} ft"}
        for i in range(piers)
    ]
    for wall in house["walls"]:
        wall["wall_length"] = "300 ft"
    for release in house["releases"]:
        release["released_place"] = ", ".join(pier["label"] for pier in house["piers"])
    book = load_book()
    made = assess(survey_of(house, "ordinary"), (), book)
    rules = [rule for rule in book if rule.then is Outcome.CONDITION]
    conditions = [
        Finding(rule, place, Outcome.CONDITION, (), rule.say, rule.do, rule.who, (), (), (), (),
                rule.say_es, rule.do_es)
        for rule in rules[:: len(rules) // CONDITIONS][:CONDITIONS]
        for place in ([p.label for p in made.piers] if rule.subject is Subject.PIER else ["site"])
    ]  # fmt: skip
    kept = [finding for finding in made.findings if not finding.counts]
    return dataclasses.replace(
        made, findings=(*conditions, *kept), verdict=Verdict.GO_WITH_CONDITIONS, questions=(),
        problems=(), plan=dataclasses.replace(made.plan, clashes=()),
    )  # fmt: skip


@pytest.mark.parametrize("paper", POINTS)
def test_each_side_is_one_page(tmp_path, paper):
    sites = (
        *demo_sites(), *(ordinary_house(piers) for piers in (1, 12, 60)),
        *(make() for make in EACH_VERDICT.values()),
    )  # fmt: skip
    sides = [side(site, words) for site in sites for words in (ENGLISH, SPANISH)]
    assert [len(one.boxes) >= CONDITIONS for one in sides].count(True) == 6
    text = template("crew.html").render(sides=sides, answers="0", photos=())
    pages = printed(tmp_path, text, paper)
    over = [page for page in pages if not any(one.job in page for one in sides)]
    assert (len(pages), over) == (len(sides), [])
    for one, page in zip(sides, pages, strict=True):
        last = one.words.sign[2] if one.starts else one.words.piers_by_verdict
        assert one.job in page
        assert last in page
        assert one.words.verdicts[one.verdict] in page


def test_the_page_is_no_wider_than_a_telephone(tmp_path):
    made = judged(
        piers=3, labels={1: "W" * 60},
        site={"address": "1 " + "Llan" * 200, "emergency contact": "9" * 500},
    )  # fmt: skip
    probe = (
        "<script>document.title = document.documentElement.scrollWidth + ' of ' + innerWidth"
        "</script></html>"
    )
    whole = render_crew(made, Languages.BOTH)
    text = whole.replace("default-src 'none'", "script-src 'unsafe-inline'")
    page = browse(tmp_path, text.replace("</html>", probe), "--window-size=390,900", "--dump-dom")
    found = re.search(r"<title>(\d+) of (\d+)</title>", page)
    assert found is not None
    assert int(found[1]) <= int(found[2])
