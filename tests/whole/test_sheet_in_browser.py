"""The sheet in a real browser: printed on letter and A4, and on the screen of a telephone."""

import dataclasses
import io
import re
import shutil
import subprocess

import pypdf
import pytest

from survey.sheets import render
from survey.sheets._advice import CAUTIONS, ONCE
from tests.made_assessments import EACH_VERDICT, judged, no_go

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


@pytest.mark.parametrize("evaluators", [1, 2])
@pytest.mark.parametrize(
    ("verdict", "paper"), [*((verdict, "letter") for verdict in EACH_VERDICT), ("NO-GO", "A4")]
)
def test_verdict_and_cautions_are_on_the_first_page(tmp_path, verdict, paper, evaluators):
    made = dataclasses.replace(EACH_VERDICT[verdict](), evaluators=evaluators)
    first, *_ = pages = printed(tmp_path, render(made), paper)
    assert first.index("Larch Lane 14") < first.index(verdict) < first.index("The crew may")
    for caution in CAUTIONS:
        assert caution in first
    assert (ONCE in first) == (evaluators == 1)
    assert all(on_paper(page) for page in pages)


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_the_part_for_the_crew_ends_with_the_signatures_on_a_page_of_its_own(tmp_path, verdict):
    pages = printed(tmp_path, render(EACH_VERDICT[verdict]()), "letter")
    (last,) = [i for i, page in enumerate(pages) if "Print up to here for the crew." in page]
    assert on_paper(pages[last]).index("Signature") < on_paper(pages[last]).index("Print up to")
    office = "Figures and workings"
    assert not any(office in page for page in pages[: last + 1])
    assert any(office in page for page in pages[last + 1 :])


def test_a_short_table_of_piers_is_not_split(tmp_path):
    pages = printed(tmp_path, render(no_go(5)), "letter")
    assert [len(re.findall(r"P\d NO-GO", page)) for page in pages if "Seats that suit" in page] == [
        5
    ]


@pytest.mark.parametrize("paper", POINTS)
def test_thirty_piers_repeat_the_head_of_the_table_and_lose_none(tmp_path, paper):
    pages = printed(tmp_path, render(no_go(30)), paper)
    with_piers = [p for p in pages if re.search(r"P\d+ NO-GO", p)]
    assert len(with_piers) > 1
    assert all("Seats that suit" in page for page in with_piers)
    assert all(len(re.findall(r"P\d+ NO-GO", page)) > 1 for page in with_piers)
    found = re.findall(r"(P\d+) NO-GO", " ".join(pages))
    assert found == [f"P{i}" for i in range(1, 31)]
    assert all(on_paper(page) for page in pages)


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
