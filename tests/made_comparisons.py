"""Comparisons of two books for the tests of their page and workbook."""

from __future__ import annotations

from survey.assessment import Verdict
from survey.assessment.compare import Comparison, PierVerdict, Shift, SiteComparison
from survey.jobs.compare_page import Book
from survey.jobs.comparing import Compared
from survey.jobs.judging import Unread
from survey.rulebook.rules import Change

BOOKS = (
    Book("the shipped book", "0a1b2c3d4e5f", ()),
    Book(
        "the shipped book, with ours read over it", "5f4e3d2c1b0a",
        (Change("limit 'oldest survey' is 14 days", "wet clay", "ours/own.rules:3"),),
    ),
)  # fmt: skip
STRICTER = Shift("DIG-3", "spoil nearer than 2 ft to a pit", "nothing", "stop", ("P1", "P2"))
LOOSER = Shift("LINE-2", "no locate request", "stop", "nothing", ("site",))
OTHER = Shift("CREW-1", "pits that the public can fall into", "condition", "note", ("site",))
UNREAD = (
    Compared("broken.xlsx", Unread("broken.xlsx: this is no workbook. Send it again.")),
    Compared("odd.json", Unread("odd.json: a fault of the program, at x.py:1", fault=True)),
)


def site(
    name: str,
    before: Verdict,
    after: Verdict,
    *shifts: Shift,
    piers: int = 2,
    disagreement: bool = False,
) -> SiteComparison:
    """A site whose first pier has the verdicts of the site, and the others are GO by both books."""
    others = (PierVerdict(f"P{i}", Verdict.GO, Verdict.GO) for i in range(2, piers + 1))
    return SiteComparison(
        name, before, after, (PierVerdict("P1", before, after), *others), shifts, disagreement
    )


def every_sort() -> Comparison:
    """A site of every sort: stricter, looser, let go, other findings, no change, disagreement."""
    return Comparison(
        (
            site("alder.xlsx", Verdict.GO, Verdict.NO_GO, STRICTER),
            site("birch.xlsx", Verdict.NO_GO, Verdict.HOLD, LOOSER),
            site("cedar/1.xlsx", Verdict.NO_GO, Verdict.GO_WITH_CONDITIONS, LOOSER, OTHER),
            site("elm.xlsx", Verdict.HOLD, Verdict.HOLD, OTHER),
            site("fir.json", Verdict.ENGINEER_REVIEW, Verdict.ENGINEER_REVIEW),
            site("oak.xlsx", Verdict.NO_GO, Verdict.NO_GO, STRICTER, disagreement=True),
        )
    )


def hostile(text: str) -> tuple[Comparison, tuple[Compared, ...], tuple[Book, Book]]:
    """A comparison whose every text is this one."""
    shift = Shift("OWN-1", text, "nothing", text, (text,))
    one = SiteComparison(
        text, Verdict.GO, Verdict.NO_GO, (PierVerdict(text, Verdict.GO, Verdict.NO_GO),),
        (shift,), False,
    )  # fmt: skip
    same = SiteComparison(f"{text} 2", Verdict.GO, Verdict.GO, (), (), False)
    book = Book(text, "0a1b2c3d4e5f", (Change(text, text, text),))
    return Comparison((one, same)), (Compared(text, Unread(text)),), (book, book)
