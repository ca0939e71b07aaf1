"""Photos in a real browser: no picture is cut by the end of a page or wider than the screen."""

import io
import re

import pypdf
import pytest

from survey.photos import Photo, Photos, Place
from survey.sheets import render
from survey.vocabulary import Subject
from tests.made_assessments import no_go
from tests.made_pictures import halves, jpeg, saved
from tests.whole.test_sheet_in_browser import CHROMIUM, browse

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")
SIZES = [(1000, 750), (750, 1000), (1000, 120), (120, 1000), (64, 48)]


def many(number):
    """Photos of every shape, each of another colour, with captions short and long."""
    return Photos(tuple(
        Photo(
            f"{'long' * (n % 5) * 20}{n}.jpg", f"Photos!B{n + 5}", f"F{n}", "crack " * (n % 7) * 9,
            (Place(Subject.PIER, f"P{n}"),), "",
            saved(halves(SIZES[n % 5]), "JPEG") if n % 2 else jpeg((n, 9 * n, 200), SIZES[n % 5]),
            *SIZES[n % 5],
        )
        for n in range(1, 24)
    ))  # fmt: skip


def boxes(page):
    """Left, lower, right and upper edge of each picture on a printed page, in points."""
    found = []

    def note(operator, operands, matrix, _text):
        if (
            operator == b"Do"
            and page["/Resources"]["/XObject"][operands[0]]["/Subtype"] == "/Image"
        ):
            wide, _, _, high, left, low = matrix
            found.append((left, min(low, low + high), left + wide, max(low, low + high)))

    page.extract_text(visitor_operand_before=note)
    return found


def test_no_picture_is_cut_on_paper_or_parted_from_its_caption(tmp_path):
    out = tmp_path / "page.pdf"
    text = render(no_go(2), many(23)).replace("</style>", "@page { size: letter }</style>", 1)
    browse(tmp_path, text, "--no-pdf-header-footer", f"--print-to-pdf={out}")
    pages = pypdf.PdfReader(io.BytesIO(out.read_bytes())).pages
    drawn = [(page, box) for page in pages for box in boxes(page)]
    assert len(drawn) == 23
    margin = 12 / 25.4 * 72 - 1
    for page, (left, low, right, high) in drawn:
        assert left >= margin
        assert right <= float(page.mediabox.width) - margin
        assert low >= margin
        assert high <= float(page.mediabox.height) - margin
    for page in pages:
        found = boxes(page)
        text = page.extract_text()
        assert len(found) == len(re.findall(r"Photos!B\d+", text))


def test_pictures_are_no_wider_than_the_screen_of_a_telephone(tmp_path):
    probe = (
        "<script>document.title = document.documentElement.scrollWidth + ' of ' + innerWidth + "
        "' shown ' + [...document.images].filter(i => i.naturalWidth && i.width <= innerWidth)"
        ".length</script></html>"
    )
    text = render(no_go(2), many(23)).replace(
        "default-src", "script-src 'unsafe-inline'; default-src"
    )
    page = browse(tmp_path, text.replace("</html>", probe), "--window-size=390,900", "--dump-dom")
    found = re.search(r"<title>(\d+) of (\d+) shown (\d+)</title>", page)
    assert found is not None
    assert int(found[1]) <= int(found[2])
    assert int(found[3]) == 23
