"""Every page that the program writes, in a real browser: harmless, accessible, and whole on paper.

axe-core looks for what people can't read, hear or reach: names, landmarks, headings, tables,
contrast. Contrast is judged on the small pages, which have the looks of the large ones.
"""

import dataclasses
import io
import re

import pypdf
import pytest

from survey.photos import AskedPhoto, Photo, Photos, Place
from survey.rulebook.book import load_book
from survey.rulebook.rules import Change
from survey.sheets import render
from survey.sheets.book_page import render_book
from survey.sheets.crew import Languages, render_crew
from survey.sheets.engineer import render_engineer
from survey.sheets.sources_page import render_sources
from survey.vocabulary import Subject, tidy
from tests.browser import browser as one_browser
from tests.browser import needs_browser
from tests.made_assessments import EACH_VERDICT, judged, no_go
from tests.made_books import OWN, hostile_book
from tests.made_pictures import halves, saved

pytestmark = [
    needs_browser,
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]

HOSTILE = {
    "script": "<script>document.title='run'</script><img src=x onerror=alert(1)>",
    "markup": "</style></title></bdi>--> <!-- {{ 7 * 7 }} &amp; \"' onload='alert(1)'",
    "long word": "Llanfair" * 30,
    "right to left": "\u05e8\u05d7\u05d5\u05d1 14 \u0634\u0627\u0631\u0639",
    "emoji": "\U0001f6a7 \U0001f468\u200d\U0001f527 dig \U0001f1fa\U0001f1f8 \u2603",
    "control characters": "red \x1b[31m\x00\x07 \u202eturned\u202c end",
}
FREE_TEXTS = (
    "job name", "address", "surveyor", "remarks", "emergency contact", "ticket number",
    "competent person",
)  # fmt: skip
PAGES = {
    "sheet": render,
    "crew": lambda made: render_crew(made, Languages.BOTH),
    "engineer": render_engineer,
}


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    with one_browser(tmp_path_factory.mktemp("pages")) as opened:
        yield opened


def few_figures(made, most=12):
    """The site with its first figures only: a page of methods is much like the next one."""
    return dataclasses.replace(made, figures=made.figures[:most])


def with_everything():
    """A site with all that a sheet may have to say, local rules and a disagreement among it."""
    made = judged(
        piers=4,
        every_pier={"pit depth": "6 ft 6 in", "spoil distance": "1 ft", "seepage at pit": "yes"},
        some_piers={1: {"side protection": "none", "slope of sides": None}, 2: {"pit depth": "x"}},
        site={"locate request made": "no", "all utilities listed": None, "remarks": "Dog."},
        gas={"utility start offset": "4 ft", "utility end offset": "30 ft"},
    )  # fmt: skip
    return dataclasses.replace(
        few_figures(made),
        changes=(Change("limit made stricter", "the town wants it", "own.rules:3"),),
        disagreement=("DIG-1 at P1: met, and not met",),
    )


def photos():
    """A photo of a pier, and one that is asked for."""
    picture = saved(halves((300, 200)), "JPEG")
    shown = Photo(
        "p1.jpg", "Photos!B5", "F1", "crack", (Place(Subject.PIER, "P1"),), "", picture, 300, 200
    )
    return Photos((shown,), (AskedPhoto("p2.jpg", "Photos!B6", "there is no such file"),))


def hostile(text):
    """A site whose every free text is this one."""
    made = judged(
        piers=2,
        labels={1: text[:60]},
        every_pier={"pit depth": "6 ft 6 in", "side protection": "none", "slope of sides": None},
        site=dict.fromkeys(FREE_TEXTS, text),
        releases=({"released finding": text, "released place": text, "released by": text},),
        name=text[:60],
    )
    return few_figures(made)


def expect_clean(seen, *, contrast):
    faults = seen.faults(contrast=contrast)
    assert not faults, "\n".join(faults)
    assert not seen.said
    assert not seen.asked_for


@pytest.mark.parametrize("verdict", ["GO WITH CONDITIONS", "HOLD", "NO-GO"])
@pytest.mark.parametrize("kind", PAGES)
def test_pages_of_a_site_are_accessible_and_ask_for_nothing(browser, kind, verdict):
    with browser.open(PAGES[kind](few_figures(EACH_VERDICT[verdict]()))) as seen:
        expect_clean(seen, contrast=False)


@pytest.mark.parametrize("width", [390, 1000])
@pytest.mark.parametrize("kind", PAGES)
def test_pages_with_everything_are_so_on_a_telephone_too(browser, kind, width):
    made = with_everything()
    text = render(made, photos()) if kind == "sheet" else PAGES[kind](made)
    with browser.open(text, width) as seen:
        expect_clean(seen, contrast=True)
        widths = seen.page.evaluate("Array.from(document.images, image => image.naturalWidth)")
        assert widths == ([300] if kind == "sheet" else [])


@pytest.mark.parametrize("make", [render_book, render_sources])
def test_pages_of_a_book_are_accessible_and_ask_for_nothing(browser, make):
    for book in (OWN, hostile_book()):
        with browser.open(make(book)) as seen:
            expect_clean(seen, contrast=book is OWN)
            assert seen.page.evaluate("document.scripts.length") == 0
    with browser.open(make(load_book())) as seen:
        assert not seen.said
        assert not seen.asked_for


@pytest.mark.parametrize("what", HOSTILE)
@pytest.mark.parametrize("kind", PAGES)
def test_a_text_of_the_survey_is_harmless_and_legible_on_every_page(browser, kind, what):
    text = HOSTILE[what]
    with browser.open(PAGES[kind](hostile(text)), 390) as seen:
        run = "document.scripts.length + document.images.length"
        assert seen.page.evaluate(run) == 0
        assert not seen.said
        assert not seen.asked_for
        shown = re.sub("[\x00-\x1f\u202c\u202e]", "\N{REPLACEMENT CHARACTER}", text)
        said = seen.page.evaluate("document.body.innerText")
        # Names are tidied as they are read; other texts come as they stand.
        assert shown[:25] in said or tidy(text)[:25] in said
        assert text[:20] == shown[:20] or text not in said
        wide, screen = seen.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide <= screen


@pytest.mark.parametrize(("piers", "paper"), [(1, "A4"), (12, "Letter"), (60, "A4")])
@pytest.mark.parametrize("kind", PAGES)
def test_no_row_is_cut_on_paper(browser, kind, piers, paper):
    """All that stands in a row of a table is printed on one page; nothing of it is missing."""
    with browser.open(PAGES[kind](few_figures(no_go(piers), 40))) as seen:
        seen.page.emulate_media(media="print")
        rows = seen.page.evaluate(
            "[...document.querySelectorAll('tbody tr')]"
            ".map(row => [...row.cells].map(cell => cell.innerText))"
        )
        content = seen.page.pdf(format=paper)
    pages = [closed_up(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(content)).pages]
    assert len(rows) > 3
    cut = [
        row for row in rows
        if not any(all(closed_up(cell) in page for cell in row) for page in pages)
    ]  # fmt: skip
    assert not cut


def closed_up(text):
    """A text without blanks and marks of direction, which a printed page has none of."""
    return re.sub(r"[\s\u200e\u200f\u2066-\u2069]", "", text)
