"""The sheet in a real browser: printed on letter and A4, and on the screen of a telephone."""

import dataclasses
import io
import operator
import re
import shutil
import subprocess

import pypdf
import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.resources import folder
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.sheets import render
from survey.sheets._advice import BRIEF_CAUTIONS, ONCE
from survey.workbook import open_survey
from tests.made_assessments import EACH_VERDICT, judged, no_go, with_conditions

DEMO = folder("demo_sites")
CHROMIUM = shutil.which("chromium")
POINTS = {"letter": (612, 792), "A4": (595, 842)}
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")


def browse(folder, text, *wishes):
    """Open a page without a network and hand back what the browser wrote to its output."""
    page = folder / "page.html"
    page.write_text(text, "utf-8")
    done = subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic",
         "--no-first-run", "--disable-background-networking", "--disable-component-update",
         "--disable-sync", f"--user-data-dir={folder / 'profile'}", *wishes, page.as_uri()],
        capture_output=True, check=True, timeout=120,
    )  # fmt: skip
    return done.stdout.decode()


def printed(folder, text, paper):
    out = folder / "page.pdf"
    sized = text.replace("</style>", f"@page {{ size: {paper} }}</style>", 1)
    browse(folder, sized, "--no-pdf-header-footer", f"--print-to-pdf={out}")
    pages = pypdf.PdfReader(io.BytesIO(out.read_bytes())).pages
    box = pages[0].mediabox
    assert (round(box.width), round(box.height)) == POINTS[paper]
    return [" ".join(page.extract_text().split()) for page in pages]


def on_paper(page):
    """The text of a page without its running foot."""
    return re.sub(r"Pier site go/no-go sheet, answers \w+|Page \d+ of \d+", "", page).strip()


def fronts_alone(texts):
    """The front pages of many sheets one after the other, each with the first page's margins."""
    head = texts[0].partition('<div class="front"')[0].replace("@page :first", "@page")
    fronts = (
        text.partition('<div class="front"')[2].partition('<div class="office">')[0]
        for text in texts
    )
    return (
        head + "".join(f'<div class="front"{front}' for front in fronts) + "</main></body></html>"
    )


def demo(name):
    book = load_book()
    raw = open_survey(DEMO / f"{name}.xlsx")
    return assess(*read_survey(raw, book.vocabulary), book)


def conditions(number):
    """An ordinary house that may be started on, with its conditions told again and again."""
    made = demo("01-fennel-house")
    told = [f for f in made.findings if f.outcome is Outcome.CONDITION]
    released = [f for f in made.findings if not f.counts]
    wanted = number - len({f.rule.code for f in released})
    codes = list(dict.fromkeys(f.rule.code for f in told))
    return dataclasses.replace(made, findings=(
        *(
            dataclasses.replace(f, rule=dataclasses.replace(f.rule, code=f"{f.rule.code}{n}"))
            for n in range(wanted) for f in told if f.rule.code == codes[n % len(codes)]
        ),
        *released,
    ))  # fmt: skip


FRONTS = {
    **EACH_VERDICT,
    **{path.stem: (lambda name=path.stem: demo(name)) for path in sorted(DEMO.glob("*.xlsx"))},
    "15 conditions": lambda: conditions(15),
    "60 conditions": lambda: conditions(60),
    "60 piers": lambda: with_conditions(60),
    "60 piers, no go": lambda: no_go(60),
    "judged once": lambda: dataclasses.replace(no_go(), evaluators=1),
    "disagreement": lambda: dataclasses.replace(no_go(), disagreement=("DIG-1 at P1: x " * 9,) * 9),
}


@pytest.mark.parametrize("paper", POINTS)
def test_each_front_page_is_one_page(tmp_path, paper):
    made = {name: make() for name, make in FRONTS.items()}
    texts = [render(one) for one in made.values()]
    pages = printed(tmp_path, fronts_alone(texts), paper)
    starts = [i for i, page in enumerate(pages) if "Pier site: go/no-go sheet" in page]
    lengths = dict(zip(made, map(operator.sub, [*starts[1:], len(pages)], starts), strict=True))
    assert {name: pages for name, pages in lengths.items() if pages > 1} == {}
    for (name, one), at in zip(made.items(), starts, strict=True):
        for said in (one.verdict.value, BRIEF_CAUTIONS, "Signature, day", "Answers"):
            assert said in pages[at], name
        assert (ONCE in pages[at]) == (one.evaluators == 1), name


def test_what_stands_in_full_begins_on_the_second_page(tmp_path):
    first, second, *_ = pages = printed(tmp_path, render(no_go()), "letter")
    assert on_paper(first).endswith("Survey file: larch-lane.")
    assert on_paper(second).startswith("For the office, the safety lead and the engineer")
    assert all(on_paper(page) for page in pages)


def test_fifteen_conditions_have_their_boxes_on_the_front_page():
    front, _, office = render(conditions(15)).partition('<div class="office">')
    assert front.count('class="tick"') == 15
    assert 'class="tick"' not in office


def test_a_fold_that_was_closed_still_prints(tmp_path):
    closed = render(no_go(1)).replace("<details open>", "<details>")
    pages = printed(tmp_path, closed, "letter")
    assert "cave-in protection is needed" in " ".join(pages)


@pytest.mark.parametrize("width", [390, 1200])
def test_the_page_is_no_wider_than_the_screen(tmp_path, width):
    made = judged(
        piers=3,
        labels={1: "W" * 60},
        every_pier={"spoil distance": "1 ft", "side protection": "none", "slope of sides": None},
        site={"address": "1 " + "Llan" * 200, "emergency contact": "9" * 500},
    )
    probe = (
        "<script>document.title = document.documentElement.scrollWidth + ' of ' + innerWidth"
        "</script></html>"
    )
    text = render(made).replace("default-src 'none'", "script-src 'unsafe-inline'")
    page = browse(
        tmp_path, text.replace("</html>", probe), f"--window-size={width},900", "--dump-dom"
    )
    found = re.search(r"<title>(\d+) of (\d+)</title>", page)
    assert found is not None
    assert int(found[2]) <= max(width, 500)  # some builds open no window narrower than 500
    assert int(found[1]) <= int(found[2])


def test_nothing_of_the_survey_runs(tmp_path):
    attack = "<script>document.title = 'run'</script><img src=x onerror=\"document.title='run'\">"
    made = judged(labels={1: attack[:60]}, site={"job name": attack, "address": attack})
    text = render(made).replace("default-src 'none'", "script-src 'unsafe-inline'")
    page = browse(tmp_path, text, "--dump-dom")
    assert "<title>run</title>" not in page
    assert "<title>GO: &lt;script&gt;" in page
