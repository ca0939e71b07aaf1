"""The comparison of two rule books as a workbook."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from survey.assessment import Verdict
from survey.assessment.compare import Comparison, SiteComparison
from survey.jobs.compare_page import CAUTIONS, Book, matrix
from survey.jobs.comparing import Compared
from survey.jobs.finding import OUR_WORKBOOKS
from survey.jobs.judging import Unread
from survey.sheets.table_workbook import Made, Table, Value, write_tables

MADE = Made(
    OUR_WORKBOOKS["compare.xlsx"],
    "Pier survey: two books of rules compared",
    "workbook of a comparison",
)
_SURVEY, _VERDICT, _RULE = 34, 20, 44


def write_compare_workbook(
    comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book], file: Path
) -> None:
    """Write a comparison as a workbook; an earlier one is replaced, any other file left alone.

    Args:
        comparison: the sites by both books.
        unread: surveys of which nothing can be said.
        books: the earlier one, and the later one.
        file: the place to write to.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    write_tables(tuple(_tables(comparison, unread, books)), file, MADE)


def _tables(
    comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book]
) -> Iterator[Table]:
    yield Table("About", {"What": 34, "Says": 90}, list(_about(comparison, unread, books)))
    numbers = matrix(comparison)
    after = {f"{verdict.value} after": 14.0 for verdict in Verdict}
    yield Table(
        "Verdicts",
        {"Before": _VERDICT, **after},
        [[one.value, *(numbers[one, other] for other in Verdict)] for one in Verdict],
    )
    yield Table(
        "Sites",
        {"Survey": _SURVEY, "Before": _VERDICT, "After": _VERDICT, "What changes": 24, "Rules": 50,
         "Internal disagreement": 14},
        [
            [site.name, site.before.value, site.after.value, _change(site),
             ", ".join(dict.fromkeys(shift.code for shift in site.shifts)),
             "yes" if site.disagreement else "no"]
            for site in comparison.sites
        ],
    )  # fmt: skip
    yield Table(
        "Piers",
        {"Survey": _SURVEY, "Pier": 14, "Before": _VERDICT, "After": _VERDICT},
        [
            [site.name, pier.label, pier.before.value, pier.after.value]
            for site in comparison.sites
            for pier in site.piers
            if pier.before is not pier.after
        ],
    )
    yield Table(
        "Findings",
        {"Survey": _SURVEY, "Code": 12, "Rule": _RULE, "Before": 24, "After": 24, "Places": 8,
         "Where": 60},
        [
            [site.name, shift.code, shift.name, shift.before, shift.after, len(shift.places),
             ", ".join(shift.places)]
            for site in comparison.sites
            for shift in site.shifts
        ],
    )  # fmt: skip
    yield Table(
        "By rule",
        {"Code": 12, "Rule": _RULE, "Sites": 8, "Places": 8},
        [
            [rule.code, rule.name, len(rule.places_at), sum(rule.places_at.values())]
            for rule in comparison.by_rule
        ],
    )
    yield Table(
        "Not read",
        {"Survey": _SURVEY, "What is wrong": 100},
        [[one.file, one.result.message] for one in unread if isinstance(one.result, Unread)],
    )


def _about(
    comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book]
) -> Iterator[tuple[str, Value]]:
    for which, book in zip(("Before", "After"), books, strict=True):
        yield which, f"{book.name}; book {book.fingerprint}"
    yield "Sites compared", len(comparison.sites)
    yield "Sites with another verdict", len(comparison.other_verdict)
    yield "Sites with a better verdict", sum(site.looser for site in comparison.sites)
    yield "Sites that could start by the later book only", sum(s.let_go for s in comparison.sites)
    yield "Same verdict, other findings", len(comparison.other_findings)
    yield "No change", len(comparison.unchanged)
    yield "Internal disagreement", len(comparison.disagreements)
    yield "Not read", len(unread)
    for caution in CAUTIONS:
        yield "Caution", caution


def _change(site: SiteComparison) -> str:
    if site.verdict_changed:
        return "better verdict" if site.looser else "worse verdict"
    return "other findings" if site.changed else "nothing"
