"""The comparison of two books as a page and as a workbook."""

import re

import openpyxl
import pytest

from survey.assessment import Verdict
from survey.assessment.compare import Comparison
from survey.errors import UserError
from survey.jobs.compare_files import CompareFiles
from survey.jobs.compare_page import matrix, render_comparison
from survey.jobs.compare_workbook import write_compare_workbook
from survey.workbook import write_form
from tests.made_comparisons import BOOKS, UNREAD, every_sort, hostile, site


def page_of(comparison=None, unread=UNREAD, books=BOOKS):
    return render_comparison(every_sort() if comparison is None else comparison, unread, books)


def section(page, title):
    """The text below a heading, without its tags, in one line."""
    found = re.search(rf"<h2>{re.escape(title)}.*?</section>", page, re.DOTALL)
    assert found, title
    return " ".join(re.sub("<[^>]+>", " ", found[0]).split())


def tables(file):
    """The rows of each sheet, by the headings of its columns."""
    sheets = {}
    for sheet in openpyxl.load_workbook(file).worksheets:
        head, *rows = sheet.iter_rows(values_only=True)
        sheets[sheet.title] = [dict(zip(head, row, strict=True)) for row in rows]
    return sheets


def test_the_matrix_counts_every_site_once():
    found = matrix(every_sort())
    assert len(found) == 25
    assert {pair: n for pair, n in found.items() if n} == {
        (Verdict.GO, Verdict.NO_GO): 1,
        (Verdict.NO_GO, Verdict.HOLD): 1,
        (Verdict.NO_GO, Verdict.GO_WITH_CONDITIONS): 1,
        (Verdict.HOLD, Verdict.HOLD): 1,
        (Verdict.ENGINEER_REVIEW, Verdict.ENGINEER_REVIEW): 1,
        (Verdict.NO_GO, Verdict.NO_GO): 1,
    }
    row = section(page_of(), "Verdicts before and after").split("NO-GO")[-1]
    assert row.split() == ["0", "1", "1", "0", "1"]


def test_both_books_and_the_counts_are_named():
    page = page_of()
    assert "the shipped book, with ours read over it" in page
    assert "5f4e3d2c1b0a" in page
    assert (
        "6 sites compared. Another verdict: 3. Same verdict, other findings: 2. No change: 1."
        in page
    )
    assert "Not read: 2." in page
    assert "wet clay" in section(page, "After: what the firm")
    assert "Before: what the firm" not in page


def test_what_could_start_only_now_comes_first_and_is_told():
    better = section(page_of(), "Sites that would get a better verdict: 2")
    assert "1 site could start by the later book and could not by the earlier one." in better
    assert better.index("cedar/1.xlsx") < better.index("birch.xlsx")
    assert "LINE-2 no locate request: stop → nothing" in better
    worse = section(page_of(), "Sites that would get a worse verdict: 1")
    assert "could start" not in worse
    assert "alder.xlsx" in worse
    assert "GO → NO-GO P1" in worse


def test_other_findings_unread_and_unchanged_are_told_apart():
    page = page_of()
    assert "elm.xlsx" in section(page, "Sites with the same verdict and other findings: 2")
    assert "this is no workbook. Send it again." in section(page, "Not read: 2")
    assert "fir.json" in section(page, "No change: 1")
    assert "Not read" not in page_of(unread=())


def test_rules_come_with_most_sites_first():
    by_rule = section(page_of(), "By rule")
    assert re.findall(r"([A-Z]+-\d) .*? (\d of \d) (\d)", by_rule) == [
        ("CREW-1", "2 of 6", "2"), ("DIG-3", "2 of 6", "4"), ("LINE-2", "2 of 6", "2"),
    ]  # fmt: skip
    most = Comparison((*every_sort().sites, site("yew", Verdict.GO, Verdict.GO, LOOSE)))
    assert section(page_of(most), "By rule").index("LINE-2") < section(
        page_of(most), "By rule"
    ).index("CREW-1")


LOOSE = every_sort().sites[1].shifts[0]


def test_a_disagreement_is_told_above_all_and_beside_its_site():
    page = page_of()
    warning = section(page, "Internal disagreement")
    assert "disagree at 1 site. That is a fault of the program" in warning
    assert page.index("Internal disagreement") < page.index("Verdicts before and after")
    assert page.count("not to be relied on") == 1
    alone = Comparison(every_sort().sites[:5])
    assert "nternal disagreement" not in page_of(alone)


def test_nothing_to_compare_is_told_too():
    page = page_of(Comparison(()))
    assert "0 sites compared" in page
    assert "By rule" not in page


def test_the_workbook_says_the_same(tmp_path):
    file = tmp_path / "compare.xlsx"
    write_compare_workbook(every_sort(), UNREAD, BOOKS, file)
    said = tables(file)
    about = {row["What"]: row["Says"] for row in said["About"]}
    assert about["Sites compared"] == 6
    assert about["Sites that could start by the later book only"] == 1
    assert about["Internal disagreement"] == 1
    assert about["After"].endswith("5f4e3d2c1b0a")
    assert [(r["Survey"], r["What changes"], r["Rules"], r["Internal disagreement"])
            for r in said["Sites"]] == [
        ("alder.xlsx", "worse verdict", "DIG-3", "no"),
        ("birch.xlsx", "better verdict", "LINE-2", "no"),
        ("cedar/1.xlsx", "better verdict", "LINE-2, CREW-1", "no"),
        ("elm.xlsx", "other findings", "CREW-1", "no"),
        ("fir.json", "nothing", None, "no"),
        ("oak.xlsx", "other findings", "DIG-3", "yes"),
    ]  # fmt: skip
    assert [tuple(r.values()) for r in said["Piers"]] == [
        ("alder.xlsx", "P1", "GO", "NO-GO"),
        ("birch.xlsx", "P1", "NO-GO", "HOLD"),
        ("cedar/1.xlsx", "P1", "NO-GO", "GO WITH CONDITIONS"),
    ]
    assert len(said["Findings"]) == 6
    assert [(r["Code"], r["Sites"], r["Places"]) for r in said["By rule"]] == [
        ("CREW-1", 2, 2), ("DIG-3", 2, 4), ("LINE-2", 2, 2)
    ]  # fmt: skip
    assert [row["Survey"] for row in said["Not read"]] == ["broken.xlsx", "odd.json"]
    assert said["Verdicts"][4] == {
        "Before": "NO-GO", "GO after": 0, "GO WITH CONDITIONS after": 1, "HOLD after": 1,
        "ENGINEER REVIEW after": 0, "NO-GO after": 1,
    }  # fmt: skip


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "=1+1", "a\x00b\x1b[31m\u202e", "x" * 40_000]
)
def test_hostile_texts_are_harmless(tmp_path, text):
    comparison, unread, books = hostile(text)
    page = render_comparison(comparison, unread, books)
    assert "<script" not in page
    assert not set(page) & set("\x00\x1b\u202e")
    file = tmp_path / "compare.xlsx"
    write_compare_workbook(comparison, unread, books, file)
    cells = [c for sheet in openpyxl.load_workbook(file) for row in sheet.rows for c in row]
    assert len(cells) > 60
    assert not [cell for cell in cells if cell.data_type in "fe" or cell.hyperlink]


def test_what_is_no_earlier_comparison_is_found_before_the_work_and_left_alone(tmp_path):
    CompareFiles(tmp_path / "new" / "out").write(every_sort(), UNREAD, BOOKS)
    earlier = CompareFiles(tmp_path / "new" / "out")
    earlier.write(Comparison(()), (), BOOKS)
    assert "0 sites compared" in earlier.page.read_text("utf-8")
    earlier.page.write_text("somebody's own", "utf-8")
    with pytest.raises(UserError, match=r"compare\.html: something that is not an earlier page"):
        CompareFiles(tmp_path / "new" / "out")
    assert earlier.page.read_text("utf-8") == "somebody's own"
    write_form(tmp_path / "compare.xlsx")
    with pytest.raises(UserError, match=r"compare\.xlsx: something that is not an earlier workb"):
        CompareFiles(tmp_path)
