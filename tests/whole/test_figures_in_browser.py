"""Comparison and figures in a real browser: harmless, accessible and whole on paper."""

import io
import re

import pypdf
import pytest

from survey.assessment import Verdict
from survey.assessment.compare import Comparison
from survey.jobs.compare_page import render_comparison
from survey.jobs.figures import choose, figures
from survey.jobs.figures_page import render_figures
from tests import made_comparisons, made_figures
from tests.browser import browser as one_browser
from tests.browser import needs_browser

pytestmark = [
    needs_browser,
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]


def compared(comparison):
    return render_comparison(comparison, made_comparisons.UNREAD, made_comparisons.BOOKS)


def of_many(sites):
    """Each page over many sites."""
    found = Comparison(
        tuple(
            made_comparisons.site(
                f"{i:03}.xlsx", Verdict.GO, Verdict.NO_GO, made_comparisons.STRICTER
            )
            for i in range(sites)
        )
    )
    jobs = [
        made_figures.job(
            f"{i:03}", Verdict.NO_GO, made_figures.fired(f"DIG-{i % 40}", "stop"),
            asked=(made_figures.DEPTH,), town=f"Town {i % 30}", surveyor=f"Surveyor {i % 20}",
        )
        for i in range(sites)
    ]  # fmt: skip
    return {
        "comparison": compared(found),
        "figures": render_figures(figures(choose(jobs, made_figures.EVER)), made_figures.ABOUT),
    }


PAGES = {
    "comparison": compared(made_comparisons.every_sort()),
    "figures": render_figures(made_figures.COUNTED, made_figures.ABOUT),
}
HOSTILE = {
    "comparison": lambda text: render_comparison(*made_comparisons.hostile(text)),
    "figures": lambda text: render_figures(*made_figures.hostile(text)),
}
MANY = of_many(120)


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    with one_browser(tmp_path_factory.mktemp("figures")) as opened:
        yield opened


@pytest.mark.parametrize("width", [390, 1300])
@pytest.mark.parametrize("kind", PAGES)
def test_it_is_accessible_and_asks_for_nothing(browser, kind, width):
    with browser.open(PAGES[kind], width) as seen:
        faults = seen.faults(contrast=True)
        assert not faults, "\n".join(faults)
        assert not seen.said
        assert not seen.asked_for
        assert seen.page.evaluate("document.scripts.length") == 0
        assert seen.page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize(
    "text",
    [
        "<script>document.title='run'</script><img src=x onerror=alert(1)>",
        "</style></title></bdi>--> <!-- {{ 7 * 7 }} &amp; \"' onload='alert(1)'",
        "Llanfair" * 30,
        "\u05e8\u05d7\u05d5\u05d1 14 \u0634\u0627\u0631\u0639",
        "red \x1b[31m\x00\x07 \u202eturned\u202c end",
    ],
)
@pytest.mark.parametrize("kind", HOSTILE)
def test_a_text_is_harmless(browser, kind, text):
    with browser.open(HOSTILE[kind](text), 390) as seen:
        assert seen.page.evaluate("document.scripts.length + document.images.length") == 0
        assert not seen.said
        assert not seen.asked_for
        said = seen.page.evaluate("document.body.innerText")
        shown = re.sub("[\x00-\x1f\u202c\u202e]", "\N{REPLACEMENT CHARACTER}", text)
        assert shown[:25] in said
        assert seen.page.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("kind", MANY)
def test_no_row_and_no_chart_is_cut_on_paper(browser, kind, paper):
    with browser.open(MANY[kind], 1300) as seen:
        seen.page.emulate_media(media="print")
        rows = seen.page.evaluate(
            "[...document.querySelectorAll('tbody tr')]"
            ".map(row => [...row.cells].map(cell => cell.innerText))"
        )
        charts = seen.page.evaluate(
            "[...document.querySelectorAll('svg.drawing')]"
            ".map(svg => [...svg.querySelectorAll('text')].map(text => text.textContent))"
        )
        content = seen.page.pdf(format=paper, prefer_css_page_size=False, landscape=True)
    pages = [closed_up(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(content)).pages]
    assert len(rows) > 90
    assert len(charts) == (5 if kind == "figures" else 0)
    cut = [
        row for row in (*rows, *charts)
        if not any(all(closed_up(cell) in page for cell in row) for page in pages)
    ]  # fmt: skip
    assert not cut


@pytest.mark.parametrize("kind", MANY)
def test_a_chart_is_no_wider_than_the_paper_and_nothing_is_beside_it(browser, kind):
    with browser.open(MANY[kind], 1300) as seen:
        seen.page.emulate_media(media="print")
        seen.page.set_viewport_size({"width": 960, "height": 700})  # letter, lying, at 96 dots
        wide = seen.page.evaluate(
            "[...document.querySelectorAll('svg.drawing, table')]"
            ".map(one => one.getBoundingClientRect().right)"
        )
        assert wide
        assert max(wide) <= 960


def closed_up(text):
    """A text without blanks and marks of direction, which a printed page has none of."""
    return re.sub(r"[\s\u200e\u200f\u2066-\u2069]", "", text)
